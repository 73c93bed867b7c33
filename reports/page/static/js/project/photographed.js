/** Photos of paper patterns: what they are measured by, and how sure each traced piece is. */

import { el, freshId } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { formatField, formatSize } from "../lib/units.js";

export const LARGEST_PHOTO = 25_000_000; // bytes
export const LARGEST_SET = 45_000_000; // of all photos of one pattern
export const MOST_PHOTOS = 8;

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
  return el("details", { class: "photo-measure" }, el("summary", { text: "Photos of paper patterns" }),
    el("p", { class: "quiet" }, "Print the reference sheet (", ...SHEETS.flatMap(([paper, name], n) => [n ? ", " : "",
      el("a", { href: `/api/reference-sheets/${paper}`, download: "", text: name })]),
    ") at 100 %. Its first page will do. Lay it flat beside the pattern, on a table of another colour. Hold the camera level above both."),
    el("p", { class: "quiet", text: "A large piece may take several photos. Lay sheets A and B beside it, further on C and D, and move nothing until the last photo is taken. Each photo shows a whole sheet that another one shows too. Choose all the photos at once, or add them later." }),
    el("div", { class: "fields" }, by, line, mat));
}

/**
 * What was traced: each table from above with how well its photos fit, and for each piece how far it may be off, and
 * lengths to measure with a tape. `add(file)` is run for a further photo.
 */
export function traced({ measured_by: by, is_joined: isJoined, tables }, units, add) {
  return el("section", { class: "card traced" },
    el("h2", { text: "What was traced" }),
    el("p", { class: "quiet", text: `Measured by ${by}.` }),
    ...tables.map((table) => el("div", { class: "traced-table" },
      el("figure", {}, el("img", { src: table.picture, alt: "The table from straight above, with the traced outlines and marks drawn on it" }),
        key(table.pieces)),
      el("div", { class: "traced-words" }, fits(table.files, units),
        ...table.pieces.map((piece) => el("div", {},
          el("h3", { text: piece.piece }),
          el("p", { text: `Its outline may be ${piece.usual_mm.toFixed(1)} mm off, ${piece.worst_mm.toFixed(1)} mm at the worst point. Measure the paper with a tape:` }),
          el("ul", {}, piece.measured.map(({ what, mm }) => el("li", { text: `${formatField(mm, units)}: ${what}` }))),
          marks(piece.marks)))))),
    add ? further(add, isJoined, tables.flatMap(({ files }) => files).length) : "");
}

/** An error in hundredths of a mm, never less than it is. */
const upwards = (mm) => (Math.max(1, Math.ceil(100 * mm)) / 100).toFixed(2);

/** How well each photo fits what it is measured by, and the others. */
function fits(files, units) {
  const lines = files.map(({ file, sheets, tilt_degrees: lean, missed_mm: missed, edge_mm: edge, overlap_mm: overlap }) => {
    const by = sheets.length ? `${sheets.length > 1 ? "sheets" : "sheet"} ${sheets.join(", ")}` : "what it is measured by";
    const off = edge === null ? "" : ` Along ${formatSize(overlap, units)} of edge that another photo shows it is ${upwards(edge)} mm off.`;
    return el("li", {}, el("bdi", { class: "file-name", text: file }), `: ${by} missed by ${upwards(missed)} mm, camera ${lean.toFixed(0)}° off straight down.${off}`);
  });
  return el("div", {}, el("h3", { text: files.length > 1 ? "How well the photos fit" : "How well the photo fits" }), el("ul", {}, lines));
}

const KEY = [["outline", "outline"], ["grain", "grainline"], ["fold", "fold"], ["sew line", "sew line"], ["dart", "dart"], ["inner line", "inner line"], ["notch", "notch"], ["drill point", "drill point"], ["writing", "writing, left out"]];

/** What the colours in the picture stand for, as far as they are in it. */
function key(pieces) {
  const there = new Set(["outline", ...pieces.flatMap((piece) => piece.marks.map(({ kind }) => kind))]);
  return el("figcaption", {}, el("ul", { class: "traced-key" }, KEY.filter(([kind]) => there.has(kind)).map(([kind, words]) =>
    el("li", { "data-kind": kind, text: words }))));
}

/** A further photo, added to those that are kept. */
function further(add, isJoined, many) {
  if (many >= MOST_PHOTOS) return el("p", { class: "quiet", text: `${MOST_PHOTOS} photos are kept as one pattern at most.` });
  const id = freshId("further");
  const input = el("input", { type: "file", class: "unseen", id, multiple: true, accept: ".jpg,.jpeg,.png", on: { change: () => { if (input.files.length) add([...input.files]); input.value = ""; } } });
  return el("div", { class: "row" }, input, el("label", { class: "button plain", for: id }, "Add a photo"),
    el("span", { class: "quiet", text: isJoined ? "Another part of the same table" : "Another part of this piece, or other pieces" }));
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
