// Keep: what is typed and not saved is kept by the program, so that the address of the page
// leads back to it, whatever ends the page or the program.
import { fields, state } from "./case.js";
import { followed, send } from "./live.js";
import { trouble } from "./parts.js";

const pause = 500; // ms after which is kept what the drawing does not follow
let later = 0, form = null, own = "", release = () => {};

// keep follows a form.
export function keep(of) {
  form = of;
  ownWindow();
  form.addEventListener("shown", ownWindow);
  form.addEventListener("drawn", note);
  for (const kind of ["input", "change"]) form.addEventListener(kind, ({ target }) => {
    if (!target.name || followed(target)) return; // what is asked then is kept
    clearTimeout(later);
    later = setTimeout(store, pause);
  });
  window.addEventListener("pagehide", () => navigator.sendBeacon("keep", fields(form, state.number)));
  window.addEventListener("beforeunload", (event) => {
    if (form.hasAttribute("data-silent")) event.preventDefault(); // nobody keeps it
  });
  document.getElementById("again").addEventListener("click", () => send(form));
}

async function store() {
  const response = await fetch("keep", { method: "POST", body: fields(form, state.number) }).catch(() => null);
  if (response && response.status !== 204) trouble(await response.text());
}

// note has the address lead back to what the page holds.
function note() {
  const { address } = document.getElementById("case-name").dataset;
  if (address !== "./" || location.search !== "") history.replaceState(null, "", address);
}

// ownWindow makes sure that no other tab keeps what it holds under the same name: then
// this one gets a name of its own.
function ownWindow() {
  note();
  const { value } = form.elements.window;
  if (value === own || !navigator.locks) return;
  own = value;
  release();
  navigator.locks.request("sightpost " + value, { ifAvailable: true }, (lock) => {
    if (lock) return new Promise((done) => { release = done; });
    own = form.elements.window.value = crypto.randomUUID();
    trouble("This work is open in another tab too. What you change here is kept on its own.");
    return null;
  });
}
