/** The order of a run: a grid of colours and sizes, or an order file as it is. */

import { chooser } from "../lib/chooser.js";
import { button, el } from "../lib/dom.js";
import { choiceField, lengthField, numberField, textField, tickField } from "../lib/field.js";
import { units } from "../project/settings.js";
import { isImported, rulesOf, rulesPart } from "./ruled.js";

const RUN_SPREADS = ["face-up", "face-to-face", "folded", "tube"];
const MOST_COLOURS = 8;
const PREFERRED = [["cost", "Least cost"], ["fewest lays", "Fewest lays"], ["low lays", "Low lays, and no more of them"]];

/** What is filled in beforehand and drives a quote: examples, until they are changed or confirmed. */
const RATES = {
  minutes: { field: "operation.minutes", label: "Sewing and finishing, minutes each" },
  rate: { field: "pricing.rate", label: "Rate" },
  overhead: { field: "pricing.overhead", label: "Overhead, %" },
  markup: { field: "pricing.markup", label: "Markup, %" },
};

/** Names of those that nobody has confirmed. */
const unconfirmed = (order) => Object.keys(RATES).filter((name) => !order.confirmed?.includes(name));

/** Say that rates are one's own. */
function confirm(order, names) {
  order.confirmed = [...new Set([...(order.confirmed ?? []), ...names])];
}

/** A question to confirm the rates of an order that is planned; null if all are. `onDone` is run once they are. */
export function confirmRates(app, onDone) {
  const order = held(app);
  const left = order.way === "grid" ? unconfirmed(order) : [];
  if (!left.length) return null;
  const all = () => { edit(app, (of) => confirm(of, left)); onDone(); };
  return el("p", { class: "row no-print" }, button("These are my own: confirm all", all, { kind: "main" }));
}

/** What is filled in, kept in the project; made when it is first needed. */
function held(app) {
  return app.project.data.order ?? {
    way: "grid", text: "", sizes: app.catalogue.usual_table,
    colours: [{ name: "first colour", fabric: 0, quantity: {} }],
    tool: "rotary cutter", table: units() === "cm" ? "4 m" : "4 yd", most_garments: 3, rib: 0, minutes: 60, rate: "19.00 / h", overhead: 18, markup: 45,
  };
}

function edit(app, run) {
  const order = structuredClone(held(app));
  run(order);
  app.change((data) => { data.order = order; });
}

/** The order as the server takes it. */
export function orderOf(app) {
  const order = held(app);
  if (order.way === "file") return order.text;
  const { job } = app.project.data;
  const tableSizes = sizesOf(app, order.sizes);
  const rules = rulesOf(app);
  if (isImported(app) && !rules) throw new Error("The sizes of the pattern file are not known: see why under ‘Sizes’.");
  const quantity = Object.fromEntries(order.colours.map(({ name, quantity: of }) => [name,
    Object.fromEntries(Object.entries(of).filter(([size, count]) => count > 0 && tableSizes.includes(size)))]));
  const names = order.colours.map(({ name }) => name);
  const twice = names.find((name, at) => names.indexOf(name) < at);
  if (twice !== undefined) throw new Error(`Two colours are called ${twice}: give each its own name.`);
  if (!Object.values(quantity).some((of) => Object.keys(of).length)) throw new Error("Write how many garments to make in a colour and a size.");
  return {
    garment: job.garment, units: units(), style: job.style ?? {}, ...(rules ? { pieces_file: rules.pieces_file, grade_file: rules.grade_file } : { sizes: order.sizes }), quantity, examples: unconfirmed(order).map((name) => RATES[name].field),
    cutting: { tool: order.tool, table: order.table, most_garments: order.most_garments, ...(order.prefer ? { prefer: order.prefer } : {}) },
    fabric: order.colours.map(({ name, fabric }) => clothFor(job.fabric?.[fabric], name, order.colours.filter((other) => other.fabric === fabric).length > 1)), rib: job.rib?.[order.rib] ? [job.rib[order.rib]] : [],
    operation: [{ name: "sewing and finishing", minutes: order.minutes }],
    pricing: { rate: order.rate, overhead: order.overhead, markup: order.markup },
  };
}

