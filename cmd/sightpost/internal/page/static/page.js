// The page follows what is typed. Everything here is a convenience: without it the
// form is sent by its buttons.
import { fields, state } from "./case.js";
import { follow, send } from "./live.js";
import { again } from "./whole.js";
import { silent, trouble } from "./parts.js";
import { slides } from "./slides.js";
import { history } from "./history.js";
import { drawing } from "./drawing.js";
import { jobs } from "./jobs.js";
import { keep } from "./keep.js";

const form = document.getElementById("work");

// dress adds what needs scripts, each time the whole page has been replaced.
function dress() {
  for (const e of form.querySelectorAll(".scripted")) e.hidden = false;
  for (const e of form.querySelectorAll(".unscripted")) e.hidden = true;
  slides(form);
  history.dress();
}

form.addEventListener("dress", dress);
form.addEventListener("shown", dress);
form.addEventListener("rewritten", () => again(form, null));
follow(form);
history.follow(form);
drawing(form);
jobs(form);
keep(form);
dress();

form.addEventListener("submit", (event) => {
  const button = event.submitter;
  if (button.dataset.stop !== undefined) return;
  event.preventDefault();
  if (button.dataset.job) return; // jobs.js
  if (button.dataset.plain !== undefined) {
    download(button);
    return;
  }
  again(form, button);
});

// download has the browser keep a file. Should there be none, the page stays and tells
// why.
async function download(button) {
  try {
    const response = await fetch(button.formAction, { method: "POST", body: fields(form, state.number) });
    if (!response.ok) {
      trouble(await response.text());
      return;
    }
    const link = document.createElement("a");
    link.href = URL.createObjectURL(await response.blob());
    link.download = nameOf(response);
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // when it has long been read
    trouble("");
  } catch {
    trouble(silent);
  }
}

// nameOf returns the name of a file as the program gives it.
function nameOf(response) {
  const [, coded, plain] = response.headers.get("Content-Disposition").match(/filename(?:\*=utf-8''([^;]+)|="?([^";]+)"?)/);
  return coded ? decodeURIComponent(coded) : plain;
}

// The drawing is made for the width that there is for it, in steps.
new ResizeObserver(() => {
  const step = 20, frame = 12, { wide } = form.elements, was = wide.value;
  wide.value = Math.floor((document.getElementById("drawing").clientWidth - frame) / step) * step;
  if (was !== wide.value) send(form);
}).observe(form);

// A notice about an action stays visible until someone goes on.
form.addEventListener("input", () => {
  const notice = document.getElementById("notice");
  if (notice) notice.hidden = true;
});

// Enter confirms a number of the example.
form.addEventListener("keydown", (event) => {
  const confirm = event.key === "Enter" && event.target.matches("input, select") && document.getElementById(event.target.id + "-example");
  if (!confirm) return;
  event.preventDefault();
  confirm.click();
});

form.addEventListener("change", (event) => {
  if (event.target.id === "pictures") for (const p of form.querySelectorAll(".picture")) p.open = event.target.checked;
  if (event.target.name === "as-found") form.querySelector(".found").open = event.target.checked;
  if (event.target.dataset.by) form.querySelector(`button[value=${event.target.dataset.by}]`).click(); // a file is read once it is chosen
  if (event.target.dataset.again !== undefined) again(form, null);
});
