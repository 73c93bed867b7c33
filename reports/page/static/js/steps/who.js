/** Who it is for: measurements, checked as they are written; saved clients and tables of sizes to begin from. */

import { el, say, spoken } from "../lib/dom.js";
import { labelled } from "../lib/labels.js";
import { allRead, choiceField, lengthField, sayErrors } from "../lib/field.js";
import { bareSize, formatField, formatSize } from "../lib/units.js";
import { bodyAndStyle, drafter, goneBy, lacking } from "../project/draft.js";
import { nameAnew } from "../project/naming.js";
import { units } from "../project/settings.js";
import { clientShelf } from "./clients.js";
import { measuredFigure } from "./figure.js";
import { nextSteps } from "./footer.js";
import { measuredFor } from "./wardrobe.js";

const WEARERS = [["women", "Women"], ["men", "Men"], ["children", "Children"]];

export function show(element, app) {
  const { catalogue, project, change } = app;
  const garment = catalogue.garments.find((each) => each.name === project.data.job.garment) ?? catalogue.garments[0];
  const form = el("form", { class: "card", on: { submit: (event) => event.preventDefault() } });
  const side = el("div", { class: "stack" });
  const remarks = el("ul", { class: "remarks" });
  const { style } = project.data.job;
  const ruled = new Set(garment.measurements.filter((name) => !garment.to_measure.includes(name)));
  const needed = new Set(goneBy(garment, style).filter((name) => !ruled.has(name)));
  const usual = new Set(garment.asked);
  const isUsual = ({ name }) => usual.has(name);
  const figure = measuredFigure(catalogue, isUsual);
  form.addEventListener("focusin", ({ target }) => figure.show(target.dataset.field?.replace("body.", "")));
  let fields = [];

  const checker = drafter({
    job: () => project.data.job,
    pick: (job) => bodyAndStyle({ ...job, style: style?.sleeve ? { sleeve: style.sleeve } : {} }),
    onDraft: ({ remarks: told = [] }) => {
      fields.forEach((field) => field.clear());
      const said = allRead(fields) ? "All measurements are there and usual." : "A marked entry cannot be read: its last value still holds.";
      remarks.replaceChildren(...(told.length ? told : [said]).map((words) => el("li", { text: spoken(labelled(words)) })));
    },
    onErrors: (errors) => {
      const left = sayErrors(fields, errors).map(({ message }) => el("li", { text: spoken(message) }));
      if (left.length < errors.length) left.unshift(el("li", { class: "wrong", text: "The marked entries cannot be right." }));
      remarks.replaceChildren(...left);
    },
  });
  const check = () => {
    const missing = lacking(project.data.job, catalogue);
    if (!missing.length) return checker.draft();
    remarks.replaceChildren(el("li", { text: `Still to measure: ${missing.map(spoken).join(", ").toLowerCase()}.` }));
    return undefined;
  };

  const fill = () => {
    const { body } = project.data.job;
    const wearer = choiceField({
      name: "body.wearer", label: "For", value: body.wearer ?? "women", choices: WEARERS,
      help: "Compare with the usual measurements of",
      store: (value) => { change(({ job }) => { job.body.wearer = value; }); fill(); },
    });
    const store = (name) => (text) => {
      change(({ job }) => put(job.body, name, text));
      check();
    };
    const field = (each) => measureField(each, body, { isNeeded: needed.has(each.name), isUsed: isUsual(each) }, store(each.name));
    const [first, more] = [catalogue.measurements.filter(isUsual), catalogue.measurements.filter((each) => !isUsual(each))].map((some) => some.map(field));
    const corrected = (catalogue.corrections ?? []).map(({ name, words }) => lengthField({
      name: `body.${name}`, label: spoken(words), text: body[name], units: units(), store: store(name),
    }));
    fields = [wearer, ...first, ...more, ...corrected];
    form.replaceChildren(el("h2", { text: "Measurements" }),
      el("p", {}, `${spoken(garment.title)}. ${measuredFor(garment)} `, el("a", { href: `#/${encodeURIComponent(project.id)}/garment` }, "Choose another garment")),
      el("p", { class: "help", text: `Measure close to the body, without ease: tape flat and level, not pulled tight. A bare number is in ${units() === "cm" ? "cm" : "inches"}.` }),
      el("div", { class: "fields" }, [wearer, ...first].map((each) => each.element)),
      folded("More measurements", more, "Each may be left out. Some refine the draft, the others are kept for later.", { isShut: true }),
      folded("After a try-on", corrected, "What this client's garments are made otherwise than the rules say. It is kept with the client."));
    check();
  };

  /** Take measurements over from a client or a table; of the person before, only what the garment would lack stays. */
  const take = (body, from, client = null) => {
    change((data) => { if (client) data.client = client; else delete data.client; });
    change(({ job }) => {
      const missing = lacking({ garment: garment.name, body, style }, catalogue);
      const stays = Object.entries(job.body).filter(([name]) => name === "wearer" || missing.includes(name));
      job.body = { ...Object.fromEntries(stays), ...body };
    });
    nameAnew(app, from);
    fill();
    say(`Measurements of ${from} are filled in`);
  };

  side.append(el("section", { class: "card" }, el("h2", { text: "Checked as you write" }), el("div", { class: "checked" }, remarks, figure.element)), sizePicker(catalogue, take));
  element.append(el("h1", { text: "Who is it for?" }));
  const why = project.data.job.pieces_file ? "The pieces come from a pattern file: there is nothing to measure."
    : !garment.asked.length && `${spoken(garment.title)}: there is nothing to measure.`;
  if (why) {
    element.append(el("p", { class: "lead", text: why }), nextSteps(app, "who"));
    return undefined;
  }
  element.append(el("div", { class: "two" }, form, side), nextSteps(app, "who"));
  fill();
  clientShelf(app, take).then((shelf) => side.append(shelf)).catch(() => {});
  return () => checker.end();
}

