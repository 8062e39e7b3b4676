// Live: what is typed or dragged is sent at once, one request at a time, and the
// latest wins. An answer that was overtaken is never shown.
import { asFound, fields, remember, rewritten, said, state } from "./case.js";
import { gray, replace, say, silent, tell, trouble } from "./parts.js";

let busy = null; // the request that is under way
let waiting = false; // something was typed meanwhile
const patience = 400; // ms after which a slow request is given up for a newer one

// follow sends what is typed in a form.
export function follow(form) {
  remember(form, said(form), asFound(form));
  const typed = (event) => {
    if (followed(event.target) && event.target.dataset.again === undefined) send(form);
  };
  form.addEventListener("input", typed);
  form.addEventListener("change", typed);
  // whoever goes on in the form after changing the text has that taken over first
  form.addEventListener("focusin", (event) => {
    if (rewritten(form) && event.target.matches("input, select, textarea:not([data-text])")) rewrite(form);
  });
}

// followed reports whether something is asked for as soon as a field changes.
export const followed = ({ name, dataset }) =>
  /^[es]:/.test(name ?? "") || dataset.live !== undefined || dataset.again !== undefined;

// rewrite asks for the whole page, since the text of the case was changed: see whole.js.
const rewrite = (form) => form.dispatchEvent(new CustomEvent("rewritten"));

// still keeps the text of the case as it is while an answer that changes it is on its
// way, and shows that one is.
function still(form) {
  form.elements.text.readOnly = busy !== null || state.whole;
  form.dataset.asking = state.whole ? "page" : busy ? "answer" : "nothing";
}

// overtake gives up what is under way because the whole page is asked for.
export function overtake(form) {
  state.number++;
  state.whole = true;
  waiting = false;
  busy?.abort.abort();
  still(form);
}

// goOn sends what was typed since the whole page was asked for.
export function goOn(form, typed) {
  state.number++; // what was asked for before is of the page as it was
  state.whole = false;
  still(form);
  if (typed || waiting) send(form);
}

// send sends the form, now or when what is under way is answered.
export async function send(form) {
  if (busy || state.whole) {
    waiting = true;
    if (busy && performance.now() - busy.since > patience) busy.abort.abort();
    return;
  }
  waiting = false;
  if (rewritten(form)) {
    rewrite(form);
    return;
  }
  const number = ++state.number, sent = said(form), found = asFound(form);
  busy = { abort: new AbortController(), since: performance.now() };
  still(form);
  try {
    const response = await fetch("live", { method: "POST", body: fields(form, number), signal: busy.abort.signal });
    if (response.status === 200) show(form, await response.json(), { number, sent, found });
    else if (response.status !== 204) trouble(await response.text());
  } catch (error) {
    if (error.name !== "AbortError") trouble(silent);
  } finally {
    busy = null;
    still(form);
    if (waiting) send(form);
  }
}

// show shows an answer, unless a newer request was sent.
function show(form, answer, { number, sent, found }) {
  if (answer.number !== number || number !== state.number) return;
  trouble("");
  form.elements.before.value = answer.text;
  form.elements.text.value = answer.text;
  const changed = answer.text !== state.text || found !== state.asFound;
  remember(form, sent, found);
  if (changed) form.dispatchEvent(new CustomEvent("changed"));
  renew(answer);
  gray(form);
  choices(form.elements.figure, answer);
  if (answer.turned) {
    form.elements.turn.placeholder = answer.turned.turn;
    form.elements.lift.placeholder = answer.turned.lift;
  }
  if (answer.parts["as-found"] !== undefined) form.dispatchEvent(new CustomEvent("dress"));
  problems(form, answer);
  for (const place of form.querySelectorAll("[data-part]")) place.textContent = answer.sections[place.dataset.part] ?? "";
  for (const group of form.querySelectorAll("details.group")) {
    group.querySelector("summary .state").hidden = [...group.querySelectorAll('[name^="e:"]')].some((field) => field.value !== "");
  }
  form.elements.name.placeholder = answer.name;
  document.getElementById("case-name").dataset.address = answer.address;
  for (const [id, title] of Object.entries(answer.titles)) {
    const places = document.getElementById(id)?.querySelectorAll(":scope > legend, :scope > button > span, :scope > summary > h4") ?? [];
    for (const place of places) tell(place, title);
  }
  for (const [id, found] of Object.entries(answer.found)) {
    const field = document.getElementById(id);
    if (field) field.placeholder = found;
  }
  const problem = document.getElementById(document.activeElement?.id + "-problem")?.textContent ?? "";
  quietly([problem, answer.status].filter(Boolean).join(". "));
  form.dispatchEvent(new CustomEvent("drawn"));
}

// renew puts the parts of an answer into the page, and shows those pieces of it that
// the case calls for.
export function renew(answer) {
  for (const [name, html] of Object.entries(answer.parts)) replace(document.getElementById("part-" + name), html);
  for (const [id, there] of Object.entries(answer.shows)) document.getElementById(id).hidden = !there;
}

// choices lets someone choose from the drawings that there are. What was chosen stays
// if there still is such a drawing.
function choices(list, { figures, drawn }) {
  if (!figures || figures.map(([name]) => name).join() === [...list.options].map((o) => o.value).join()) return;
  const chosen = figures.some(([name]) => name === list.value) ? list.value : drawn;
  list.replaceChildren(...figures.map(([name, title]) => new Option(title, name)));
  list.value = chosen;
}

// problems puts what is wrong, and what is unlikely, beside the fields.
function problems(form, answer) {
  const needed = new Set(answer.needed);
  for (const place of form.querySelectorAll(".problem[id]")) {
    const id = place.id.slice(0, -"-problem".length);
    const words = answer.problems[id] ?? "";
    tell(place, words);
    const field = document.getElementById(id);
    if (!field?.name) continue;
    if (words) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
    const mark = place.closest(".field, .short")?.querySelector("label .needed");
    if (mark) mark.hidden = !needed.has(id);
  }
  const doubted = new Set(answer.doubted.map((id) => id + "-example"));
  for (const mark of form.querySelectorAll(".example")) if (!doubted.has(mark.id)) mark.remove();
  for (const place of form.querySelectorAll(".unlikely")) tell(place, answer.notes[place.id.slice(0, -"-unlikely".length)] ?? "");
}

let pause = 0;

// quietly tells a screen reader whether the case works once someone stops typing.
function quietly(words) {
  clearTimeout(pause);
  pause = setTimeout(() => say(words), 700);
}
