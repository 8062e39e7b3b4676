// Slides: beside every number with a range there is a slide to drag it by. It goes in the steps
// of its unit from the least to the greatest value that the field takes. Keys work in the field.

const number = /^[+−-]?\d+(?:\.\d*)?$|^[+−-]?\.\d+$/;

// How far a slide reaches to either side of a value at most, and its steps, by unit.
const reaches = { mm: [200, 1], cm: [20, 0.1], in: [8, 0.125], deg: [45, 1], kg: [2, 0.05], lb: [4, 0.1] };

// slides puts a slide beside every number of a form.
export function slides(form) {
  for (const field of form.querySelectorAll("input[data-number]")) dress(field);
}

// dress puts a slide beside a field. It moves only while it is held by its knob, so that a
// finger that scrolls changes nothing, and the field says what it is set to.
function dress(field) {
  const reach = reaches[field.dataset.number];
  if (!reach || field.dataset.slid) return;
  field.dataset.slid = "yes";
  const slide = Object.assign(document.createElement("input"), { type: "range", step: reach[1], tabIndex: -1, className: "slide" });
  slide.setAttribute("aria-hidden", "true"); // the field is there for everyone
  place(slide, field, reach);
  field.parentElement.after(slide);
  slide.addEventListener("pointerdown", (event) => {
    const box = slide.getBoundingClientRect(), share = (slide.value - slide.min) / (slide.max - slide.min);
    if (event.pointerType === "touch" && Math.abs(event.clientX - box.left - share * box.width) > 24) event.preventDefault();
  });
  slide.addEventListener("input", () => type(field, slide.value));
  slide.addEventListener("change", () => place(slide, field, reach));
  field.addEventListener("input", () => {
    if (document.activeElement !== slide) place(slide, field, reach);
  });
  field.addEventListener("keydown", (event) => {
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!way || slide.hidden) return;
    event.preventDefault();
    type(field, round(Math.min(slide.max, Math.max(slide.min, Number(field.value || slide.value) + way * reach[1]))));
  });
}

// type has a field say a number, as if it were typed.
function type(field, value) {
  field.value = value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

// place sets a slide to where its field is; it is gone while the field says no number, or one
// that the slide could not show.
function place(slide, field, [reach, step]) {
  const text = field.value || field.placeholder.match(/^[^ ]+(?= computed)/)?.[0] || "";
  const value = Number(text.replace("−", "-"));
  slide.hidden = !number.test(text.trim()) || Math.abs(value / step - Math.round(value / step)) > 1e-6;
  if (slide.hidden) return;
  const middle = Math.round(value / reach) * reach;
  slide.min = Math.ceil(Math.max(middle - reach, field.dataset.low ?? -Infinity) / step) * step;
  slide.max = Math.floor(Math.min(middle + reach, field.dataset.high ?? Infinity) / step) * step;
  slide.value = value;
  slide.hidden = Math.abs(slide.value - value) > 1e-6;
}

const round = (v) => Math.round(v * 1e6) / 1e6;
