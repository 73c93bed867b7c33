/** A marker drawn plainly: its bands and its pieces, the cloth's length from left to right. */

import { spoken, svg } from "./dom.js";

/** Draw a layout into an element; `options.units` is "in" or "cm". */
export function drawMarker(element, layout) {
  const width = Math.max(...layout.bands.map((band) => band.y1));
  const pad = Math.max(layout.length, width) / 100;
  const points = (outline) => outline.map(([x, y]) => `${x.toFixed(1)},${(width - y).toFixed(1)}`).join(" ");
  const size = Math.max(layout.length, width) / 45;
  element.replaceChildren(svg("svg", {
    class: "marker", role: "img", "aria-label": `Layout of ${layout.placements.length} pieces`,
    viewBox: `${-pad} ${-pad} ${layout.length + 2 * pad} ${width + 2 * pad}`,
  },
    layout.bands.map((band) => svg("rect", { class: `band layers-${band.layers}`, x: band.x0 ?? 0, y: width - band.y1, width: (band.x1 ?? layout.length) - (band.x0 ?? 0), height: band.y1 - band.y0 })),
    layout.placements.map((placement) => svg("polygon", { class: "placed", points: points(placement.outline) })),
    layout.placements.map(({ piece, outline }) => {
      const xs = outline.map(([x]) => x);
      const ys = outline.map(([, y]) => y);
      const middle = (values) => (Math.min(...values) + Math.max(...values)) / 2;
      return svg("text", { x: middle(xs), y: width - middle(ys), "font-size": size, "text-anchor": "middle", "dominant-baseline": "middle" }, spoken(piece));
    })));
}
