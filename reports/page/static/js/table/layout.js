/** The drawing of a marker: cloth with its edges, a tape along it, and the pieces with their names. */

import { svg } from "../lib/dom.js";
import { INCH, formatSize } from "../lib/units.js";
import { drawEdges, edgeWords } from "./edges.js";
import { placeOf } from "./label.js";
import { grainOf, headOf, nameOf, pointsOf, tapeOf, widthOf } from "./scene.js";

/** Sizes that have a shade of their own; more begin again with the first. */
export const SHADES = 6;

/**
 * `{element, pieces, redraw}`: `pieces` are the groups of the placements, in their order; `redraw(layout)` shows them
 * where they lie by then. With `label` the pieces can be focused, and are called what it says; without, the drawing is
 * one picture. `sizes` are those of the pieces, each with a shade where there are several; `nap` shows which way it runs.
 */
export function drawLayout(layout, { units, box, label = null, sizes = [], nap = false }) {
  const count = layout.placements.length;
  const shades = [...new Set(sizes)];
  const shade = (at) => (shades.length > 1 ? ` size-${shades.indexOf(sizes[at]) % SHADES}` : "");
  const element = svg("svg", {
    class: "marker", role: label ? "group" : "img", preserveAspectRatio: "xMidYMid meet",
    "aria-label": [`Layout of ${count} ${count === 1 ? "piece" : "pieces"}, ${formatSize(layout.length, units)} along the cloth, ${formatSize(widthOf(layout), units)} across`,
      edgeWords(layout), nap && "with a nap"].filter(Boolean).join("; "),
    viewBox: `${box.x} ${box.y} ${box.width} ${box.height}`,
  });
  element.style.aspectRatio = `${box.width} / ${box.height}`;
  const ground = svg("g", { "aria-hidden": "true" });
  const pieces = layout.placements.map((_, at) => svg("g", { class: `on-cloth${shade(at)}`, "data-piece": at, ...(label && { tabindex: 0, role: "button", "aria-pressed": "false" }) }));
  const redraw = (now) => {
    ground.replaceChildren(...cloth(now), ...drawEdges(now, { width: widthOf(now), selvedge: now.selvedge, nap }), ...tape(now, units));
    pieces.forEach((group, at) => {
      drawPiece(group, now, at, now.placements[at].outline);
      if (label) group.setAttribute("aria-label", label(at));
    });
  };
  redraw(layout);
  element.append(ground, ...pieces);
  return { element, pieces, redraw };
}

/** Draw a piece anew, where it lies now. */
export function drawPiece(group, layout, at, outline) {
  const width = widthOf(layout);
  const name = nameOf(layout, at);
  const grain = grainOf(layout.placements[at], outline);
  const { x, y: height, size, isTall } = placeOf(outline, name, Math.max(layout.length, width) / 38, grain);
  const y = width - height;
  group.replaceChildren(
    svg("polygon", { class: "placed", points: pointsOf(outline, width) }),
    ...grainLine(grain, width, Math.max(layout.length, width) / 110),
    svg("text", {
      class: "piece-name", x, y, "font-size": size.toFixed(1), "text-anchor": "middle", "dominant-baseline": "central", "aria-hidden": "true",
      transform: isTall ? `rotate(-90 ${x} ${y})` : null,
    }, name));
}

/** A line with two heads, which lies along the threads. */
export function grainLine(grain, width, size) {
  if (!grain) return [];
  const ends = grain.map(([x, y]) => [x, width - y]);
  const [[ax, ay], [bx, by]] = ends;
  const long = Math.hypot(bx - ax, by - ay) || 1;
  const [dx, dy] = [((bx - ax) / long) * size, ((by - ay) / long) * size];
  const head = ([x, y], way) => svg("polygon", { class: "grain-head", points: `${x},${y} ${x + way * dx - 0.35 * dy},${y + way * dy + 0.35 * dx} ${x + way * dx + 0.35 * dy},${y + way * dy - 0.35 * dx}` });
  return [svg("line", { class: "grain-line", x1: ax, y1: ay, x2: bx, y2: by }), head(ends[0], 1), head(ends[1], -1)];
}

function cloth(layout) {
  const width = widthOf(layout);
  return layout.bands.flatMap((band) => {
    const [x0, x1] = [band.x0 ?? 0, band.x1 ?? layout.length];
    const edge = (y, kind) => svg("line", { class: `edge ${kind}`, x1: x0, x2: x1, y1: width - y, y2: width - y });
    return [
      svg("rect", { class: `band layers-${band.layers}`, x: x0, y: width - band.y1, width: Math.max(0, x1 - x0), height: band.y1 - band.y0 }),
      edge(band.y0, band.low_edge), edge(band.y1, band.high_edge),
    ];
  });
}

/** A measuring tape along the lower edge, from the start on. */
function tape(layout, units) {
  const [top, high] = [widthOf(layout), tapeOf(layout)];
  const [unit, step, named] = units === "cm" ? [10, 10, layout.length > 3000 ? 50 : 20] : [INCH, 3, layout.length > 3000 ? 24 : 12];
  const y = top + headOf(layout);
  const parts = [svg("rect", { class: "tape-strip", x: 0, y, width: layout.length, height: 0.88 * high }),
    svg("text", { class: "tape-name", x: 0.15 * high, y: y + 0.72 * high, "font-size": (0.52 * high).toFixed(1) }, units)];
  for (let at = step; at * unit < layout.length; at += step) {
    const isNamed = at % named === 0;
    parts.push(svg("line", { class: "tape-mark", x1: at * unit, x2: at * unit, y1: y, y2: y + high * (isNamed ? 0.88 : 0.3) }));
    if (isNamed) parts.push(svg("text", { class: "tape-name", x: at * unit - 0.15 * high, y: y + 0.72 * high, "font-size": (0.52 * high).toFixed(1), "text-anchor": "end" }, String(at)));
  }
  return parts;
}
