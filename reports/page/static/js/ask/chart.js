/** Yardage by size and width, as on a pattern envelope. */

import { el } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { formatSize } from "../lib/units.js";
import { units } from "../project/settings.js";
import { filesLink, panel } from "./panel.js";
import { tubeAsked } from "./tube.js";

const NAP = [["both", "With nap and without"], ["with", "With nap"], ["without", "Without nap"]];

export function show(element, app) {
  const asked = { nap: "without", ...app.project.data.answers?.chart?.options };
  const sizes = [["", "My measurements, graded"], ...app.catalogue.tables.map((table) => [table.name, table.title])];
  const store = (name) => (value) => { asked[name] = value || undefined; };
  const chart = panel(app, {
    kind: "chart", start: "Make the chart", empty: "Every size on every width is laid for real and checked. It takes a minute or more.",
    fields: el("div", { class: "fields" },
      choiceField({ name: "options.sizes", label: "Sizes", value: asked.sizes ?? "", choices: sizes, store: store("sizes") }).element,
      textField({ name: "options.widths", label: "Widths", help: "Separate them with commas. Leave empty for the usual widths", text: asked.widths ?? "", placeholder: units() === "cm" ? "90 cm, 140 cm, 150 cm" : "36 in, 45 in, 60 in", store: store("widths"), length: 200 }).element,
      choiceField({ name: "options.nap", label: "Nap", value: asked.nap, choices: NAP, store: store("nap") }).element,
      tubeAsked(app, asked)),
    ask: () => ({ job: app.project.data.job, options: asked }),
    shown: (told) => [chartTable(told.result), filesLink(app)],
  });
  element.append(el("h1", { text: "Chart of sizes" }), el("p", { class: "lead", text: "How much to buy in each size, at each width of cloth." }), chart.element);
  return chart.end;
}

function chartTable({ sizes, widths_mm: widths, cells, words, fabric }) {
  const naps = [...new Set(cells.map((cell) => cell.nap))];
  const cellOf = (size, nap, width) => cells.find((cell) => cell.size === size && cell.nap === nap && cell.width_mm === width);
  const table = (nap) => el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": `Chart ${nap ? "with" : "without"} nap` }, el("table", { class: "grid-table" },
    el("caption", { text: nap ? "With nap" : "Without nap" }),
    el("thead", {}, el("tr", {}, el("th", { scope: "col", text: "Width" }), sizes.map((size) => el("th", { scope: "col", class: "figure", text: size.own ? `${size.name} *` : size.name })))),
    el("tbody", {}, widths.map((width) => el("tr", {}, el("th", { scope: "row", text: formatSize(width, units()) }), sizes.map((size) => {
      const cell = cellOf(size.name, nap, width);
      return el("td", { class: `figure${size.own ? " best" : ""}`, title: cell?.refused ?? null, text: cell?.buy ?? "–" });
    }))))));
  return el("section", { class: "card" }, el("h2", { text: fabric }), naps.map(table), el("ul", { class: "remarks" }, words.map((line) => el("li", { text: line }))));
}
