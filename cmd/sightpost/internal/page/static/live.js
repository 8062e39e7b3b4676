// Live: what is typed or dragged is sent at once, one request at a time, and the
// latest wins. An answer that was overtaken is never shown.

export const state = { number: Date.now(), text: "" };

let busy = null; // the request that is under way
let waiting = false; // something was typed meanwhile
const patience = 400; // ms after which a slow request is given up for a newer one

const part = (name) => document.getElementById("part-" + name);

// follow sends what is typed in a form.
export function follow(form) {
  state.text = form.elements.before.value;
  const typed = (event) => {
    const t = event.target;
    if (!t.name || t.type === "file" || t.dataset.text !== undefined) return;
    if (t.name.startsWith("e:") && t.dataset.again === undefined || t.name.startsWith("s:") || t.dataset.live !== undefined) send(form);
  };
  form.addEventListener("input", typed);
  form.addEventListener("change", typed);
}

// send sends the form, now or when the request under way is answered.
export async function send(form) {
  if (busy) {
    waiting = true;
    if (performance.now() - busy.since > patience) busy.abort.abort();
    return;
  }
  waiting = false;
  const number = ++state.number;
  busy = { abort: new AbortController(), since: performance.now() };
  try {
    const response = await fetch("live", { method: "POST", body: fields(form, number), signal: busy.abort.signal });
    if (response.status === 200) show(form, await response.json(), number);
    else if (response.status !== 204) trouble(await response.text());
  } catch (error) {
    if (error.name !== "AbortError") trouble("The program does not answer. Is it still running? What you typed is still here.");
  } finally {
    busy = null;
    if (waiting) send(form);
  }
}

// fields returns the fields of a form as they are sent.
export function fields(form, number, button) {
  const data = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (typeof value === "string") data.append(name, value);
  }
  data.set("number", number);
  if (button?.name) data.set(button.name, button.value);
  return data;
}

// show shows an answer, unless a newer request was sent.
function show(form, answer, number) {
  if (answer.number !== number || number !== state.number) return;
  trouble("");
  form.elements.before.value = answer.text;
  form.elements.text.value = answer.text;
  if (answer.text !== state.text) {
    state.text = answer.text;
    form.dispatchEvent(new CustomEvent("changed"));
  }
  for (const [name, html] of Object.entries(answer.parts)) replace(part(name), html);
  problems(form, answer);
  for (const place of form.querySelectorAll("[data-part]")) place.textContent = answer.sections[place.dataset.part] ?? "";
  for (const [id, found] of Object.entries(answer.found)) {
    const field = document.getElementById(id);
    if (field) field.placeholder = found ? found + " found" : "";
  }
  quietly(answer.status);
  form.dispatchEvent(new CustomEvent("drawn"));
}

// problems puts what is wrong beside the fields.
function problems(form, answer) {
  const needed = new Set(answer.needed);
  for (const place of form.querySelectorAll(".problem[id]")) {
    const id = place.id.slice(0, -"-problem".length);
    const words = answer.problems[id] ?? "";
    if (place.textContent !== words) place.textContent = words;
    place.hidden = words === "";
    const field = document.getElementById(id);
    if (!field?.name) continue;
    if (words) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
    const mark = place.closest(".field")?.querySelector("label .needed");
    if (mark) mark.hidden = !needed.has(id);
  }
}

// replace puts new content into a part of the page, and the focus back where it was.
export function replace(into, html) {
  if (!into || into.dataset.html === html) return;
  into.dataset.html = html;
  const id = into.contains(document.activeElement) ? document.activeElement.id : "";
  const open = [...into.querySelectorAll("details[open][id]")].map((d) => d.id);
  const place = document.activeElement?.selectionStart;
  into.innerHTML = html;
  for (const e of into.querySelectorAll(".scripted")) e.hidden = false;
  for (const e of into.querySelectorAll(".unscripted")) e.hidden = true;
  for (const d of open) document.getElementById(d)?.setAttribute("open", "");
  if (!id) return;
  const field = document.getElementById(id);
  field?.focus({ preventScroll: true });
  if (place != null && field?.setSelectionRange) field.setSelectionRange(place, place);
}

let pause = 0;

// quietly tells a screen reader how the case stands once somebody stops typing.
function quietly(words) {
  clearTimeout(pause);
  pause = setTimeout(() => say(words), 700);
}

// say tells a screen reader something.
export function say(words) {
  document.getElementById("said").textContent = words;
}

// trouble tells everybody what went wrong on the way to the program, until the next
// answer.
export function trouble(words) {
  const place = document.getElementById("trouble");
  place.textContent = words;
  place.hidden = words === "";
}

// again has the whole page shown anew: after a button, or after a choice that changes
// the form.
export async function again(form, button) {
  const data = new FormData(form), sent = new Map(data), turn = ++turns;
  data.set("number", ++state.number);
  if (button?.name) data.set(button.name, button.value);
  busy?.abort.abort();
  let html;
  try {
    const response = await fetch("./", { method: "POST", body: data });
    html = await response.text();
    if (response.status !== 200) return trouble(html);
  } catch {
    return trouble("The program does not answer. Is it still running? What you typed is still here.");
  }
  if (turn !== turns) return; // another button was pressed since
  ++state.number; // what was asked for meanwhile is of the page as it was
  const typed = button?.dataset.leaves === undefined ? typedSince(form, sent) : [];
  swap(form, html, button);
  for (const [name, value] of typed) {
    const field = form.elements.namedItem(name);
    if (field) field.value = value;
  }
  if (typed.length > 0) send(form);
}

let turns = 0; // how often the whole page was asked for

// typedSince returns the fields of a form that say something else than was sent.
function typedSince(form, sent) {
  return [...new FormData(form)].filter(([name, value]) => /^[es]:/.test(name) && sent.has(name) && sent.get(name) !== value);
}

// swap shows a page that came back, and keeps the place of whoever looks at it.
function swap(form, html, button) {
  const next = new DOMParser().parseFromString(html, "text/html").getElementById("work");
  if (!next) return;
  trouble("");
  const was = document.activeElement;
  const id = was?.id, value = was?.value;
  const shut = new Map([...form.querySelectorAll("details[id]")].map((d) => [d.id, !d.open]));
  const listed = button?.value?.match(/^(?:add|remove) ([^ ]+)/)?.[1];
  form.replaceChildren(...next.childNodes);
  const changed = state.text !== form.elements.before.value;
  state.text = form.elements.before.value;
  if (button?.dataset.leaves === undefined) {
    for (const d of form.querySelectorAll("details[id]")) if (shut.has(d.id)) d.open = !shut.get(d.id);
  }
  form.dispatchEvent(new CustomEvent("shown"));
  if (changed) form.dispatchEvent(new CustomEvent("changed", { detail: button }));
  focusAgain(form, { id, value, listed });
  const notice = document.getElementById("notice");
  if (notice) say(notice.textContent);
}

// focusAgain puts the focus where the work goes on: into what was added, on the same
// field or button, or on the notice.
function focusAgain(form, { id, value, listed }) {
  if (listed) {
    const list = document.getElementById("e-" + listed.replace(/\[\d+\]$/, "").replace(/[._[]/g, "-").replace(/\]/g, ""));
    const items = list?.querySelectorAll(":scope > .item");
    const into = items?.[items.length - 1]?.querySelector("input, select") ?? list;
    into?.focus();
    return;
  }
  const same = (id && document.getElementById(id)) || [...form.querySelectorAll("button")].find((b) => value && b.value === value);
  (same ?? document.getElementById("measures"))?.focus({ preventScroll: Boolean(same) });
}
