/** The pieces drawn at one scale, each with its name and size. */

import { el, spoken, svg } from "../lib/dom.js";
import { formatSize } from "../lib/units.js";

const NOTCH = 9; // mm

/** Draw the pieces of a draft into an element, as large as its width allows; one that is not on the page has none. */
export function drawPieces(element, draft, units) {
  if (!element.isConnected) return;
  const boxes = draft.pieces.map((piece) => box(piece.cut_line));
  const scale = Math.max(SMALLEST, scaleFor(element, boxes));
  element.replaceChildren(...draft.pieces.map((piece, i) => figure(piece, boxes[i], scale, units)));
}

/** Extent of an outline, with x across (the drawing's) and y along the grain. */
function box(outline) {
  const across = outline.map(([, y]) => y);
  const along = outline.map(([x]) => x);
  const [left, top] = [Math.min(...across), Math.min(...along)];
  return { left, top, width: Math.max(...across) - left, height: Math.max(...along) - top };
}

const NARROW = 960; // px: below that the pieces stand in one row above the form
const [SMALLEST, LARGEST] = [0.02, 0.6]; // px for a mm: in a window without height, and enough to see a notch
const [GAP, CAPTION, LEAST] = [22, 74, 140]; // px: between pieces, below one, and the least width of one with its words

/** Pixels for each mm at which the pieces fill the element without being taller than a screen. */
function scaleFor(element, boxes) {
  if (innerWidth < NARROW) return (0.17 * innerHeight) / Math.max(...boxes.map((each) => each.height));
  const zoom = parseFloat(getComputedStyle(element).fontSize) / 16;
  const width = Math.max(240, element.clientWidth - 40 * zoom);
  let scale = Math.min(LARGEST * zoom, width / Math.max(...boxes.map((each) => each.width)));
  while (scale > 0.15 && heightAt(scale, boxes, width, zoom) > innerHeight - 70 * zoom) scale *= 0.96;
  return scale;
}

/** How high the pieces stand, row by row; `zoom` is how much larger than usual the words are. */
function heightAt(scale, boxes, width, zoom) {
  let [total, row, used] = [0, 0, 0];
  for (const each of boxes) {
    const wide = Math.max(LEAST * zoom, each.width * scale) + GAP * zoom;
    if (used && used + wide > width + GAP * zoom) {
      total += row;
      [row, used] = [0, 0];
    }
    used += wide;
    row = Math.max(row, each.height * scale + CAPTION * zoom);
  }
  return total + row;
}

function figure(piece, extent, scale, units) {
  const pad = 4 / scale;
  const width = extent.width + 2 * pad;
  const height = extent.height + 2 * pad;
  const at = (points) => points.map(([x, y]) => `${y.toFixed(1)},${x.toFixed(1)}`).join(" ");
  const size = `${formatSize(extent.height, units)} × ${formatSize(extent.width, units)}`;
  const how = cutWords(piece);
  const drawing = svg("svg", {
    class: `piece ${piece.material}`, role: "img", "aria-label": `${spoken(piece.name)}, ${how}, ${size}`,
    viewBox: `${extent.left - pad} ${extent.top - pad} ${width} ${height}`,
    width: Math.round(width * scale), height: Math.round(height * scale),
  },
    svg("polygon", { class: "cut", points: at(piece.cut_line) }),
    piece.sew_line && svg("polygon", { class: "sew", points: at(piece.sew_line) }),
    piece.on_fold && foldLine(piece, extent),
    piece.grain && grainLine(piece.grain, at),
    (piece.notches ?? []).map((notch) => notchMark(notch)));
  return el("figure", {}, drawing,
    el("figcaption", {}, el("b", { text: spoken(piece.name) }), el("span", { text: how }), el("span", { text: size })));
}

function cutWords(piece) {
  if (piece.on_fold) return `cut ${piece.cut} on the fold`;
  return piece.mirrored ? `cut ${piece.cut}, left and right` : `cut ${piece.cut}`;
}

/** The folded edge lies along the centre, where a half begins. */
function foldLine(piece, extent) {
  const [left, top, bottom] = [extent.left, extent.top, extent.top + extent.height];
  const on = piece.cut_line.filter(([, y]) => Math.abs(y - left) < 1).map(([x]) => x);
  const [from, to] = on.length > 1 ? [Math.min(...on), Math.max(...on)] : [top, bottom];
  return svg("line", { class: "fold", x1: left, x2: left, y1: from, y2: to });
}

function grainLine([from, to], at) {
  const [a, b] = [from, to].map(([x, y]) => [y, x]);
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const head = Math.min(16, long / 5);
  const tip = ([x, y], sign) =>
    `M${x} ${y}l${-sign * ux * head - uy * head * 0.45} ${-sign * uy * head + ux * head * 0.45}` +
    `M${x} ${y}l${-sign * ux * head + uy * head * 0.45} ${-sign * uy * head - ux * head * 0.45}`;
  return [
    svg("polyline", { class: "grain", points: at([from, to]) }),
    svg("path", { class: "grain", d: tip(b, 1) + tip(a, -1) }),
  ];
}

function notchMark(notch) {
  const [x, y] = Array.isArray(notch[0]) ? notch[0] : notch;
  return svg("circle", { class: "notch", cx: y, cy: x, r: NOTCH / 2 });
}
