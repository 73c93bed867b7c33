/** What is known of a layout that was changed by hand: whether it can be cut so, how long it is, the way back. */

import { button, el, say } from "../lib/dom.js";
import { formatAlong, formatSize, percent } from "../lib/units.js";

/** `{element, show, said}` for a table. */
export function handBar(top) {
  const words = el("p", { class: "hand-words", role: "status" });
  const undo = button("Undo", () => top.back(false));
  const redo = button("Redo", () => top.back(true));
  const keep = button("Keep this layout", () => top.keep(), { kind: "main" });
  const element = el("div", { class: "hand-bar no-print", hidden: true }, words, el("p", { class: "row" }, undo, redo, keep));

  const show = () => {
    const { now, canUndo, canRedo, isChanged } = top.hand;
    element.hidden = top.mode !== "move" && !isChanged;
    undo.disabled = !canUndo;
    redo.disabled = !canRedo;
    keep.disabled = !isChanged || !now.legal;
    if (document.activeElement?.disabled && element.contains(document.activeElement)) [redo, undo].find((one) => !one.disabled)?.focus();
    element.classList.toggle("wrong", !now.legal);
    words.textContent = now.legal ? legalWords(top, now, isChanged) : `It cannot be cut like this: ${now.why}. Move it further, or undo.`;
  };
  return { element, show, said: (told) => { element.hidden = false; words.textContent = told; say(told); } };
}

function legalWords(top, now, isChanged) {
  if (!isChanged) return "Drag a piece, or choose one and use the arrows: it goes to the nearest free place.";
  const by = now.length - top.original.length;
  const change = Math.abs(by) < 0.05 ? "as long as it was" : `${formatSize(Math.abs(by), top.units)} ${by < 0 ? "shorter" : "longer"} than it was`;
  return `Checked; it can be cut like this: ${formatAlong(now.length, top.units)}, ${change}; ${percent(now.density)} of the cloth used.`;
}
