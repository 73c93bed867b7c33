/** Where the name of a piece fits inside its outline. */

import { boxOf } from "./scene.js";

/** Width of a letter, as a share of its size: most are narrower. */
const LETTER = 0.62;

/** Words may be so much smaller to keep off a grainline, as a share. */
const ENOUGH = 0.75;

/** Lines across the piece that are tried, as shares of its width: the middle is best. */
const LINES = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74];

/**
 * Place and size of a name: `{x, y, size, isTall}`, the middle of the words, x along the cloth and y across it. The words
 * run along the longer way of the piece, on the first line where they fit; else where there is most room, and smaller.
 * They keep off a grainline, where there is room beside it.
 */
export function placeOf(outline, name, largest, grain = null) {
  const box = boxOf(outline);
  const isTall = box.width > 1.3 * box.length;
  const [along, across, from, short] = isTall ? [1, 0, box.x, box.length] : [0, 1, box.y, box.width];
  const size = Math.min(largest, 0.5 * short);
  const needed = Math.max(3, name.length) * LETTER;
  const off = lineOf(grain, along, across);
  const isClear = (line) => off === null || Math.abs(line - off) > 0.75 * size;
  const lines = LINES.map((share) => from + share * short);
  const around = { box, isTall, along, across, size, needed, from, short };
  const [clear, any] = [lines.filter(isClear), lines].map((some) => roomiest(outline, some, around));
  const { room, middle, line } = clear.room >= ENOUGH * Math.min(any.room, needed * size) ? clear : any;
  const [x, y] = isTall ? [line, middle] : [middle, line];
  return { x, y, isTall, size: Math.min(size, room ? room / needed : size) };
}

/** Where a grainline that runs as the words do lies; null of another. */
function lineOf(grain, along, across) {
  if (!grain) return null;
  const [one, other] = grain;
  return Math.abs(one[across] - other[across]) < 0.2 * Math.abs(one[along] - other[along]) ? (one[across] + other[across]) / 2 : null;
}

/** Of some lines the first on which the words fit, or that with most room. */
function roomiest(outline, lines, { box, isTall, along, across, size, needed, from, short }) {
  let best = { room: 0, middle: isTall ? box.y + box.width / 2 : box.x + box.length / 2, line: from + short / 2 };
  for (const line of lines) {
    const [low, high] = [-0.6, 0.6]
      .map((part) => spans(outline, along, across, line + part * size))
      .reduce(shared)
      .reduce((one, other) => (other[1] - other[0] > one[1] - one[0] ? other : one), [0, 0]);
    if (high - low > 1.02 * best.room) best = { room: high - low, middle: (low + high) / 2, line };
    if (best.room >= needed * size) break;
  }
  return best;
}

/** The stretches of a line that lie inside an outline. */
function spans(outline, along, across, line) {
  const cuts = [];
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length];
    if (a[across] > line === b[across] > line) return;
    cuts.push(a[along] + ((line - a[across]) / (b[across] - a[across])) * (b[along] - a[along]));
  });
  cuts.sort((one, other) => one - other);
  return cuts.flatMap((cut, i) => (i % 2 ? [] : [[cut, cuts[i + 1]]]));
}

/** The stretches that are in both of two lists. */
const shared = (some, others) => some.flatMap(([a, b]) =>
  others.map(([c, d]) => [Math.max(a, c), Math.min(b, d)]).filter(([low, high]) => high > low));
