/** The ledger: what is on hand, how far orders are, rates by what was done, and every entry ever made. */

import { call } from "../lib/api.js";
import { dayWords } from "../lib/days.js";
import { button, el, say } from "../lib/dom.js";
import { confirmed } from "../lib/dialog.js";
import { formatAlong, formatSize } from "../lib/units.js";
import { units } from "../project/settings.js";
import { entryForm } from "./entering.js";

export async function show(element) {
  const parts = el("div", { class: "stack" });
  const form = entryForm((ledger, words) => { fill(parts, ledger, form); say(words); });
  element.append(el("h1", { text: "On hand" }),
    el("p", { class: "lead", text: "Cloth, rib and trims that you have, and how far your orders are. Every entry is dated and kept. A mistake is struck, and entered again." }),
    form.element, parts);
  fill(parts, await call("GET", "/api/ledger"), form);
}

function fill(parts, ledger, form) {
  form.know(ledger);
  const again = (next, words) => { fill(parts, next, form); say(words); };
  parts.replaceChildren(...[faults(ledger), stock(ledger), ...ledger.orders.map(order), rates(ledger), history(ledger, again), files(ledger)].filter(Boolean));
}

const figure = (text) => el("td", { class: "figure", text });
const scrolled = (label, table) => el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": label }, table);
const heads = (words, from) => el("thead", {}, el("tr", {}, words.map((word, i) => el("th", { scope: "col", class: i >= from ? "figure" : null, text: word }))));
const card = (title, ...content) => el("section", { class: "card" }, el("h2", { text: title }), content);

function faults({ faults: all }) {
  return all.length > 0 && el("section", { class: "note", role: "alert" }, el("p", { text: "Some entries do not go with the others. Two ledgers may have been brought together:" }),
    el("ul", {}, all.map(({ entry, why }) => el("li", { text: `Entry ${entry}: ${why}.` }))));
}

function stock({ items }) {
  const left = items.filter((item) => item.left > 0);
  if (!left.length) return el("p", { class: "quiet", text: "Nothing is on hand. Enter what you buy, and it is listed here." });
  return card("What there is", scrolled("What there is", el("table", {}, heads(["Item", "What", "Colour", "Lot", "Width", "Left"], 4),
    el("tbody", {}, left.map((item) => el("tr", {}, el("th", { scope: "row", text: item.item }), [item.name, item.colour, item.lot].map((text) => el("td", { text })),
      figure(item.width_mm === null ? "" : formatSize(item.width_mm, units())), figure(item.left_words)))))),
  left.length < items.length && el("p", { class: "quiet", text: `Used up: ${items.length - left.length}.` }));
}

const DONE = ["ordered", "cut", "sewn", "delivered"];

function order({ name, garment, garments, total, cloths, minutes }) {
  const row = (head, second, of) => el("tr", {}, el("th", { scope: "row", text: head }), el("td", { text: second }), DONE.map((key) => figure(String(of[key]))));
  const along = (mm) => formatAlong(mm, units());
  return card(`Order ${name}: ${garment.replaceAll("-", " ")}`,
    scrolled(`Order ${name}`, el("table", {}, heads(["Colour", "Size", "Ordered", "Cut", "Sewn", "Delivered"], 2),
      el("tbody", {}, garments.map((one) => row(one.colour, one.size, one))), el("tfoot", {}, row("All", "", total)))),
    el("ul", { class: "remarks" },
      cloths.map((one) => el("li", { text: `${one.name}: ${one.used_mm ? `used ${along(one.used_mm)}` : "none used yet"}, ${one.planned_mm === null ? "not planned" : `planned ${along(one.planned_mm)}`}` })),
      minutes.map((one) => el("li", { text: `${one.work}: ${(one.minutes / one.garments).toFixed(1)} min a garment (${one.minutes} min for ${one.garments}), ${one.planned_each === null ? "nothing planned" : `planned ${one.planned_each.toFixed(1)}`}` }))));
}

const runs = (count) => `${count} run${count === 1 ? "" : "s"}`;

function rates({ minute_rates: minutes, cloth_rates: cloths }) {
  return minutes.length + cloths.length > 0 && card("Suggested rates", el("ul", { class: "remarks" },
    minutes.map((one) => el("li", { text: `${one.garment}, ${one.work}: ${one.minutes.toFixed(1)} min a garment, from ${runs(one.runs)}${one.planned === null ? "" : `; planned ${one.planned.toFixed(1)}`}` })),
    cloths.map((one) => el("li", { text: `${one.garment}, cloth: ${one.factor.toFixed(3)} times what was planned, from ${runs(one.runs)} cut whole: a margin of ${one.margin_percent} %` }))));
}

function history({ entries }, again) {
  const strike = async ({ number, words }) => {
    if (!(await confirmed(`Strike entry ${number}?`, `${words}. It stays in the history, and no longer counts.`, "Strike"))) return;
    try {
      again(await call("POST", "/api/ledger", { kind: "struck", told: {}, corrects: number }), `Entry ${number} is struck`);
    } catch (error) {
      said.textContent = error.message;
    }
  };
  const said = el("p", { class: "said wrong", role: "alert" });
  if (!entries.length) return null;
  return el("details", { class: "card", open: true }, el("summary", { text: `History: ${entries.length} ${entries.length === 1 ? "entry" : "entries"}` }), said,
    scrolled("History", el("table", {}, heads(["Entry", "Day", "What", "Note", "Take back"], 9),
      el("tbody", {}, entries.toReversed().map((one) => el("tr", {}, el("th", { scope: "row", text: String(one.number) }), [dayWords(one.day), one.words, one.note].map((text) => el("td", { text })),
        el("td", {}, one.replaced_by === null && one.kind !== "struck" && button("Strike", () => strike(one), { kind: "quiet", "aria-label": `Strike entry ${one.number}` }))))))));
}

const TABLES = [["ledger.xlsx", "Workbook"], ["ledger-on-hand.csv", "On hand, CSV"], ["ledger-orders.csv", "Orders, CSV"], ["ledger-cloth.csv", "Cloth, CSV"], ["ledger-minutes.csv", "Minutes, CSV"], ["ledger-cloth-rates.csv", "Cloth rates, CSV"], ["ledger-history.csv", "History, CSV"]];

function files({ entries }) {
  return entries.length > 0 && el("section", { class: "quiet-part" }, el("h2", { text: "Take it with you" }),
    el("p", { class: "row" }, TABLES.map(([name, words]) => el("a", { class: "button plain", href: `/api/ledger/files/${name}?units=${units()}`, download: "" }, words))));
}
