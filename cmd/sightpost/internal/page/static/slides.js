// Slides: beside every number there is a slide to drag it by, which keys move as well.

const number = /^[+−-]?\d+(?:\.\d*)?$|^[+−-]?\.\d+$/;

// How far a slide reaches to either side of a value, and how fine it is, by unit.
const reaches = { mm: [200, 1], cm: [20, 0.1], in: [8, 0.1], deg: [45, 1], kg: [2, 0.05], lb: [4, 0.1] };

// slides puts a slide beside every number of a form.
export function slides(form) {
  for (const field of form.querySelectorAll("input[data-number]")) dress(form, field);
}

// dress puts a slide beside a field.
function dress(form, field) {
  const reach = reaches[field.dataset.number];
  if (!reach || field.dataset.slid) return;
  field.dataset.slid = "yes";
  const slide = document.createElement("input");
  slide.type = "range";
  slide.step = reach[1];
  slide.tabIndex = 0;
  slide.className = "slide";
  slide.setAttribute("aria-label", "slide " + name(field));
  place(slide, field, reach[0]);
  field.parentElement.after(slide);
  slide.addEventListener("input", () => {
    field.value = slide.value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
  slide.addEventListener("change", () => place(slide, field, reach[0]));
  field.addEventListener("input", () => {
    if (document.activeElement !== slide) place(slide, field, reach[0]);
  });
}

// name returns what a field is called, with the groups that it is in.
function name(field) {
  const words = [field.labels[0]?.firstChild?.textContent.trim() ?? ""];
  for (let e = field.closest("fieldset, details.group"); e; e = e.parentElement.closest("fieldset, details.group")) {
    words.unshift(e.querySelector(":scope > legend, :scope > summary h4")?.textContent.trim() ?? "");
  }
  return words.filter(Boolean).join(" ");
}

// place sets a slide to where its field is. Around the value it reaches as far to
// either side; a value that is nowhere yet has no slide.
function place(slide, field, reach) {
  const text = field.value || field.placeholder.match(/^[^ ]+(?= computed)/)?.[0] || "";
  slide.hidden = !number.test(text.trim());
  if (slide.hidden) return;
  const value = Number(text.replace("−", "-"));
  const low = Number(slide.min), high = Number(slide.max);
  const margin = (high - low) / 10;
  if (slide.dataset.placed && value > low + margin && value < high - margin) {
    slide.value = value;
    return;
  }
  slide.dataset.placed = "yes";
  const middle = Math.round(value / reach * 4) / 4 * reach;
  slide.min = round(middle - reach);
  slide.max = round(middle + reach);
  slide.value = value;
}

const round = (v) => Math.round(v * 1e6) / 1e6;
