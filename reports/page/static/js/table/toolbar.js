/** What stands above the marker: what the pointer does, and how closely it is looked at. */

import { chooser } from "../lib/chooser.js";
import { button, el } from "../lib/dom.js";

const MODES = [["look", "Look"], ["move", "Move pieces"], ["measure", "Measure"]];

/** `{element, scaled, counted}` for a table. */
export function toolbar(top) {
  const out = button("−", () => top.view.zoom(false), { "aria-label": "Farther away", disabled: true });
  const closer = button("+", () => top.view.zoom(true), { "aria-label": "Closer" });
  const whole = button("Whole", () => top.view.whole(), { "aria-label": "Show the whole marker", disabled: true });
  const cut = el("span", { class: "quiet count" });
  const arrow = (sign, words, right, down) => button(sign, () => top.step(right, down), { "aria-label": words });
  return {
    element: el("div", { class: "tools no-print" },
      chooser("What dragging does", MODES, "look", (mode) => top.turnTo(mode)),
      el("div", { class: "group", role: "group", "aria-label": "How closely" },
        out, closer, whole),
      el("div", { class: "group", role: "group", "aria-label": "By steps" },
        arrow("←", "Step left", -1, 0), arrow("↑", "Step up", 0, -1), arrow("↓", "Step down", 0, 1), arrow("→", "Step right", 1, 0)),
      cut),
    scaled: (scale) => {
      if (scale <= 1.001 && [out, whole].includes(document.activeElement)) closer.focus();
      out.disabled = whole.disabled = scale <= 1.001;
    },
    counted: () => { cut.textContent = `${top.ticks.count()} of ${top.layout.placements.length} cut`; },
  };
}