const LONGEST_NAME = 60;

/** A cloth of the job, in a colour, lying as cloth of a run can; one of several colours is called by its colour as well. */
function clothFor(offer = {}, colour, isShared) {
  const { spread, plies, fold_depth: _, ...rest } = offer;
  const end = isShared || !offer.name ? [colour] : [];
  const room = LONGEST_NAME - end.join().length - 2;
  return { ...rest, name: [offer.name?.slice(0, room), ...end].filter(Boolean).join(", "), colour, spread: RUN_SPREADS.includes(spread) && spread !== "folded" ? spread : "face-up" };
}

const sizesOf = (app, table) => (isImported(app) ? rulesOf(app)?.sizes ?? [] : app.catalogue.tables.find((one) => one.name === table)?.sizes.map((size) => size.name) ?? []);

/** The form; `{element, refill}`. */
export function orderForm(app) {
  const body = el("div", { class: "stack" });
  const fill = () => body.replaceChildren(...(held(app).way === "file" ? fileFields(app) : gridFields(app, fill)), onHandField(app));
  fill();
  return { refill: fill, element: el("div", { class: "stack" },
    chooser("How the order is written", [["grid", "Colours and sizes"], ["file", "An order file"]], held(app).way, (way) => { edit(app, (order) => { order.way = way; }); fill(); }), body) };
}

/** What is asked besides the order. */
export const optionsOf = (app) => (held(app).on_hand ? { "on-hand": true } : {});

function onHandField(app) {
  return tickField({ name: "on-hand", label: "Use what is on hand", help: "By your list under ‘On hand’: what you have, and what is still to buy",
    value: held(app).on_hand, store: (value) => edit(app, (order) => { order.on_hand = value; }) }).element;
}

function fileFields(app) {
  const area = el("textarea", { id: "order-text", spellcheck: "false", value: held(app).text, on: { input: () => edit(app, (order) => { order.text = area.value; }) } });
  const open = el("input", { type: "file", id: "order-file", accept: ".toml", on: { change: async () => {
    area.value = await open.files[0].text();
    edit(app, (order) => { order.text = area.value; });
  } } });
  return [el("p", {}, el("label", { for: "order-file", text: "Open an order file: " }), open), el("label", { for: "order-text", text: "The order file for ‘ellwand run’" }), area];
}

