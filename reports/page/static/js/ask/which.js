/** Which of the cloths on hand will do: each laid as it is, the smallest that will do first. */

import { el, spoken } from "../lib/dom.js";
import { choiceField } from "../lib/field.js";
import { formatBound, formatSize } from "../lib/units.js";
import { units } from "../project/settings.js";
import { panel } from "./panel.js";

const ANSWERS = { yes: "Yes", no: "No, proved", "not found": "Not found", "not looked at": "Not looked at", refused: "Cannot be laid so" };

/** The question as a panel: `{element, end}`. */
export function whichPanel(app) {
  const { fabric = [] } = app.project.data.job;
  const asked = { ...app.project.data.answers?.which?.options };
  if (!fabric.some(({ name }) => name === asked.cloth)) delete asked.cloth;
  const choices = fabric.map(({ name }, i) => [name ?? "", name || `Cloth ${i + 1}`]);
  return panel(app, {
    kind: "which", start: "Try the cloths on hand", empty: "Each roll and remnant of the ledger is tried as long and as wide as it is.",
    fields: choices.length > 1 ? el("div", { class: "fields" }, choiceField({ name: "options.cloth", label: "Laid as", help: "Its nap, selvedge and gap", value: asked.cloth ?? choices[0][0], choices, store: (value) => { asked.cloth = value; } }).element) : null,
    ask: () => ({ job: app.project.data.job, options: asked }),
    shown: ({ result }) => [answer(result)],
  });
}

function answer({ best, cloths, words }) {
  const found = cloths.find(({ item }) => item === best);
  const open = cloths.some((one) => one.answer === "not found" || one.answer === "not looked at");
  return el("section", { class: "card which" },
    el("h3", { text: found ? `${spoken(found.item)} will do: ${found.about}` : words[0] }),
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Cloths on hand" }, el("table", {},
      el("thead", {}, el("tr", {}, ["Cloth", "Width", "Length", "Will it do?", "Left over"].map((word, i) => el("th", { scope: "col", class: [1, 2, 4].includes(i) ? "figure" : null, text: word })))),
      el("tbody", {}, cloths.map((one) => el("tr", {}, el("th", { scope: "row" }, `${one.item}: ${one.name}`, one.colour && el("span", { class: "quiet", text: `, ${one.colour}` })),
        figure(formatSize(one.width_mm, units())), figure(formatBound(one.left_mm, units())),
        el("td", {}, el("b", { class: one.answer === "yes" ? "will-do" : null, text: ANSWERS[one.answer] }), one.proof && el("span", { class: "quiet", text: `: ${one.reason.replace(/^no, proved: /, "")}` }), one.answer === "refused" && el("span", { class: "quiet", text: `: ${one.reason}` })),
        figure(one.left_over_mm === null ? "" : formatBound(Math.max(0, one.left_over_mm), units()))))))),
    el("ul", { class: "remarks" },
      open && el("li", { text: "Not found is not no: look longer, and a layout or a proof may be found." }),
      found && el("li", { text: "This is what the ledger says. Measure the cloth, and look it over for flaws, before you cut." })));
}

const figure = (text) => el("td", { class: "figure", text });
