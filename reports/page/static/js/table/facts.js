/** What is known of the piece that was chosen, and what can be done with it. */

import { button, el, freshId } from "../lib/dom.js";
import { boxOf, factsOf, nameOf } from "./scene.js";

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
  const step = top.units === "cm" ? "1 cm, with Shift 10 cm" : "1/2 in, with Shift 5 in";
  const keys = {
    look: "Keys: Tab from piece to piece, + and − closer and farther, 0 for the whole, arrows, x to tick off as cut.",
    move: `Keys: Tab from piece to piece, arrows move it by ${step}; Enter puts it down, Escape puts it back, r turns it, Ctrl+z undoes.`,
  }[top.mode];
  return [el("p", { text: words }), el("p", { class: "help", text: keys })];
}

function chosen(top) {
  const at = top.chosen;
  const now = top.held();
  const tick = freshId("cut");
  return [
    el("h3", { text: nameOf(top.layout, at) }),
    el("dl", {}, factsOf(now, at, top.units).map(([label, words]) => el("div", {}, el("dt", { text: label }), el("dd", { text: words })))),
    top.layout.selvedge > 0 && el("p", { class: "help", text: "Distances include the selvedge." }),
    el("p", { class: "tick-line" }, el("input", { type: "checkbox", id: tick, checked: top.ticks.has(at), on: { change: ({ target }) => top.tick(at, target.checked) } }), el("label", { for: tick, text: "Cut" })),
    top.mode === "move" && moving(top, at),
  ];
}

function moving(top, at) {
  return el("p", { class: "row" },
    top.lifted && button("Drop it here", () => top.letGo(), { kind: "main" }),
    top.lifted && button("Put it back", () => top.putBack()),
    !top.lifted && button("To the start", () => { toStart(top, at); }),
    !top.lifted && top.nextTurn(at) !== null && button("Turn it", () => top.turnPiece()));
}

/** Back along the cloth, to where its part of the cloth begins or something else lies. */
function toStart(top, at) {
  const { outline, band } = top.layout.placements[at];
  const begins = top.layout.bands.find(({ name }) => name === band)?.x0 ?? 0;
  top.lift(at, begins - boxOf(outline).x, 0);
  top.letGo();
}
