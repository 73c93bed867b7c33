/** A garment in one's own style: what it says, and a project begun with it. */

import { button, el, spoken } from "../lib/dom.js";
import { freshData } from "../project/fresh.js";
import { namedData } from "../project/naming.js";
import { create } from "../project/project.js";
import { shelfForm } from "./shelfform.js";

export const stylePart = (thing, app, again) => shelfForm(thing, again, ({ data }) => {
  const garment = app.catalogue.garments.find(({ name }) => name === data.garment);
  if (!garment) return [el("p", { class: "note", text: "Its garment is not there: it comes from a package that is not installed." })];
  const begin = async () => {
    const fresh = namedData(garment, freshData(garment));
    fresh.job.style = structuredClone(data.style ?? {});
    fresh.own_style = thing.id;
    await create(fresh.own_name, fresh);
    app.go(garment.to_measure.length ? "who" : "garment");
  };
  const said = garment.options.filter(({ name }) => data.style?.[name] !== undefined);
  return [el("p", { class: "row" }, button("Begin a project with it", begin, { kind: "main" })),
    el("section", { class: "card" }, el("h3", { text: spoken(garment.title) }),
      said.length ? el("dl", { class: "pairs" }, said.map(({ name, label }) => el("div", {}, el("dt", { text: label }), el("dd", { text: spoken(String(data.style[name])).replaceAll("-", " ") }))))
        : el("p", { class: "quiet", text: "All options are at their defaults." }))];
});
