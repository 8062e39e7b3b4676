// Case: what the page was told last of the case, and what its form says now. The modules
// build on each other in this order: case and parts, live, whole, then drawing, history,
// jobs and keep, and page on top.

// state is what the page was told last: the number of the request, the text of the case
// and its kit, how the mount is set, and what the fields said that it came from. Whole
// says that the whole page is being asked for.
export const state = { number: Date.now(), text: "", kit: "", asFound: "", said: new Map(), whole: false };

// remember notes what the page was told of what its fields said.
export function remember(form, sent, found) {
  state.text = form.elements.before.value;
  state.kit = form.elements.kit.value;
  state.asFound = found;
  state.said = sent;
}

// settingFields returns the fields that say how the mount is set, and from which record.
export const settingFields = (form) => [...form.elements].filter(({ name }) => /^(?:s:.*|as-found|side|earlier)$/.test(name));

// asFound returns what a form says of how the mount is set: the same for the same, however
// much of it can be seen.
export function asFound(form) {
  const given = settingFields(form).filter((f) => f.value !== "" && (f.type !== "checkbox" || f.checked));
  return JSON.stringify(given.map((f) => [f.name, f.value]).sort());
}

// said returns what the fields of a form say that someone can change, but for the text
// of the case.
export function said(form) {
  const all = new Map();
  for (const field of form.elements) {
    if (!field.name || field.hidden || field.dataset.text !== undefined || /^(?:hidden|file|submit|button)$/.test(field.type)) continue;
    if (field.type === "checkbox") all.set(field.name + "\n" + field.value, field.checked);
    else all.set(field.name, field.value);
  }
  return all;
}

// rewritten reports whether someone changed the text of the case itself.
export const rewritten = (form) => form.elements.text.value !== form.elements.before.value;

// pending reports whether something was typed into the case that has not been answered.
export function pending(form) {
  return rewritten(form) || [...said(form)].some(([name, value]) => name.startsWith("e:") && state.said.get(name) !== value);
}

// fields returns the fields of a form as they are sent, but for files.
export function fields(form, number) {
  const data = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (typeof value === "string") data.append(name, value);
  }
  data.set("number", number);
  return data;
}
