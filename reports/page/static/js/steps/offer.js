/** One cloth or rib that could be bought, as a card of fields. */

import { MEASURED } from "../ask/tube.js";
import { el, spoken } from "../lib/dom.js";
import { choiceField, lengthField, numberField, priceField, textField, tickField } from "../lib/field.js";
import { units } from "../project/settings.js";

const length = (name, label, help = null, more = {}) => ({ make: lengthField, name, label, help, ...more });
const text = (name, label, help = null, more = {}) => ({ make: textField, name, label, help, ...more });
const number = (name, label, help, more) => ({ make: numberField, name, label, help, ...more });
const choice = (name, label, choices, help = null) => ({ make: choiceField, name, label, help, choices });
const price = (help, per = null) => ({ make: priceField, name: "price", label: "Price", help, per });
const tick = (name, label, help = null) => ({ make: tickField, name, label, help });

const NAP = [["false", "None"], ["true", "One way"], ["by garment", "One way by garment"]];
const SOLD = "The step the shop sells in";
const PRICE = "Such as 16.50; or for a yd, m, kg or lb, such as 16.50 / kg";

const FABRIC = [
  text("name", "Name", null, { placeholder: "such as rust canvas, 60 in" }),
  length("width", "Width", "Full width", { needed: true }),
  length("selvedge", "Selvedge", "On each side; no piece is cut from it. If left out, none is taken off"),
  choice("spread", "How it lies", null),
  choice("nap", "Nap or print", NAP, "One way: a nap, a pile or a print, so all pieces point the same way"),
  length("sold_by", "Sold by", SOLD, { asWritten: true }),
  price(PRICE),
];

const MORE_FABRIC = [
  choice("material", "For", [["shell", "Shell"], ["lining", "Lining"], ["interfacing", "Interfacing"]]),
  length("repeat_along", "Repeat along", "Stripes or checks to match: distance from line to line along the cloth"),
  length("repeat_across", "Repeat across", "Distance from line to line across it"),
  number("shrinkage", "Shrinkage, %", "Percent of its length, in the wash: measure a swatch", { most: 30, step: "any" }),
  number("shrinkage_across", "Shrinkage across, %", "Percent of its width", { most: 30, step: "any" }),
  choice("washed", "Washed", [["before", "Before cutting"], ["after", "After cutting: the pieces are cut larger"]]),
  choice("marking", "Marked", [["exact", "Exactly, from a print or a projector"], ["tape", "With tape and chalk"]], "By tape, what its steps take is bought too"),
  length("gap", "Gap", "Space between pieces, for the blade"),
  number("tilt", "Tilt, degrees", "How far off the grain a piece may lie", { step: "any" }),
  length("end_allowance", "End allowance", "At each end; by default 1 cm"),
  number("margin", "Margin, %", "Added for safety", { most: 100, step: "any" }),
  length("minimum", "Least sold", "The shortest length the shop cuts", { asWritten: true }),
  text("weight", "Weight", "Such as 240 g/m2 or 7 oz/yd2", { length: 20 }),
  number("plies", "Lengths in a stack", "For stacks alone", { least: 2, most: 200 }),
  tick("waste_twins", "Single pieces from folded cloth", "The twin is wasted"),
];

const FORMS = [["tube", "Tube"], ["flat", "Flat"], ["strips", "Ready strips"], ["set", "Ready set: hem and cuffs"]];
const LEAST_PART = length("least_part", "Shortest part", "Bands may be joined from parts at least this long; by default 4 in");

/** What is asked of each form of rib: first, and further down. */
const RIB = {
  tube: [[length("width", "Width", null, { needed: true }), length("sold_by", "Sold by", SOLD, { asWritten: true }), price(PRICE)],
    [LEAST_PART, length("end_allowance", "End allowance"), tick("closed", "Leave closed", "A band as long as the tube's girth needs no seam"), text("weight", "Weight", "Such as 300 g/m2")]],
  flat: [[length("width", "Width", null, { needed: true }), length("selvedge", "Selvedge"), length("sold_by", "Sold by", SOLD, { asWritten: true }), price(PRICE)],
    [LEAST_PART, length("end_allowance", "End allowance"), text("weight", "Weight", "Such as 300 g/m2")]],
  strips: [[length("width", "Length of a strip", null, { needed: true }), length("depth", "Depth", null, { needed: true }), price("For a strip", "strip")], [LEAST_PART]],
  set: [[length("width", "Hem band, length", null, { needed: true }), length("depth", "Its depth", null, { needed: true }), length("cuff", "Cuff, length"), price("For a set", "set")], []],
};

