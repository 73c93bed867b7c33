/** The garments as pictures, one of which is made. */

import { el, freshId, say, spoken, svg } from "../lib/dom.js";

/** A choice of garments: sketch and title of each; `chosen` is the name of the one that holds, `pick(name)` hears of another. */
export function wardrobe({ garments, not_loaded: notLoaded = [] }, chosen, pick) {
  const name = freshId("garment");
  const cards = garments.map((garment) => el("label", {},
    el("input", { type: "radio", name, value: garment.name, checked: garment.name === chosen, on: { change: () => taken(garment) } }),
    svg("svg", { viewBox: "0 0 100 120", "aria-hidden": "true" }, svg("path", { d: garment.sketch })),
    el("span", { text: spoken(garment.title) })));
  const taken = (garment) => {
    pick(garment.name);
    say(`${spoken(garment.title)}. ${measuredFor(garment)}`);
  };
  return el("section", { class: "card" },
    el("fieldset", { class: "wardrobe" }, el("legend", { text: "What is made" }), cards),
    notLoaded.length > 0 && el("ul", { class: "remarks" }, notLoaded.map((line) => el("li", { text: spoken(line) }))));
}

/** What must be measured for a garment, in words. */
export function measuredFor({ asked }) {
  const names = asked.map((each) => spoken(each).toLowerCase());
  return names.length ? `To measure: ${names.join(", ")}.` : "Nothing is measured for it.";
}

/** Make another garment: measurements stay, and each garment keeps the style that was written for it. */
export function changeGarment(data, name) {
  data.styles = { ...data.styles, [data.job.garment]: data.job.style ?? {} };
  data.job.style = data.styles[name] ?? {};
  data.job.garment = name;
}