/** Fields that are seldom filled in; open where one of them is, unless they are to stay shut: then it is said how many. */
function folded(title, fields, help, { isShut = false } = {}) {
  const filled = fields.filter((field) => field.element.querySelector("input")?.value).length;
  const told = filled && isShut ? `${fields.length}, ${filled} filled in` : fields.length;
  return el("details", filled && !isShut ? { open: true } : {}, el("summary", { text: `${title} (${told})` }),
    el("p", { class: "help", text: help }), el("div", { class: "fields" }, fields.map((field) => field.element)));
}

function put(table, name, text) {
  if (text) table[name] = text;
  else delete table[name];
}

function measureField(measurement, body, { isNeeded, isUsed }, store) {
  const wearer = body.wearer ?? "women";
  const range = measurement.usual?.[wearer];
  const usual = range && `${formatSize(range[0], units())} to ${formatSize(range[1], units())}`;
  return lengthField({
    name: `body.${measurement.name}`, label: spoken(measurement.name) + (isNeeded ? "" : " (optional)"), help: measurement.help + (isUsed && !isNeeded && measurement.rule ? `; left out: ${measurement.rule}` : ""),
    text: body[measurement.name], units: units(), needed: isNeeded, store,
    placeholder: range ? bareSize((range[0] + range[1]) / 2, units()) : null,
    check: (mm) => (range && (mm < range[0] || mm > range[1]) ? `Unusual for ${wearer}: usual is ${usual}. Measure again, or leave it.` : ""),
  });
}

function sizePicker({ tables = [], usual_table: byLetters }, take) {
  const usual = units() === "in" ? byLetters : tables[0]?.name; // the first go by centimetres
  const sizes = el("div", { class: "chips" });
  const source = el("p", { class: "help" });
  const figures = el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Measurements of all sizes" });
  const origin = el("details", {}, el("summary", { text: "Measurements of all sizes" }), figures, source);
  const showTable = (name) => {
    const table = tables.find((each) => each.name === name) ?? tables[0];
    source.textContent = table.source ?? "";
    figures.replaceChildren(sizeTable(table));
    sizes.replaceChildren(...table.sizes.map((size) => el("button", { type: "button", class: "chip", on: { click: () => take({
      ...Object.fromEntries(Object.entries(size.measures).map(([key, mm]) => [key, formatField(mm, units())])),
      wearer: table.wearer ?? (/^(women|men|children)/.exec(table.name)?.[0] ?? "women"),
    }, `size ${size.name}`) } }, size.name)));
  };
  if (!tables.length) return null;
  const table = choiceField({
    name: "table", label: "Table", value: usual, choices: tables.map((each) => [each.name, spoken(each.title)]), store: showTable,
  });
  showTable(usual);
  return el("section", { class: "card" }, el("h2", { text: "Or start from a size" }), table.element, sizes, origin);
}

/** The measurements of each size, in the units that are chosen. */
function sizeTable({ sizes }) {
  const names = [...new Set(sizes.flatMap(({ measures }) => Object.keys(measures)))];
  return el("table", {}, el("thead", {}, el("tr", {}, el("th", { scope: "col", text: `in ${units() === "cm" ? "cm" : "inches"}` }), sizes.map(({ name }) => el("th", { scope: "col", class: "figure", text: name })))),
    el("tbody", {}, names.map((name) => el("tr", {}, el("th", { scope: "row", text: spoken(name) }), sizes.map(({ measures }) => el("td", { class: "figure", text: measures[name] === undefined ? "" : bareSize(measures[name], units()) }))))));
}
