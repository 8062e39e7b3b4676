// Slides: beside every number with a range there is a slide to drag it by. It goes in the
// field's own steps from the least to the greatest value that it takes. Keys work in the field.

// How far a slide reaches to either side of a value at most, and its steps where the field has
// none of its own, by unit.
const reaches = { mm: [200, 1], cm: [20, 0.1], in: [8, 0.0625], deg: [45, 1], kg: [2, 0.05], lb: [4, 0.1] };

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
  const step = Number(field.dataset.step ?? reach[1]), by = [reach[0], step];
  const slide = Object.assign(document.createElement("input"), { type: "range", step, tabIndex: -1, className: "slide" });
  slide.setAttribute("aria-hidden", "true"); // the field is there for everyone
  place(slide, field, by);
  field.parentElement.after(slide);
  slide.addEventListener("pointerdown", (event) => {
    const box = slide.getBoundingClientRect(), share = (slide.value - slide.min) / (slide.max - slide.min);
    if (event.pointerType === "touch" && Math.abs(event.clientX - box.left - share * box.width) > 24) event.preventDefault();
  });
  slide.addEventListener("input", () => type(field, Number(slide.value)));
  slide.addEventListener("change", () => place(slide, field, by));
  field.addEventListener("input", () => {
    if (document.activeElement !== slide) place(slide, field, by);
  });
  field.addEventListener("keydown", (event) => {
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!way || slide.hidden) return;
    event.preventDefault();
    type(field, Math.min(slide.max, Math.max(slide.min, Number(slide.value) + way * step)));
  });
}

// type has a field say a number, as if it were typed.
function type(field, value) {
  field.value = said(field.dataset, Math.round(value * 1e6) / 1e6);
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

// said returns a number as a field says it: with its unit and the word for its sign, if the
// field has one, and inches as a tape shows them.
function said({ number, plus, minus }, value) {
  const size = plus === undefined ? value : Math.abs(value), whole = Math.trunc(size);
  let text = String(size), part = Math.round(Math.abs(size - whole) * 16), of = 16;
  for (; part > 0 && part % 2 === 0; part /= 2) of /= 2;
  if (number === "in" && part > 0) text = `${whole || (size < 0 ? "-" : "")}${whole ? " " : ""}${part}/${of}`;
  if (plus === undefined) return text;
  const unit = number === "deg" ? "°" : " " + number, way = value > 0 ? plus : value < 0 ? minus : "";
  return text + unit + (way && " " + way);
}

// read returns the number that a text says; NaN if it says none.
function read(text, { plus, minus }) {
  let way = 1;
  if (minus && text.endsWith(" " + minus)) [text, way] = [text.slice(0, -minus.length - 1), -1];
  else if (plus && text.endsWith(" " + plus)) text = text.slice(0, -plus.length - 1);
  if (plus !== undefined) text = text.replace(/ ?(?:°|deg|mm|cm|in)$/, "");
  const [, sign, whole, part, of] = text.trim().match(/^([+−-]?)(\d+(?:\.\d*)?|\.\d+)?(?:(?:(?<=\d) |(?<!\d))(\d+)\/(\d+))?$/) ?? [];
  if (whole === undefined && part === undefined) return NaN;
  return (/[−-]/.test(sign) ? -way : way) * (Number(whole ?? 0) + Number(part ?? 0) / Number(of ?? 1));
}

// place sets a slide to where its field is; it is gone while the field says no number, or one
// that the slide could not show.
function place(slide, field, [reach, step]) {
  const value = read(field.value || field.placeholder.match(/^.+(?= computed)/)?.[0] || "", field.dataset);
  slide.hidden = !(Math.abs(value / step - Math.round(value / step)) < 1e-6);
  if (slide.hidden) return;
  const middle = Math.round(value / reach) * reach;
  slide.min = Math.ceil(Math.max(middle - reach, field.dataset.low ?? -Infinity) / step) * step;
  slide.max = Math.floor(Math.min(middle + reach, field.dataset.high ?? Infinity) / step) * step;
  slide.value = value;
  slide.hidden = Math.abs(slide.value - value) > 1e-6;
}
