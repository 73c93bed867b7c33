/** The garments as pictures, one of which is made; folded away behind its name. */

import { el, freshId, say, spoken } from "../lib/dom.js";
import { offerRib } from "../project/fresh.js";
import { sketch } from "../project/sketch.js";

/** A choice of garments: sketch and title of each; `chosen` is the name of the one that holds, `pick(garment)` hears of another. */
export function wardrobe({ garments, not_loaded: notLoaded = [] }, chosen, pick) {
  const name = freshId("garment");
  const cards = garments.map((garment) => el("label", {},
    el("input", { type: "radio", name, value: garment.name, checked: garment.name === chosen, on: { change: () => taken(garment) } }),
    sketch(garment)));
  const held = el("summary");
  const showHeld = (garment) => { held.textContent = garment ? `${spoken(garment.title)}: choose another garment` : "Choose a garment"; };
  const taken = (garment) => {
    pick(garment);
    showHeld(garment);
    say(`${spoken(garment.title)}. ${measuredFor(garment)}`);
  };
  showHeld(garments.find((garment) => garment.name === chosen));
  return el("details", { class: "card" }, held,
    el("fieldset", { class: "wardrobe" }, el("legend", { text: "What is made" }), cards),
    notLoaded.length > 0 && el("ul", { class: "remarks" }, notLoaded.map((line) => el("li", { text: spoken(line) }))));
}

/** What must be measured for a garment, in words. */
export function measuredFor({ asked, measurements, to_measure: must }) {
  if (!asked.length) return "Nothing is measured for it.";
  const listed = (names) => names.map((name) => spoken(name).toLowerCase()).join(", ");
  const isRuled = (name) => measurements.includes(name) && !must.includes(name);
  const ruled = asked.filter(isRuled);
  return `To measure: ${listed(asked.filter((name) => !isRuled(name)))}.${ruled.length ? ` Optional: ${listed(ruled)}.` : ""}`;
}

/** Make another garment: measurements stay, and each garment keeps the style that was written for it. */
export function changeGarment(data, { name, materials }) {
  data.styles = { ...data.styles, [data.job.garment]: data.job.style ?? {} };
  data.job.style = data.styles[name] ?? {};
  data.job.garment = name;
  offerRib(data, materials.includes("rib"));
}
