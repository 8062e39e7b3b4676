// History: the text of the case as it was before each change, for undo and redo, and
// whether what is there has been saved.
import { again, state } from "./live.js";

const past = [], future = [];
const most = 200; // steps that are kept
const together = 1000; // ms within which changes of one field are one step

let now = "", saved = "", lastField = null, lastTime = 0, stepping = false, form = null;

const kept = () => ({ text: state.text, kit: form.elements.kit.value });

export const history = {
  // follow keeps the history of a form.
  follow(of) {
    form = of;
    now = kept();
    saved = state.text;
    form.addEventListener("changed", (event) => {
      const button = event.detail;
      const opened = button?.dataset.leaves !== undefined;
      step(opened);
      if (opened) saved = button.value === "example" ? saved : state.text;
      this.dress();
    });
    form.addEventListener("shown", () => {
      if (document.getElementById("notice")?.textContent.startsWith("Saved ")) saved = form.elements.before.value;
    });
    form.addEventListener("click", (event) => {
      if (event.target.id === "undo") go(past, future);
      if (event.target.id === "redo") go(future, past);
      if (event.target.formAction?.endsWith("download/case.yaml")) saved = state.text;
    });
  },
  // dress shows which ways are open.
  dress() {
    const undo = document.getElementById("undo"), redo = document.getElementById("redo");
    if (undo) undo.disabled = past.length === 0;
    if (redo) redo.disabled = future.length === 0;
  },
  // unsaved reports whether leaving would lose something.
  unsaved: () => form !== null && state.text !== saved,
  // forget has nothing asked when the page is left.
  forget() { saved = state.text; },
};

// step notes a change, together with those just before it in the same field.
function step(opened) {
  if (stepping) return;
  const field = document.activeElement?.closest("[data-entry]")?.dataset.entry ?? null;
  const time = performance.now();
  if (opened || field === null || field !== lastField || time - lastTime > together) {
    past.push(now);
    if (past.length > most) past.shift();
  }
  future.length = 0;
  lastField = field;
  lastTime = time;
  now = kept();
}

// go takes a step from one side of the history to the other.
async function go(from, to) {
  if (from.length === 0) return;
  to.push(now);
  now = from.pop();
  stepping = true;
  form.elements.before.value = now.text + "\n"; // so that the text wins over the form
  form.elements.text.value = now.text;
  form.elements.kit.value = now.kit;
  await again(form, null);
  stepping = false;
  lastField = null;
  history.dress();
}
