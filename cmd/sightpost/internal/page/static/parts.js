// Parts: what the pieces of the page say, and what is told to those who cannot see it.

const shown = new WeakMap(); // what is in a part

// replace puts new content into a part of the page, and the focus back where it was.
// No part that is replaced holds a field or a button: a press would be lost if what is
// pressed went away under the finger.
export function replace(into, html) {
  if (!into || shown.get(into) === html) return;
  shown.set(into, html);
  const focused = into.contains(document.activeElement) ? document.activeElement.id : "";
  const open = [...into.querySelectorAll("details[open][id]")].map((d) => d.id);
  into.innerHTML = html;
  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
}

// tell puts words into a place that is there only while it says something.
export function tell(place, words) {
  if (place.textContent !== words) place.textContent = words;
  place.hidden = words === "";
}

// say tells a screen reader something.
export function say(words) {
  document.getElementById("said").textContent = words;
}

// trouble tells everyone what went wrong on the way to the program, until the next
// answer. While it is silent, what it said before is gray.
export function trouble(words) {
  document.getElementById("work").toggleAttribute("data-silent", words === silent);
  const place = document.getElementById("trouble");
  tell(place, words);
  place.parentElement.hidden = words === "";
  place.nextElementSibling.hidden = words !== silent;
}

export const silent = "The program does not answer. Is it still running? What you typed is still here.";

// gray shows of a case that cannot be worked out the last drawing and answer that there
// were, in gray.
export function gray(form) {
  const state = form.querySelector(".status").dataset.state, drawn = form.querySelector("#shown-figure svg");
  form.toggleAttribute("data-stale", drawn !== null && /wrong|needed/.test(state));
}
