/** The cloth as it lies while one cuts: its edges, pattern and nap, the piece of the step with its distances, spare cloth. */

import { svg } from "../lib/dom.js";
import { drawPattern } from "../table/edges.js";
import { drawLayout } from "../table/layout.js";
import { boxOf, nameOf, viewBoxOf, widthOf } from "../table/scene.js";

/** `{element, show(step, has)}`: `has(piece)` says whether a piece is cut. */
export function lyingCloth(data) {
  const layout = data.chalked;
  const width = widthOf(layout);
  const size = Math.max(layout.length, width) / 30;
  const end = Math.max(layout.length, ...data.spare.map(({ x1 }) => x1));
  const drawing = drawLayout(layout, { units: data.units, box: viewBoxOf(layout, end), sizes: data.sizes, nap: layout.cloth.nap === true });
  const { element, pieces } = drawing;
  const under = svg("g", { "aria-hidden": "true" }, drawPattern(layout, layout.pattern, width), data.spare.map((one) => spareCloth(one, width, size)));
  const over = svg("g", { "aria-hidden": "true" });
  element.insertBefore(under, pieces[0] ?? null);
  element.append(over);
  const label = element.getAttribute("aria-label");
  return {
    element,
    show(step, has, stages) {
      pieces.forEach((group, at) => {
        for (const [name, is] of Object.entries({ chosen: at === step.piece, cut: has(at), dim: step.stage > 0 && stages.get(at) !== step.stage })) group.classList.toggle(name, is);
      });
      element.classList.toggle("at-piece", step.piece !== null);
      over.replaceChildren(...(step.piece === null ? [] : distances(step, layout, width, size)));
      element.setAttribute("aria-label", step.piece === null ? label : `${label}. This step: ${nameOf(layout, step.piece)}, ${step.figures.map((words) => words.join(": ")).join("; ")}`);
    },
  };
}

/** From the start and from its edge to the piece of a step, with the figures. */
function distances(step, layout, width, size) {
  const placement = layout.placements[step.piece];
  const box = boxOf(placement.outline);
  const band = layout.bands.find(({ name }) => name === placement.band) ?? layout.bands[0];
  const edge = step.side === "low" ? band.y0 - beyond(band.low_edge, layout) : band.y1 + beyond(band.high_edge, layout);
  const near = step.side === "low" ? box.y : box.y + box.width;
  const [midX, midY] = [box.x + box.length / 2, width - box.y - box.width / 2];
  const [[, start], [, across]] = step.figures;
  return [
    ...(box.x > 1.5 * size ? distance([0, midY], [box.x, midY], start, size) : []),
    ...(Math.abs(near - edge) > 1.5 * size ? distance([midX, width - edge], [midX, width - near], across, size) : []),
  ];
}

const beyond = (kind, layout) => (kind === "selvedge" ? layout.selvedge : 0);

function distance([ax, ay], [bx, by], words, size) {
  return [
    svg("line", { class: "distance", x1: ax, y1: ay, x2: bx, y2: by }),
    ...[[ax, ay], [bx, by]].map(([cx, cy]) => svg("circle", { class: "distance-end", cx, cy, r: size / 5 })),
    svg("text", { class: "distance-words", x: (ax + bx) / 2, y: (ay + by) / 2 - (ay === by ? 0.4 * size : 0), "font-size": size.toFixed(1), "text-anchor": "middle", "dominant-baseline": ay === by ? "auto" : "central" }, words),
  ];
}

function spareCloth({ x0, x1, y0, y1, words }, width, size) {
  const [long, high] = [x1 - x0, y1 - y0];
  const said = `spare ${words}`;
  const type = Math.min(0.55 * size, 0.7 * high, long / (0.58 * said.length));
  return [
    svg("rect", { class: "spare", x: x0, y: width - y1, width: long, height: high }),
    type > 0.3 * size && svg("text", { class: "spare-words", x: x0 + long / 2, y: width - y0 - high / 2, "font-size": type.toFixed(1), "text-anchor": "middle", "dominant-baseline": "central" }, said),
  ].filter(Boolean);
}
