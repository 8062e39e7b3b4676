// Jobs: what takes more than a moment is asked for by itself, and can be given up.
import { fields, replace, state } from "./live.js";

const running = new Map();

// jobs follows the buttons of a form that ask for a job.
export function jobs(form) {
  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (button?.dataset.job) run(form, button);
  });
}

// run asks for a job, or gives up the one that is under way.
async function run(form, button) {
  const name = button.dataset.job, into = document.getElementById("job-" + name);
  if (running.has(name)) {
    running.get(name).abort();
    return;
  }
  const abort = new AbortController(), words = button.textContent;
  running.set(name, abort);
  button.textContent = "Working… press to give up";
  into.setAttribute("aria-busy", "true");
  try {
    const response = await fetch("job/" + name, { method: "POST", body: fields(form, state.number), signal: abort.signal });
    const text = await response.text();
    if (response.ok) replace(into, text);
    else fail(into, text);
  } catch (error) {
    fail(into, error.name === "AbortError" ? "Given up." : "The program does not answer. Is it still running?");
  } finally {
    running.delete(name);
    button.textContent = words;
    into.removeAttribute("aria-busy");
  }
}

// fail tells in a part of the page what went wrong.
function fail(into, words) {
  const p = document.createElement("p");
  p.className = "problem";
  p.textContent = words;
  into.dataset.html = "";
  into.replaceChildren(p);
}
