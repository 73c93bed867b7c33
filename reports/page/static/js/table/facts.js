/** What is known of the piece that was chosen, and what can be done with it. */

import { button, el, freshId } from "../lib/dom.js";
import { boxOf, factsOf, nameOf, shifted } from "./scene.js";

/** `{element, show}` for a table. */
export function factsPanel(top) {
  const element = el("div", { class: "facts no-print" });
  const show = () => {
    const focused = element.contains(document.activeElement) ? document.activeElement : null;
    element.replaceChildren(...(top.mode === "measure" ? measured(top) : top.chosen === null ? hint(top) : chosen(top)).filter(Boolean));
    if (!focused) return;
    const same = [...element.querySelectorAll("button, input")].find((one) => one.tagName === focused.tagName && one.textContent === focused.textContent);
    (same ?? top.drawing.pieces[top.chosen])?.focus({ preventScroll: true });
  };
  show();
  return { element, show };
}

function measured(top) {
  return [el("h3", { text: "Ruler" }),
    el("p", { class: "figure-middle", text: top.ruler.said() || "–" }),
    el("p", { class: "help", text: "Drag from one point to another; arrow keys or the arrows above move its end." })];
}

function hint(top) {
  const words = { look: "Choose a piece to see its size and place.", move: "Choose the piece to move." }[top.mode];
  return [el("p", { text: words }),
    el("p", { class: "help", text: "Keys: Tab from piece to piece, + and − closer and farther, 0 for the whole, arrows, x to tick off as cut." })];
}

function chosen(top) {
  const at = top.chosen;
  const now = { ...top.layout, placements: top.layout.placements.with(at, lying(top, at)) };
  const tick = freshId("cut");
  return [
    el("h3", { text: nameOf(top.layout, at) }),
    el("dl", {}, factsOf(now, at, top.units).map(([label, words]) => el("div", {}, el("dt", { text: label }), el("dd", { text: words })))),
    top.layout.selvedge > 0 && el("p", { class: "help", text: "Distances include the selvedge." }),
    el("p", { class: "tick-line" }, el("input", { type: "checkbox", id: tick, checked: top.ticks.has(at), on: { change: ({ target }) => top.tick(at, target.checked) } }), el("label", { for: tick, text: "Cut" })),
    top.mode === "move" && moving(top, at),
  ];
}

/** The piece where it is held just now. */
function lying(top, at) {
  const placement = top.layout.placements[at];
  return top.lifted?.piece === at ? { ...placement, outline: shifted(placement.outline, top.lifted.dx, top.lifted.dy) } : placement;
}

function moving(top, at) {
  const turns = top.original.turns?.[at] ?? [];
  const now = ((top.layout.placements[at].turn % 360) + 360) % 360;
  const next = turns[(turns.findIndex((turn) => Math.abs(turn - now) < 0.01) + 1) % turns.length];
  return el("p", { class: "row" },
    top.lifted && button("Drop it here", () => top.letGo(), { kind: "main" }),
    top.lifted && button("Put it back", () => top.putBack()),
    !top.lifted && button("To the start", () => { toStart(top, at); }),
    !top.lifted && turns.length > 1 && button("Turn it", () => top.letGo(next)));
}

/** Back along the cloth, to where its part of the cloth begins or something else lies. */
function toStart(top, at) {
  const { outline, band } = top.layout.placements[at];
  const begins = top.layout.bands.find(({ name }) => name === band)?.x0 ?? 0;
  top.lift(at, begins - boxOf(outline).x, 0);
  top.letGo();
}
