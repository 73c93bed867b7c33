/** What the edges of laid cloth are called, its selvedges, and which way its nap runs. */

import { svg } from "../lib/dom.js";

/** Height of a line of words above or below the cloth. */
export const wordsOf = (length, width) => Math.max(length, width) / 42;

/** "Fold", "Selvedge" or "Open edge". */
export const edgeName = (kind) => ({ fold: "Fold", selvedge: "Selvedge" })[kind] ?? "Open edge";

/** Bands that lie side by side, one stretch after another along the cloth. */
const stretches = (bands) => [...new Set(bands.map(({ x0 }) => x0 ?? 0))].sort((a, b) => a - b)
  .map((start) => bands.filter(({ x0 }) => (x0 ?? 0) === start).sort((a, b) => a.y0 - b.y0));

/** The edges in words, the lower before the upper: "lower edge: fold; upper edge: selvedge". */
export function edgeWords({ bands }) {
  return stretches(bands).map((beside) => {
    const inner = beside.slice(1).map((band, i) => `inside: ${[...new Set([beside[i].high_edge, band.low_edge])].map((kind) => edgeName(kind).toLowerCase()).join(" and ")}`);
    return [`lower edge: ${edgeName(beside[0].low_edge).toLowerCase()}`, ...inner, `upper edge: ${edgeName(beside.at(-1).high_edge).toLowerCase()}`].join("; ");
  }).join("; then ");
}

/** Selvedges as strips, and the names of all edges; `nap` adds an arrow from the tops of the pieces to their hems. */
export function drawEdges(layout, { width, selvedge = 0, nap = false }) {
  const size = wordsOf(layout.length, width);
  const parts = [];
  const words = (x, y, text, anchor = "start") => parts.push(svg("text", { class: "edge-name", x, y, "font-size": (0.72 * size).toFixed(1), "text-anchor": anchor }, text));
  const strip = (x0, x1, y) => selvedge > 0 && parts.push(svg("rect", { class: "selvedge-strip", x: x0, y: width - y, width: Math.max(0, x1 - x0), height: selvedge }));
  for (const beside of stretches(layout.bands)) {
    const [low, high] = [beside[0], beside.at(-1)];
    const [x0, x1] = [low.x0 ?? 0, low.x1 ?? layout.length];
    if (low.low_edge === "selvedge") strip(x0, x1, low.y0);
    if (high.high_edge === "selvedge") strip(x0, x1, high.y1 + selvedge);
    words(x0, width - high.y1 - selvedge - 0.3 * size, edgeName(high.high_edge));
    words(x0, width - low.y0 + selvedge + 0.78 * size, edgeName(low.low_edge));
    beside.slice(1).forEach((band, i) => {
      const inner = [...new Set([beside[i].high_edge, band.low_edge])].filter((kind) => kind !== "free").map(edgeName);
      if (inner.length) words(x1 - 0.2 * size, width - band.y0 - 0.2 * size, inner.join(", "), "end");
    });
  }
  if (nap) parts.push(...napArrow(layout, width, size, selvedge));
  return parts;
}

function napArrow(layout, width, size, selvedge) {
  const y = width - Math.max(...layout.bands.map(({ y1 }) => y1)) - selvedge - 0.55 * size;
  const [x0, x1] = [layout.length - 12.5 * size, layout.length - 8 * size];
  return [
    svg("line", { class: "nap", x1: x0, x2: x1, y1: y, y2: y }),
    svg("polygon", { class: "nap-head", points: `${x1},${y} ${x1 - 0.6 * size},${y - 0.22 * size} ${x1 - 0.6 * size},${y + 0.22 * size}` }),
    svg("text", { class: "edge-name", x: layout.length, y: y + 0.25 * size, "font-size": (0.72 * size).toFixed(1), "text-anchor": "end" }, "Nap: top to hem"),
  ];
}

/** The lines of a stripe, check or border, as the server tells them; `{along, across, border}`. */
export function drawPattern(layout, pattern, width) {
  const line = (x1, y1, x2, y2, kind = "") => svg("line", { class: `pattern-line ${kind}`, x1, x2, y1: width - y1, y2: width - y2 });
  return [
    ...pattern.along.map((x) => line(x, 0, x, width)), ...pattern.across.map((y) => line(0, y, layout.length, y)),
    ...(pattern.border ? [line(0, pattern.border, layout.length, pattern.border, "border")] : []),
  ];
}
