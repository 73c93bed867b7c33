/** Where things are on a marker: x along the cloth from its start, y across it, mm; drawn with y upwards. */

import { spoken } from "../lib/dom.js";
import { formatSize } from "../lib/units.js";
import { wordsOf } from "./edges.js";

/** Width of the laid cloth that pieces may be cut of. */
export const widthOf = (layout) => Math.max(...layout.bands.map((band) => band.y1));

/** The part of the drawing that shows all of it, with the tape along its lower edge. */
export function viewBoxOf(layout, length = layout.length) {
  const width = widthOf(layout);
  const pad = Math.max(length, width) / 60;
  const above = headOf(layout);
  return { x: -pad, y: -above, width: length + 2 * pad, height: width + 2 * above + tapeOf(layout) + pad };
}

/** Room above and below the cloth for its selvedge and the names of its edges. */
export const headOf = (layout) => wordsOf(layout.length, widthOf(layout)) + (layout.selvedge ?? 0);

/** Height of the tape along the lower edge. */
export const tapeOf = (layout) => Math.max(layout.length, widthOf(layout)) / 30;

/** Smallest box around an outline. */
export function boxOf(outline) {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, length: Math.max(...xs) - x, width: Math.max(...ys) - y };
}

/** An outline as a drawing has it. */
export const pointsOf = (outline, width) => outline.map(([x, y]) => `${x.toFixed(1)},${(width - y).toFixed(1)}`).join(" ");

/** The same for an outline moved as a whole. */
export const shifted = (outline, dx, dy) => outline.map(([x, y]) => [x + dx, y + dy]);

/** A grainline where its piece is held, or lies: moved as its outline is. */
export function grainOf({ grain, outline }, held) {
  if (!grain) return null;
  const [own, now] = [boxOf(outline), boxOf(held)];
  return shifted(grain, now.x - own.x, now.y - own.y);
}

/** "Back", or "Back 2" where there are several: as the server calls it, left and right told apart. */
export function nameOf(layout, at) {
  const { item } = layout.placements[at];
  const alike = layout.placements.flatMap((other, i) => (other.item === item ? [i] : []));
  return alike.length === 1 ? spoken(item) : `${spoken(item)} ${alike.indexOf(at) + 1}`;
}

/** What is known of a piece: `[label, words]` pairs, that of its size with shorter words for a table as well. Distances across count from the cloth's own edge, selvedge and all. */
export function factsOf(layout, at, units) {
  const placement = layout.placements[at];
  const box = boxOf(placement.outline);
  const band = layout.bands.find(({ name }) => name === placement.band) ?? layout.bands[0];
  const size = (mm) => (mm < -0.5 ? `${formatSize(-mm, units)} beyond it` : formatSize(Math.max(0, mm), units));
  const edge = (name) => (name === "free" ? "open edge" : name);
  const across = (mm, name) => size(mm < -0.5 ? mm : mm + (name === "selvedge" ? layout.selvedge ?? 0 : 0));
  return [
    ["Size", `${size(box.length)} along, ${size(box.width)} across`, `${size(box.length)} × ${size(box.width)}`],
    ["From the start", size(box.x)],
    [`From the lower ${edge(band.low_edge)}`, across(box.y - band.y0, band.low_edge)],
    [`From the upper ${edge(band.high_edge)}`, across(band.y1 - box.y - box.width, band.high_edge)],
    ["Lies", liesOf(placement, band)],
  ];
}

function liesOf(placement, band) {
  const turn = Math.round(((placement.turn % 360) + 360) % 360);
  return [
    placement.on_fold ? "on the fold" : band.layers > 1 ? `in ${band.layers} layers` : "in a single layer",
    turn === 180 ? "pointing to the start" : turn && `turned by ${turn}°`,
    placement.mirrored && "printed side down",
  ].filter(Boolean).join(", ");
}

/** One line for people who hear it. */
export function spokenFacts(layout, at, units) {
  return `${nameOf(layout, at)}. ${factsOf(layout, at, units).map(([label, words]) => `${label}: ${words}`).join(". ")}`;
}

/** Where a piece lies, in few words: said while it is moved. */
export function placeWords(layout, at, units) {
  const [, ...facts] = factsOf(layout, at, units);
  return facts.map(([label, words], i) => (i < 3 ? `${label.charAt(0).toLowerCase()}${label.slice(1)} ${words}` : words)).join(", ");
}
