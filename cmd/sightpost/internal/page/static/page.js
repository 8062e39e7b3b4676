// The page follows what is typed. Everything here is a convenience: without it the
// form is sent by its buttons.
import { follow, again, send, state } from "./live.js";
import { slides } from "./slides.js";
import { history } from "./history.js";
import { drawing } from "./drawing.js";
import { jobs } from "./jobs.js";

const form = document.getElementById("work");

// dress makes the page what it is with scripts, each time it has been shown anew.
function dress() {
  for (const e of form.querySelectorAll(".scripted")) e.hidden = false;
  for (const e of form.querySelectorAll(".unscripted")) e.hidden = true;
  slides(form);
  history.dress();
}

form.addEventListener("shown", dress);
follow(form);
history.follow(form);
drawing(form);
jobs(form);
dress();

let downloaded = -Infinity;

form.addEventListener("submit", (event) => {
  const button = event.submitter;
  if (!button) return;
  if (button.dataset.plain !== undefined) {
    downloaded = performance.now();
    return;
  }
  if (button.dataset.leaves !== undefined && history.unsaved() && !confirm("What was changed is not saved. Leave it?")) {
    event.preventDefault();
    return;
  }
  if (button.dataset.stop !== undefined) {
    if (history.unsaved() && !confirm("What was changed is not saved. Stop all the same?")) event.preventDefault();
    else history.forget();
    return;
  }
  event.preventDefault();
  if (button.dataset.job) return; // jobs.js
  again(form, button);
});

// On a page no wider than a hand the drawing has fewer labels, and is drawn anew when
// it becomes that.
const narrow = window.matchMedia("(max-width: 39.99rem)");
function measure() {
  form.elements.narrow.value = narrow.matches ? "yes" : "";
}
measure();
form.addEventListener("shown", measure);
narrow.addEventListener("change", () => {
  measure();
  send(form);
});

form.addEventListener("change", (event) => {
  if (event.target.dataset.again !== undefined) again(form, null);
});

window.addEventListener("beforeunload", (event) => {
  if (performance.now() - downloaded < 1000) return; // a download: the page stays
  if (history.unsaved()) event.preventDefault();
});

export { form, state };
