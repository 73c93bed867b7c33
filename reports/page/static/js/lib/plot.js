/** Plain drawings of numbers: a curve over widths, bars with their words. */

import { svg } from "./dom.js";

const [WIDE, HIGH] = [900, 360];
const EDGE = { left: 74, right: 20, top: 18, bottom: 52 };

/** Round steps that split a span into about `count` parts. */
export function steps(low, high, count) {
  const raw = (high - low || 1) / count;
  const ten = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 2.5, 5, 10].map((times) => times * ten).find((one) => one >= raw);
  const found = [];
  for (let at = Math.ceil(low / step - 1e-9) * step; at <= high + 1e-9; at += step) found.push(at);
  return found;
}

/**
 * A curve: `points` of `[x, y]`, `lower` such as a proven bound (may be empty), in the units shown; `across` and `up`
 * name the axes, `label` says it all in words. Each point has its own words in `titles`.
 */
export function curvePlot({ points, lower = [], across, up, label, titles = [] }) {
  const xs = points.map(([x]) => x);
  const ys = [...points, ...lower].map(([, y]) => y);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, top] = spanOf(ys);
  const x = (value) => EDGE.left + ((value - left) / (right - left || 1)) * (WIDE - EDGE.left - EDGE.right);
  const y = (value) => HIGH - EDGE.bottom - ((value - low) / (top - low || 1)) * (HIGH - EDGE.top - EDGE.bottom);
  const line = (of) => of.map(([a, b]) => `${x(a).toFixed(1)},${y(b).toFixed(1)}`).join(" ");
  return svg("svg", { class: "plot wide-plot", viewBox: `0 0 ${WIDE} ${HIGH}`, role: "img", "aria-label": label },
    steps(low, top, 5).map((at) => [
      svg("line", { class: "grid", x1: EDGE.left, x2: WIDE - EDGE.right, y1: y(at), y2: y(at) }),
      svg("text", { x: EDGE.left - 10, y: y(at), "font-size": 15, "text-anchor": "end", "dominant-baseline": "central" }, plain(at)),
    ]),
    steps(left, right, 9).map((at) => svg("text", { x: x(at), y: HIGH - EDGE.bottom + 22, "font-size": 15, "text-anchor": "middle" }, plain(at))),
    svg("line", { class: "axis", x1: EDGE.left, x2: WIDE - EDGE.right, y1: HIGH - EDGE.bottom, y2: HIGH - EDGE.bottom }),
    svg("text", { class: "quiet", x: WIDE - EDGE.right, y: HIGH - 8, "font-size": 15, "text-anchor": "end" }, across),
    svg("text", { class: "quiet", x: EDGE.left + 8, y: EDGE.top + 2, "font-size": 15 }, up),
    lower.length > 1 && svg("polyline", { class: "least", points: line(lower) }),
    svg("polyline", { class: "curve-line", points: line(points) }),
    points.map(([a, b], i) => svg("circle", { class: "dot", cx: x(a), cy: y(b), r: points.length > 25 ? 3.5 : 5 }, titles[i] && svg("title", {}, titles[i]))));
}

const plain = (value) => String(Number(value.toFixed(3)));

function spanOf(values) {
  const [low, top] = [Math.min(...values), Math.max(...values)];
  const pad = (top - low) * 0.06 || 1;
  return [Math.max(0, low - pad), top + pad];
}

/** A bar as long as its share, 0 to 1, beside words that say it. */
export function bar(share, kind = "") {
  return svg("svg", { class: "plot", viewBox: "0 0 100 8", preserveAspectRatio: "none", "aria-hidden": "true" }, svg("rect", { class: `bar ${kind}`, width: Math.max(0, 100 * share).toFixed(2), height: 8 }));
}
