/** A figure that shows where the tape goes; a help for the eye alone, what it shows is written beside each field. */

import { svg } from "./dom.js";

/** Half of the figure, from the neck round to the middle of the legs; the other half is its mirror image. */
const HALF = "M110 50H101V66C99 73 86 77 74 81C63 84 58 98 55 122L45 178L38 211L47 214L58 180L67 138L72 118C73 136 79 148 80 162C79 180 70 192 69 208L73 296H105L110 232Z";

/** Where each measurement is taken. */
const LINES = {
  bust: "M72 119Q110 133 148 119",
  hip: "M69 207Q110 222 151 207",
  across_shoulder: "M74 81Q110 71 146 81",
  neck: "M101 65Q110 71 119 65",
  upper_arm: "M55 122Q62 128 70 125",
  wrist: "M38 210Q42 216 47 213",
  arm_length: "M150 79C163 84 168 100 171 121L181 177L188 210",
  armhole_depth: "M146 82V118",
};

/** The figure: `{element, show(name)}`; `show` marks one measurement, or none. */
export function measuredFigure() {
  const lines = Object.entries(LINES).map(([name, d]) => [name, svg("path", { class: "measure", d })]);
  const element = svg("svg", { class: "figure-drawn", viewBox: "20 0 180 300", "aria-hidden": "true" },
    svg("ellipse", { class: "body", cx: 110, cy: 35, rx: 18, ry: 25 }),
    svg("path", { class: "body", d: HALF }),
    svg("path", { class: "body", d: HALF, transform: "translate(220 0) scale(-1 1)" }),
    lines.map(([, line]) => line));
  return { element, show: (name) => lines.forEach(([each, line]) => line.classList.toggle("on", each === name)) };
}
