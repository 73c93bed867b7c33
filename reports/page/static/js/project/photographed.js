/** Photos of paper patterns: what they are measured by, and how sure each traced piece is. */

import { el } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { formatField } from "../lib/units.js";

export const LARGEST_PHOTO = 25_000_000; // bytes

const MEASURES = [["", "The printed reference sheet"], ["a4", "A bare sheet of A4"], ["letter", "A bare sheet of letter"], ["mat", "The squares of a cutting mat"]];
const SHEETS = [["a4", "A4"], ["letter", "letter"]];

export const isPhoto = (name) => /\.(jpe?g|png)$/i.test(name);

/** What a photo needs, with the sheet to print; what is chosen goes into `asked`: `sheet`, `line` or `mat`. */
export function photoFields(asked) {
  const line = textField({
    name: "line", label: "Long line of the sheet, by your ruler", placeholder: "180 mm", help: "Only if it is not 180 mm",
    store: (value) => { asked.line = value; },
  }).element;
  const mat = textField({
    name: "mat", label: "Side of the smallest squares of the mat", placeholder: "1 in", store: (value) => { asked.mat = value; },
  }).element;
  const show = (by) => {
    line.hidden = by !== "";
    mat.hidden = by !== "mat";
  };
  const by = choiceField({
    name: "measured", label: "What is in the photo to measure by", value: "", choices: MEASURES,
    help: "The reference sheet is the surest",
    store: (value) => {
      Object.assign(asked, { line: "", mat: "", sheet: value === "mat" ? "" : value });
      for (const input of [...line.querySelectorAll("input"), ...mat.querySelectorAll("input")]) input.value = "";
      show(value);
    },
  }).element;
  show("");
  return el("details", { class: "photo-measure" }, el("summary", { text: "A photo of a paper pattern" }),
    el("p", { class: "quiet" }, "Print the reference sheet (", ...SHEETS.flatMap(([paper, name], n) => [n ? ", " : "",
      el("a", { href: `/api/reference-sheets/${paper}`, download: "", text: name })]),
    ") at 100 %. Its first page will do. Lay it flat beside the pattern, on a table of another colour. Hold the camera level above both."),
    el("div", { class: "fields" }, by, line, mat));
}

/** What was traced: the table from above, and for each piece how far it may be off, and lengths to measure with a tape. */
export function traced({ measured_by: by, pieces, picture }, units) {
  return el("section", { class: "card traced" },
    el("h2", { text: "What was traced" }),
    el("p", { class: "quiet", text: `Lengths are in ${by}.` }),
    el("img", { src: picture, alt: "The table from straight above, with the traced outlines and marks drawn on it" }),
    ...pieces.map((piece) => el("div", {},
      el("h3", { text: piece.piece }),
      el("p", { text: `Its outline may be ${piece.usual_mm.toFixed(1)} mm off, ${piece.worst_mm.toFixed(1)} mm at the worst point. Measure the paper with a tape:` }),
      el("ul", {}, piece.measured.map(({ what, mm }) => el("li", { text: `${formatField(mm, units)}: ${what}` }))),
      marks(piece.marks))));
}

/** The marks that were found, each kind counted by how sure it is. */
function marks(found) {
  const counted = new Map();
  for (const { kind, sure } of found) {
    if (kind === "crease") continue;
    const key = `${kind}, ${sure}`;
    counted.set(key, (counted.get(key) ?? 0) + 1);
  }
  if (!counted.size) return el("p", { class: "quiet", text: "No lines or notches were found on it." });
  return el("p", {}, "Found on it: ", [...counted].map(([key, many]) => (many > 1 ? `${many} × ${key}` : key)).join("; "), ".");
}
