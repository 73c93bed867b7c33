/** A choice of a few that are all in sight. */

import { el, freshId } from "./dom.js";

/** A row of choices of which one holds. */
export function chooser(title, choices, chosen, pick, { class: kind = "" } = {}) {
  const name = freshId("choice");
  return el("fieldset", { class: `switch ${kind}` }, el("legend", { class: "unseen", text: title }),
    choices.map(([value, words]) => el("label", {},
      el("input", { type: "radio", name, value, checked: value === chosen, on: { change: () => pick(value) } }), el("span", { text: words }))));
}
