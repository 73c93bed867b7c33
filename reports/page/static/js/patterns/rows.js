/** The list beside the drawing: every outline with its number, what it is and how sure that is; and the key of all roles. */

import { button, el, svg } from "../lib/dom.js";
import { ALL_ROLES, roleClass, roleKey, roleLetter, roleWords, sureMark } from "./roles.js";

const FIRST = 120;

/** What the colours, dashes and letters of the drawing mean, and how many there are of each. */
export function keyOf(outlines, role) {
  const many = new Map();
  for (const outline of outlines) many.set(roleKey(role(outline)), (many.get(roleKey(role(outline))) ?? 0) + 1);
  return el("ul", { class: "role-key", "aria-label": "What the lines are" }, ALL_ROLES.filter((each) => many.has(each)).map((each) =>
    el("li", {}, swatch(each), el("b", { text: roleLetter(each) }), el("span", { text: `${roleWords(each)}, ${many.get(each)}` }))));
}

export const swatch = (role) => svg("svg", { class: "swatch", viewBox: "0 0 34 10", "aria-hidden": "true" }, svg("path", { class: roleClass(role), d: "M1 5H33" }));

/** The list; `show()` draws it anew, `focus(outline)` brings a row into sight. */
export function rows({ outlines, role, pick, isChosen, isTold }) {
  const list = el("ul", { class: "outline-rows" });
  let most = FIRST;
  const byRow = new Map();

  const row = (outline) => {
    const now = role(outline);
    const sure = isTold(outline) ? "You said so" : sureMark(outline);
    const made = el("button", { type: "button", class: `outline-row${isTold(outline) ? " told" : ""}`, "aria-pressed": String(isChosen(outline)), on: { click: () => pick(outline) } },
      el("b", { text: outline.numbers[0] }), swatch(now), el("span", { class: "what" }, `${roleLetter(now)} ${roleWords(now)}`, outline.piece && el("bdi", { text: outline.piece })),
      el("span", { class: `sure ${isTold(outline) ? "told" : outline.sure}`, text: sure }));
    byRow.set(outline, made);
    return el("li", {}, made);
  };
  const show = () => {
    const all = outlines();
    byRow.clear();
    const held = all.slice(0, most);
    const chosen = all.findIndex(isChosen);
    if (chosen >= most) held.push(all[chosen]);
    list.replaceChildren(...held.map(row));
    if (all.length > most) list.append(el("li", {}, button(`Show ${Math.min(all.length - most, 500)} more of ${all.length}`, () => { most += 500; show(); })));
  };
  return { element: list, show, focus: (outline) => byRow.get(outline)?.scrollIntoView({ block: "nearest" }) };
}
