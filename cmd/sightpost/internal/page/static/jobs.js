// Jobs: what takes more than a moment is asked for by itself, and can be given up. An
// answer says when it is of a case that was changed since.
import { fields, state } from "./case.js";
import { replace, say } from "./parts.js";

const running = new Map(); // by name: how to give it up, and what was asked about
const answers = new Map(); // what was told, and what was asked about

// What an answer depends on, beside the case and its kit.
const concerns = { vary: [], refit: ["margin"], match: ["kits", "sides"], compare: ["older", "newer"] };

// jobs follows the buttons of a form that ask for a job.
export function jobs(form) {
  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (button?.dataset.job) run(form, button.dataset.job);
  });
  form.addEventListener("click", ({ target }) => { // what the summary leads to is asked for as well
    if (target.matches('a[href="#refitting"]') && !running.has("refit")) run(form, "refit");
  });
  form.addEventListener("shown", (event) => {
    if (event.detail?.dataset.leaves !== undefined) { // another case
      for (const { abort } of running.values()) abort.abort();
      running.clear();
      answers.clear();
    }
    for (const [name, job] of [...running, ...answers]) {
      // a case that was saved is the same, though its kit is in a file now
      const applied = name === "refit" && event.detail?.value === "apply" && form.elements.applied.value !== "";
      if ((applied || event.detail?.dataset.once !== undefined) && !job.overtaken) job.asked = about(form, name);
      job.applied ||= applied;
    }
    for (const name of Object.keys(concerns)) dress(form, name);
  });
  for (const kind of ["input", "change", "drawn"]) form.addEventListener(kind, () => compare(form));
}

// about returns what a job is asked about.
function about(form, name) {
  const all = [...new FormData(form)].filter(([n]) =>
    concerns[name].includes(n) || n === "units" || name !== "compare" && /^(?:[es]:.*|kit|as-found|side)$/.test(n));
  return JSON.stringify(all);
}

// run asks for a job, or gives up the one that is under way.
async function run(form, name) {
  if (running.has(name)) {
    running.get(name).abort.abort();
    return;
  }
  const abort = new AbortController(), job = { abort, asked: about(form, name) };
  running.set(name, job);
  dress(form, name);
  let html;
  try {
    const response = await fetch("job/" + name, { method: "POST", body: fields(form, state.number), signal: abort.signal });
    html = await response.text();
    if (!response.ok) html = problem(html);
  } catch (error) {
    html = problem(error.name === "AbortError" ? "Canceled." : "The program does not answer. Is it still running?");
  }
  if (running.get(name) !== job) return; // another case was opened
  running.delete(name);
  answers.set(name, { html, asked: job.asked });
  dress(form, name);
  say(document.getElementById("job-" + name).querySelector("p")?.textContent ?? "Done.");
}

// problem tells what went wrong.
function problem(words) {
  const p = document.createElement("p");
  p.className = "problem";
  p.textContent = words;
  return p.outerHTML;
}

// dress shows the state of a job on the page as it is now.
function dress(form, name) {
  const into = document.getElementById("job-" + name), button = form.querySelector(`[data-job=${name}]`);
  if (button) { // there is none as long as there is nothing to ask about
    button.dataset.words ??= button.textContent;
    button.textContent = running.has(name) ? "Working… press to cancel" : button.dataset.words;
  }
  into.setAttribute("aria-busy", running.has(name));
  if (answers.has(name)) replace(into, answers.get(name).html);
  into.querySelector("[value=apply]")?.toggleAttribute("hidden", answers.get(name)?.applied === true);
  compare(form);
}

// compare says of every answer whether what it is about has changed.
function compare(form) {
  for (const [name, job] of [...answers, ...running]) job.overtaken = job.asked !== about(form, name);
  for (const [name, job] of answers) document.getElementById("overtaken-" + name).hidden = !job.overtaken;
}
