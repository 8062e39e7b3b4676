// Whole: the page replaced as a whole, after a button, or after a choice that changes
// the form. One such request follows the other, and nothing that is typed meanwhile is
// lost.
import { asFound, remember, rewritten, said, state } from "./case.js";
import { goOn, overtake } from "./live.js";
import { gray, say, silent, trouble } from "./parts.js";

let last = Promise.resolve(); // the end of what is under way
const asked = new Set(); // the buttons that were pressed and are not answered

// inTurn does what replaces the whole page when all that was asked for before is
// done.
export function inTurn(work) {
  last = last.then(work, work);
  return last;
}

// again has the whole page replaced. A button that is pressed twice before it is
// answered, by a hand that shakes, does its work once.
export function again(form, button) {
  const value = button?.value ?? "";
  if (asked.has(value)) return last;
  asked.add(value);
  return inTurn(() => ask(form, button).finally(() => asked.delete(value)));
}

// ask asks for the whole page and shows it, and reports whether it did. What was typed
// meanwhile is put into the new page if it has the same fields. If not, the page is
// asked for again with what was typed, unless the button did something that must not be
// done twice.
export async function ask(form, button) {
  for (;;) {
    overtake(form);
    const fromText = rewritten(form), sent = fromText ? state.said : said(form); // of the fields, none is taken over
    const next = await fetched(form, button);
    const leaves = button?.dataset.leaves !== undefined;
    const since = next && !leaves ? [...said(form)].filter(([name, value]) => sent.has(name) && sent.get(name) !== value) : [];
    const chosen = since.some(([name]) => form.elements.namedItem(name)?.dataset?.again !== undefined);
    if (since.length > 0 && !fromText && button?.dataset.once === undefined && (chosen || !alike(form, next))) continue;
    if (next) swap(form, next, button, since);
    if (chosen) {
      button = null;
      continue;
    }
    goOn(form, since.length > 0);
    return next !== null;
  }
}

// fetched returns the form as it comes back, null if it does not. A file is sent with
// its own button alone.
async function fetched(form, button) {
  const data = new FormData(form);
  data.set("number", state.number);
  if (button) data.set(button.name, button.value);
  for (const file of form.querySelectorAll("input[type=file]")) {
    if (file.dataset.by !== button?.value) data.delete(file.name);
  }
  try {
    const response = await fetch("./", { method: "POST", body: data });
    const html = await response.text();
    const next = response.ok && new DOMParser().parseFromString(html, "text/html").getElementById("work");
    if (next) return next;
    trouble(html);
  } catch {
    trouble(silent);
  }
  return null;
}

// put has the fields of a form say something.
function put(form, all) {
  for (const [key, value] of all) {
    const [name, box] = key.split("\n");
    for (const field of form.querySelectorAll(`[name="${CSS.escape(name)}"]`)) {
      if (box === undefined) field.value = value;
      else if (field.value === box) field.checked = value;
    }
  }
}

// alike reports whether two forms ask for the same, in the same units.
function alike(form, next) {
  const names = (f) => [...f.elements].map((e) => e.name).filter((n) => /^[es]:/.test(n)).join("\n");
  return form.elements.shown.value === next.elements.shown.value && names(form) === names(next);
}

// swap shows a page that came back, with what was typed since, and keeps the place of
// whoever looks at it.
function swap(form, next, button, since) {
  trouble("");
  const was = document.activeElement, place = was?.selectionStart;
  const { id, value } = was ?? {}, at = form.elements.at.value;
  const leaves = button?.dataset.leaves !== undefined;
  const shut = new Map([...form.querySelectorAll("details[id]")].map((d) => [d.id, !d.open]));
  const files = [...form.querySelectorAll("input[type=file]")].filter((f) => f.dataset.by !== button?.value);
  const good = leaves || next.querySelector("#part-figure svg") ? [] : ["part-figure", "part-answer"].map((id) => document.getElementById(id));
  const listed = button?.value?.match(/^(?:add|remove|mirror) ([^ ]+)/)?.[1];
  form.replaceChildren(...next.childNodes);
  for (const part of good) document.getElementById(part.id).replaceWith(part);
  gray(form);
  const changed = state.text !== form.elements.before.value || state.kit !== form.elements.kit.value ||
    state.asFound !== asFound(form) || leaves && at !== form.elements.at.value;
  remember(form, said(form), asFound(form));
  if (!leaves) {
    for (const d of form.querySelectorAll("details[id]")) if (shut.has(d.id)) d.open = !shut.get(d.id) || d.open && d.matches(".rest");
    for (const f of files) form.querySelector("#" + f.id).files = f.files;
  }
  if (changed) form.dispatchEvent(new CustomEvent("changed", { detail: button }));
  form.dispatchEvent(new CustomEvent("shown", { detail: button }));
  put(form, since);
  focusAgain(form, { id, value, place, listed, leaves });
  if (leaves) window.scrollTo(0, 0);
  const notice = document.getElementById("notice");
  if (notice) say(notice.textContent);
}

// focusAgain puts the focus where the work goes on: into what was added, on the same
// field or button, or on the measures.
function focusAgain(form, { id, value, place, listed, leaves }) {
  if (listed) {
    const list = document.getElementById("e-" + listed.replace(/\[\d+\]$/, "").replace(/[._[]/g, "-").replace(/\]/g, ""));
    const item = [...list?.querySelectorAll(":scope > .item") ?? []].at(-1);
    if (item) item.open = true; // if it can be folded away
    (item?.querySelector("input, select") ?? list)?.focus();
    return;
  }
  const seen = (e) => e?.checkVisibility() ? e : null;
  const same = seen(document.getElementById(id)) ?? [...form.querySelectorAll("button")].find((b) => value && b.value === value && seen(b));
  const marked = document.getElementById(id?.replace(/-example$/, "")); // a field, or what holds many, whose last is next to the mark
  const fields = [...marked?.querySelectorAll("summary, input, select") ?? []].filter((e) => e.tabIndex >= 0 && seen(e));
  (same ?? fields.at(-1) ?? marked ?? document.getElementById("measures"))?.focus({ preventScroll: leaves || Boolean(same) });
  if (place != null && same?.setSelectionRange) same.setSelectionRange(place, place);
}