/**
 * A card for one offer: `{element, fields}`. `store(name, value)` keeps a value; `reshape(edit)` changes the offer so
 * that other fields are asked for; `currency()` is that of the other prices.
 */
export function offerCard({ kind, at, offer, catalogue, store, tools, reshape, currency }) {
  const [usual, more] = kind === "fabric" ? [FABRIC, MORE_FABRIC] : RIB[offer.form ?? "tube"];
  const make = (plan) => built(plan, { kind, at, offer, catalogue, store, reshape, currency });
  const asked = (plan) => (plan.name === "width" && isTube(kind, offer) ? tubeWidth({ kind, at, offer, store, reshape }) : [make(plan)]);
  const form = kind === "rib" && choiceField({ name: `rib.${at}.form`, label: "Form", value: offer.form ?? "tube", choices: FORMS, store: (value) => reshape((rib) => reform(rib, value)) });
  const name = kind === "rib" && make(text("name", "Name", null, { placeholder: "such as charcoal rib" }));
  const first = [name, form, ...usual.flatMap(asked)].filter(Boolean);
  const rest = more.map(make);
  const filled = more.some((plan) => offer[plan.name] !== undefined && plan.name !== "material");
  const title = offer.name || `${kind === "fabric" ? "Cloth" : "Rib"} ${at + 1}`;
  const element = el("fieldset", { class: "card offer" },
    el("legend", { text: title }),
    first.map((field) => field.element),
    rest.length > 0 && el("details", { open: filled }, el("summary", { text: "More" }), rest.map((field) => field.element)),
    el("p", { class: "row" }, tools));
  return { element, fields: [...first, ...rest] };
}

const isTube = (kind, offer) => (kind === "fabric" ? offer.spread === "tube" : (offer.form ?? "tube") === "tube");

/** Of a tube's two widths, which was measured, and how wide it is so. */
function tubeWidth({ kind, at, offer, store, reshape }) {
  const key = ["lay_flat", "opened"].find((name) => name in offer) ?? "width";
  const measure = (way) => reshape((tube) => {
    const text = tube[key];
    delete tube[key];
    if (text !== undefined) tube[way || "width"] = text;
    else if (way) tube[way] = "";
  });
  return [
    choiceField({ name: `${kind}.${at}.measured`, label: "Width measured", help: "Cut open, it is twice as wide as it lies flat", value: key === "width" ? "" : key, choices: MEASURED, store: measure }),
    lengthField({ name: `${kind}.${at}.${key}`, label: "Width", needed: true, units: units(), text: offer[key], store: (told) => store(key, told) }),
  ];
}

/** The width of what is a tube no longer: it is known if it was measured cut open. */
function cutOpen(offer) {
  if (offer.opened !== undefined) offer.width = offer.opened;
  for (const name of ["lay_flat", "opened"]) delete offer[name];
}

function reform(rib, form) {
  cutOpen(rib);
  const isCounted = form === "strips" || form === "set";
  rib.form = form;
  if (isCounted) rib.sold_by = form === "set" ? "set" : "strip";
  else rib.sold_by = units() === "cm" ? "0.1 m" : "1/8 yd";
  if (isCounted) rib.depth ??= units() === "cm" ? "18 cm" : "7 in";
  else for (const name of ["depth", "cuff"]) delete rib[name];
  if (form !== "tube") delete rib.closed;
  if (isCounted) for (const name of ["selvedge", "end_allowance", "weight"]) delete rib[name];
  delete rib.price; // it was for another measure
}

function built({ make, ...plan }, { kind, at, offer, catalogue, store, reshape, currency }) {
  const value = offer[plan.name];
  const common = { ...plan, name: `${kind}.${at}.${plan.name}`, units: units(), text: value, value, store: (told) => store(plan.name, told) };
  if (plan.name === "spread") {
    common.choices = catalogue.spreads.map(({ name, words }) => [name, spoken(words)]);
    common.value = value ?? "folded";
    common.store = (told) => ((told === "tube") === isTube(kind, offer) ? store("spread", told) : reshape((cloth) => {
      cutOpen(cloth);
      cloth.spread = told;
    }));
  }
  if (plan.name === "price") {
    common.per ??= units() === "cm" ? "m" : "yd";
    common.currency = currency;
  }
  if (plan.name === "nap") {
    common.value = String(value ?? false);
    common.store = (told) => store("nap", told === "by garment" ? told : told === "true");
  }
  return make(common);
}
