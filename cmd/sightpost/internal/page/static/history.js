// History: the case, and how the mount is set, as they were before each change, for undo
// and redo.
import { pending, settingFields, state } from "./case.js";
import { ask, inTurn } from "./whole.js";

const past = [], future = [];
const most = 200; // steps that are kept
const together = 1000; // ms within which changes of one field are one step

// now is the case as it is, with the file that it is in. All steps of a case share its
// file, so that they follow where it is saved.
let now = null, form = null, lastField = null, lastTime = 0, stepping = false;

const held = (file) => ({ text: state.text, kit: state.kit, kitAt: form.elements["kit-at"].value, asFound: state.asFound, file });

export const history = {
  // follow keeps the history of a form.
  follow(of) {
    form = of;
    now = held({});
    place();
    form.addEventListener("changed", (event) => {
      const button = event.detail;
      const opened = button?.dataset.leaves !== undefined;
      // what was saved is the same case, if its kit went into a file of its own
      if (!stepping && button?.dataset.once === undefined) step(opened);
      now = held(opened ? {} : now.file);
    });
    form.addEventListener("shown", () => {
      if (!stepping) place();
    });
    form.addEventListener("click", (event) => {
      if (event.target.id === "undo") go(past, future);
      if (event.target.id === "redo") go(future, past);
    });
  },
  // dress shows which ways are open.
  dress() {
    document.getElementById("undo").disabled = past.length === 0;
    document.getElementById("redo").disabled = future.length === 0;
  },
};

// place notes where the case is.
function place() {
  const { at, disk, filed, window, windows, name } = form.elements;
  Object.assign(now.file, { at: at.value, disk: disk.value, filed: filed.value, window: window.value, windows: windows.value, name: name.value });
}

// step notes a change, together with those just before it in the same field.
function step(opened) {
  const field = document.activeElement?.closest("[data-entry]")?.dataset.entry ?? null;
  const time = performance.now();
  if (opened || field === null || field !== lastField || time - lastTime > together) {
    past.push(now);
    if (past.length > most) past.shift();
  }
  future.length = 0;
  lastField = field;
  lastTime = time;
  history.dress();
}

// go takes a step from one side of the history to the other, after those that were
// asked for before it. What was typed and not answered yet becomes a step first.
function go(from, to) {
  return inTurn(async () => {
    if (pending(form)) await ask(form, null);
    if (from.length === 0) return;
    const was = now, next = from.pop();
    hold(next, next.text + "\n"); // so that the text wins over the form
    stepping = true;
    const shown = await ask(form, null);
    stepping = false;
    if (shown) {
      to.push(was);
    } else {
      from.push(next);
      hold(was, was.text);
    }
    lastField = null;
    history.dress();
  });
}

// hold puts a case into the form, before being what its text is compared with.
function hold(next, before) {
  const { text, kit, kitAt, file } = next;
  const values = { text, before, kit, "kit-at": kitAt, at: file.at, disk: file.disk, filed: file.filed, window: file.window, windows: file.windows };
  if (file !== now.file) values.name = file.name;
  for (const [name, value] of Object.entries(values)) form.elements[name].value = value;
  holdAsFound(new Map(JSON.parse(next.asFound)));
  now = next;
}

// holdAsFound puts how the mount is set into the form. What the form has no field for, which
// is that of another mount, is still sent with it.
function holdAsFound(given) {
  for (const field of form.querySelectorAll("[data-held]")) field.remove();
  for (const field of settingFields(form)) {
    if (field.type === "checkbox") field.checked = given.has(field.name);
    else field.value = given.get(field.name) ?? "";
    given.delete(field.name);
  }
  for (const [name, value] of given) {
    const field = Object.assign(document.createElement("input"), { type: "hidden", name, value });
    field.dataset.held = "yes";
    form.append(field);
  }
}