function gridFields(app, refill) {
  const order = held(app);
  const sizes = sizesOf(app, order.sizes);
  if (isImported(app) && !sizes.length) return [rulesPart(app, refill)]; // nothing can be ordered
  const store = (name) => (value) => edit(app, (of) => { of[name] = value ?? undefined; if (name in RATES) confirm(of, [name]); });
  const tables = app.catalogue.tables.map((table) => [table.name, table.title]);
  const cloths = (app.project.data.job.fabric ?? []).map((offer, i) => [String(i), offer.name || `Cloth ${i + 1}`]);
  const ribs = [...(app.project.data.job.rib ?? []).map((offer, i) => [String(i), offer.name || `Rib ${i + 1}`]), ["-1", "None"]];
  const row = (colour, at) => el("tr", {},
    el("td", {}, el("input", { class: "colour", "aria-label": `Colour ${at + 1}`, value: colour.name, maxlength: 30, on: { change: ({ target }) => { edit(app, (of) => { of.colours[at].name = target.value.trim() || `colour ${at + 1}`; }); } } })),
    cloths.length > 1 && el("td", {}, clothOf(app, colour, at, cloths)),
    sizes.map((size) => el("td", { class: "figure" }, el("input", { type: "number", min: 0, max: 10000, step: 1, inputmode: "numeric", "aria-label": `Size ${size} of colour ${at + 1}`, value: colour.quantity[size] ?? "",
      on: { input: ({ target }) => edit(app, (of) => { of.colours[at].quantity[size] = Number(target.value) || 0; }) } }))),
    el("td", {}, order.colours.length > 1 && button("Remove", () => { edit(app, (of) => of.colours.splice(at, 1)); refill(); }, { kind: "quiet", "aria-label": `Remove colour ${at + 1}` })));
  return [
    isImported(app) ? rulesPart(app, refill)
      : el("div", { class: "fields" }, choiceField({ name: "sizes", label: "Sizes", value: order.sizes, choices: tables, store: (value) => { store("sizes")(value); refill(); } }).element),
    el("div", { class: "scroll" }, el("table", { class: "grid-table" }, el("caption", { text: "How many of each" }),
      el("thead", {}, el("tr", {}, el("th", { scope: "col", text: "Colour" }), cloths.length > 1 && el("th", { scope: "col", text: "Cloth" }), sizes.map((size) => el("th", { scope: "col", class: "figure", text: size })), el("td", {}))),
      el("tbody", {}, order.colours.map(row)))),
    el("p", { class: "row" }, button("Add a colour", () => { edit(app, (of) => of.colours.push({ name: `colour ${of.colours.length + 1}`, fabric: 0, quantity: {} })); refill(); }, { disabled: order.colours.length >= MOST_COLOURS })),
    el("div", { class: "fields" },
      choiceField({ name: "cutting.tool", label: "Cut with", value: order.tool, choices: Object.keys(app.catalogue.tool_cautions).map((tool) => [tool, tool]), store: (value) => { store("tool")(value); refill(); } }).element,
      lengthField({ name: "cutting.table", label: "Table, length", text: order.table, units: units(), asWritten: true, store: store("table") }).element,
      numberField({ name: "cutting.most_garments", label: "Most garments on a marker", value: order.most_garments, least: 1, most: 24, store: store("most_garments") }).element,
      choiceField({ name: "cutting.prefer", label: "What comes first", value: order.prefer ?? PREFERRED[0][0], choices: PREFERRED, store: store("prefer") }).element,
      choiceField({ name: "rib", label: "Rib", value: String(order.rib), choices: ribs, store: (value) => store("rib")(Number(value)) }).element,
      rateField(app, "minutes", numberField, { value: order.minutes, most: 10000, step: "any", store: store("minutes") }),
      rateField(app, "rate", textField, { help: "Such as 19.00 / h", text: order.rate, store: store("rate"), length: 30 }),
      rateField(app, "overhead", numberField, { value: order.overhead, most: 1000, step: "any", store: store("overhead") }),
      rateField(app, "markup", numberField, { value: order.markup, most: 10000, step: "any", store: store("markup") })),
    el("p", { class: "help", text: "Minutes of spreading and cutting are common guesses: an order file can give your own. These cautions are on each ticket too:" }),
    el("ul", { class: "remarks" }, (app.catalogue.tool_cautions[order.tool] ?? []).map((line) => el("li", { text: line }))),
  ];
}

/** A rate; as long as it is an example it says so, and can be confirmed as it is. */
function rateField(app, name, make, { store, ...rest }) {
  const mark = el("p", { class: "example" });
  const field = make({ name: RATES[name].field, label: RATES[name].label, ...rest, store: (value) => { store(value); show(); } });
  const show = () => {
    const isExample = unconfirmed(held(app)).includes(name);
    mark.hidden = !isExample;
    mark.replaceChildren(...(isExample ? [el("b", { text: "Example" }), " ", button("Confirm", () => { edit(app, (of) => confirm(of, [name])); show(); }, { kind: "quiet", "aria-label": `Confirm ${RATES[name].label}` })] : []));
  };
  show();
  field.element.append(mark);
  return field.element;
}

function clothOf(app, colour, at, cloths) {
  return el("select", { "aria-label": `Cloth of colour ${at + 1}`, on: { change: ({ target }) => edit(app, (of) => { of.colours[at].fabric = Number(target.value); }) } },
    cloths.map(([value, words]) => el("option", { value, selected: value === String(colour.fabric), text: words })));
}
