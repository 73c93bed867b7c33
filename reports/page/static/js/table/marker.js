/** A marker: drawn plainly while a search goes on, to be looked at and worked on once it has ended. */

import { drawLayout } from "./layout.js";
import { viewBoxOf } from "./scene.js";
import { table } from "./table.js";

/**
 * Draw a layout into an element. With `options.search` and `options.app` it can be looked at closely, ticked off and
 * changed by hand; `options.marker` is its number among those of the answer, from 0. When a layout made by hand is
 * kept, the element sends `kept`, whose `detail` is the search with its new answer.
 */
export function drawMarker(element, layout, options = {}) {
  if (!options.isLive && options.search && options.app) {
    element.replaceChildren(table(layout, options));
    return;
  }
  element.replaceChildren(drawLayout(layout, { units: options.units ?? "in", box: viewBoxOf(layout) }).element);
}
