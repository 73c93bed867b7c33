/** A figure that shows where the tape goes; a help for the eye alone, what it shows is written beside each field. */

import { svg } from "../lib/dom.js";

/** The figure, as the catalogue has it: `{element, show(name)}`; `show` marks one measurement, or none. Those that are not `usual` are seen only then. */
export function measuredFigure({ figure: { head: [cx, cy, rx, ry], half, mirror, box }, measurements }, usual) {
  const lines = measurements.map((each) => [each.name, svg("path", { class: usual(each) ? "measure" : "measure seldom", d: each.tape })]);
  const element = svg("svg", { class: "figure-drawn", viewBox: box.join(" "), "aria-hidden": "true" },
    svg("ellipse", { class: "body", cx, cy, rx, ry }),
    svg("path", { class: "body", d: half }),
    svg("path", { class: "body", d: half, transform: mirror }),
    lines.map(([, line]) => line));
  return { element, show: (name) => lines.forEach(([each, line]) => line.classList.toggle("on", each === name)) };
}
