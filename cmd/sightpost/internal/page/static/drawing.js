// Drawing: seen large, turned by buttons, keys, mouse and touch, and the sheet printed.
import { fields, state } from "./case.js";
import { renew, send } from "./live.js";
import { silent, trouble } from "./parts.js";

// drawing follows what is done to the drawing of a form.
export function drawing(form) {
  form.addEventListener("click", (event) => {
    const b = event.target;
    if (b.dataset?.turn) turn(form, Number(b.dataset.turn), 0);
    if (b.dataset?.lift) turn(form, 0, Number(b.dataset.lift));
    if (b.id === "enlarge") enlarge(form);
    if (b.id === "print") print(form);
  });
  form.addEventListener("drawn", () => {
    clearTimeout(later);
    later = setTimeout(() => retell(form), 200);
  });
  form.addEventListener("keydown", (event) => {
    if (!event.target.closest?.(".turning") || event.target.tagName === "INPUT") return;
    const ways = { ArrowLeft: [-5, 0], ArrowRight: [5, 0], ArrowUp: [0, 5], ArrowDown: [0, -5] };
    const way = ways[event.key];
    if (!way) return;
    event.preventDefault();
    turn(form, ...way);
  });
  drag(form);
}

let later = 0, asked = 0;

// retell fetches what is under the form and on paper, once someone has stopped
// typing.
async function retell(form) {
  clearTimeout(later);
  const number = state.number, turn = ++asked, paper = form.elements.paper.value;
  const under = document.getElementById("results");
  under.setAttribute("aria-busy", "true");
  try {
    const response = await fetch("answer", { method: "POST", body: fields(form, number) });
    const text = await response.text(); // read to the end, so that the connection is free again
    if (response.status !== 200 && response.status !== 204) trouble(text);
    if (response.status !== 200 || number !== state.number || turn !== asked) return false;
    renew(JSON.parse(text));
    document.getElementById("part-print").className = "print-only " + paper;
    return true;
  } catch {
    return false;
  } finally {
    if (turn === asked) under.removeAttribute("aria-busy");
  }
}

// print prints the sheet of what the page says now.
async function print(form) {
  if (await retell(form)) window.print();
  else trouble("The sheet could not be made. Is the program still running?");
}

// turn turns the drawing by so many degrees, from where it is seen.
function turn(form, by, up) {
  const { turn, lift } = form.elements;
  const from = (field) => Number(Number.isFinite(parseFloat(field.value)) ? parseFloat(field.value) : field.placeholder);
  turn.value = (((from(turn) + by) % 360) + 540) % 360 - 180;
  lift.value = Math.max(-90, Math.min(90, from(lift) + up));
  send(form);
}

// drag turns the drawing by mouse or touch. The drawing is replaced while it is
// dragged, so that the whole form listens.
function drag(form) {
  const perPixel = 0.5; // degrees
  let last = null;
  form.addEventListener("pointerdown", (event) => {
    if (!event.target.closest?.(".turns") || event.button !== 0) return;
    event.preventDefault();
    last = event;
    form.setPointerCapture(event.pointerId);
  });
  form.addEventListener("pointermove", (event) => {
    if (!last || event.pointerId !== last.pointerId) return;
    const by = Math.round((last.clientX - event.clientX) * perPixel);
    const up = Math.round((event.clientY - last.clientY) * perPixel);
    if (by === 0 && up === 0) return;
    last = event;
    turn(form, by, up);
  });
  for (const end of ["pointerup", "pointercancel"]) form.addEventListener(end, () => { last = null; });
}

// enlarge shows the drawing by itself, as it is on paper and as large as the window.
async function enlarge(form) {
  const dialog = document.getElementById("large");
  try {
    const response = await fetch("download/figure.svg", { method: "POST", body: fields(form, state.number) });
    const text = await response.text();
    if (!response.ok) {
      trouble(text);
      return;
    }
    const svg = text.replace(/<style>[^<]*<\/style>/, ""); // its letters, which the page has
    dialog.querySelector(".canvas").replaceChildren(new DOMParser().parseFromString(svg, "image/svg+xml").documentElement);
    dialog.querySelector(".close").onclick = () => dialog.close();
    dialog.showModal();
  } catch {
    trouble(silent);
  }
}
