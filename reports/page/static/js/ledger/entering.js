/** The form by which an entry is made: its fields follow its kind. */

import { call } from "../lib/api.js";
import { chooser } from "../lib/chooser.js";
import { el } from "../lib/dom.js";
import { choiceField, lengthField, numberField, textField } from "../lib/field.js";
import { units } from "../project/settings.js";

const KINDS = [["bought", "Bought"], ["used", "Used"], ["remnant", "Remnant"], ["cut", "Cut"], ["sewn", "Sewn"], ["delivered", "Delivered"], ["minutes", "Minutes"]];

/** `done(ledger, words)` is told of each entry; `know(ledger)` tells the form what there is to choose from. */
export function entryForm(done) {
  let kind = "bought";
  let known = { items: [], orders: [] };
  let told = {};
  let day = "";
  const fields = el("div", { class: "fields" });
  const said = el("p", { class: "said", role: "alert" });
  const enter = async (event) => {
    event.preventDefault();
    said.textContent = "";
    said.classList.remove("wrong");
    const body = { kind, told: whole(told) };
    if (day) body.day = day;
    try {
      const ledger = await call("POST", "/api/ledger", body);
      const { number, words } = ledger.entries.at(-1);
      told = {};
      done(ledger, `Entry ${number}: ${words}`);
      said.textContent = `Entered: ${words}.`;
      draw();
    } catch (error) {
      said.classList.add("wrong");
      said.textContent = error.message;
    }
  };
  const draw = () => {
    const wanted = FIELDS[kind]({ known, told, redraw: draw });
    for (const each of wanted) markNeeded(each);
    fields.replaceChildren(...wanted.map((each) => each.element ?? each), dayField().element, put("note", "Note", {}, told).element);
  };
  const dayField = () => {
    const field = textField({ name: "day", label: "Day", help: "By default today", text: day, length: 10, store: (value) => { day = value; } });
    field.control.type = "date";
    return field;
  };
  const pick = (value) => { kind = value; told = {}; said.textContent = ""; draw(); };
  const element = el("form", { class: "card", on: { submit: enter } }, el("h2", { text: "Make an entry" }),
    chooser("What happened", KINDS, kind, pick), fields,
    el("p", { class: "row" }, el("button", { class: "button main", type: "submit" }, "Enter")), said);
  return { element, know: (ledger) => { known = ledger; draw(); } };
}

/** What must be filled in says so beforehand. */
function markNeeded({ element, control }) {
  if (control?.required) element.classList.add("needed");
}

const must = (field) => { field.control.required = true; return field; };

/** What is told, without what was left empty, or is only for the form. */
function whole({ counts, ...told }) {
  const kept = Object.fromEntries(Object.entries(told).filter(([, value]) => value !== "" && value !== null && value !== undefined));
  return counts ? { ...kept, garments: Object.fromEntries(Object.entries(counts).filter(([, number]) => number > 0)) } : kept;
}

const put = (key, label, more, told) => textField({ name: key, label, text: told[key], store: (value) => { told[key] = value; }, ...more });
const length = (key, label, more, told) => lengthField({ name: key, label, units: units(), text: told[key], store: (value) => { told[key] = value; }, ...more });
const along = (key, label, more, told) => length(key, label, { asWritten: true, help: units() === "cm" ? "Such as 2.5 m" : "Such as 2 1/2 yd", ...more }, told);

const WHATS = [["cloth", "cloth"], ["rib", "rib"], ["trim", "a trim"]];

function bought({ told, redraw }) {
  told.what ??= "cloth";
  const kind = choiceField({ name: "what", label: "What it is", value: told.what, choices: WHATS, store: (value) => { told.what = value; redraw(); } });
  const amount = told.what === "cloth" ? along("amount", "Length", { needed: true }, told) : put("amount", "Amount", { needed: true, help: "A number, or a length with its unit" }, told);
  return [kind, put("name", "Name", { needed: true, help: "As the job or the order calls it" }, told), amount,
    ...(told.what === "trim" ? [] : [length("width", "Full width", { needed: told.what === "cloth" }, told)]),
    put("colour", "Colour", {}, told), put("lot", "Shade lot", {}, told)];
}

/** Of some things on hand one is chosen; without any, it is said. */
function items(key, label, all, told, nothing = null, chosen = () => {}) {
  const choices = [...(nothing ? [["", nothing]] : []), ...all.map((item) => [item.item, `${item.item}: ${item.name}, ${item.left_words} left`])];
  if (!choices.length) return el("p", { class: "quiet", text: "Nothing is on hand yet." });
  told[key] ??= choices[0][0];
  return choiceField({ name: key, label, value: told[key], choices, store: (value) => { told[key] = value; chosen(); } });
}

function orders(known, told, redraw, nothing = null) {
  const choices = [...(nothing ? [["", nothing]] : []), ...known.orders.map(({ name }) => [name, name])];
  if (!choices.length) return el("p", { class: "quiet", text: "No order is entered yet: plan a run, and enter its order there." });
  told.order ??= choices[0][0];
  return choiceField({ name: "order", label: "Order", value: told.order, choices, store: (value) => { told.order = value; redraw(); } });
}

const onHand = ({ items: all }) => all.filter((item) => item.left > 0);

function used({ known, told, redraw }) {
  return [items("item", "Of what", onHand(known), told), put("amount", "Amount", { needed: true, help: "A length with its unit, a number, or all" }, told),
    orders(known, told, redraw, "no order")];
}

function remnant({ known, told, redraw }) {
  const cloths = onHand(known).filter(({ kind }) => kind === "roll" || kind === "remnant");
  const chosen = items("of", "Cut from", cloths, told, "found on the shelf", redraw);
  const needed = !told.of; // cut from something here it is what that is
  return [chosen, put("name", "Name", { needed, help: "As the job or the order calls it" }, told),
    along("length", "Length", { needed: true }, told), length("width", "Full width", { needed }, told), put("colour", "Colour", {}, told), put("lot", "Shade lot", {}, told)];
}

function counts({ known, told, redraw }) {
  const chosen = orders(known, told, redraw);
  const order = known.orders.find(({ name }) => name === told.order);
  if (!order) return [chosen];
  const colours = [...new Set(order.garments.map(({ colour }) => colour))];
  if (!colours.includes(told.colour)) told.colour = colours[0];
  told.counts ??= {};
  const sizes = order.garments.filter(({ colour }) => colour === told.colour).map(({ size }) => size);
  return [chosen, choiceField({ name: "colour", label: "Colour", value: told.colour, choices: colours.map((one) => [one, one]), store: (value) => { told.colour = value; told.counts = {}; redraw(); } }),
    ...sizes.map((size) => numberField({ name: `garments.${size}`, label: `Size ${size}`, value: told.counts[size], store: (value) => { told.counts[size] = value ?? 0; } }))];
}

function minutes({ known, told, redraw }) {
  const chosen = orders(known, told, redraw);
  const order = known.orders.find(({ name }) => name === told.order);
  if (!order) return [chosen];
  if (!order.works.includes(told.work)) [told.work] = order.works;
  return [chosen, choiceField({ name: "work", label: "Work", value: told.work, choices: order.works.map((one) => [one, one]), store: (value) => { told.work = value; } }),
    must(numberField({ name: "minutes", label: "Minutes", value: told.minutes, step: "any", store: (value) => { told.minutes = value; } })),
    must(numberField({ name: "garments", label: "For how many garments", value: told.garments, least: 1, store: (value) => { told.garments = value; } }))];
}

const FIELDS = { bought, used, remnant, cut: counts, sewn: counts, delivered: counts, minutes };
