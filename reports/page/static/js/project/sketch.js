/** A garment as a picture. */

import { el, spoken, svg } from "../lib/dom.js";

/** The sketch of a garment, and its title below it. */
export const sketch = (garment) => [
  svg("svg", { viewBox: "0 0 100 120", "aria-hidden": "true" }, svg("path", { d: garment.sketch })),
  el("span", { text: spoken(garment.title) }),
];
