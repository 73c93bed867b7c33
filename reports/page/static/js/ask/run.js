/** A run: garments by colour and size, the lays that cut them, what they cost, and the tickets for the table. */

import { call } from "../lib/api.js";
import { button, el, spoken } from "../lib/dom.js";
import { formatAlong, percent } from "../lib/units.js";
import { units } from "../project/settings.js";
import { laysOnTable } from "./lays.js";
import { confirmRates, optionsOf, orderForm, orderOf } from "./order.js";
import { filesLink, inWords, panel } from "./panel.js";

export function show(element, app) {
  const form = orderForm(app);
  const run = panel(app, {
    kind: "run", start: "Plan the run", needsJob: false,
    empty: "Find which sizes go in one marker, how many plies of each colour to spread, and what a garment costs. All of it is planned, laid and counted.",
    fields: form.element, ask: () => ({ order: orderOf(app), options: optionsOf(app) }),
    shown: ({ result, id }) => [examples(app, result, confirmed), summary(result), lays(result), tickets(result), laysOnTable(app, { result, id }), cost(result), toLedger(app), inWords(result.words), filesLink(app)],
  });
  /** Plan it again by the rates that are now one's own: its markers are laid already. */
  const confirmed = () => { form.refill(); run.start(app.project.data.answers.run.effort); };
  element.append(el("h1", { text: "A run" }), el("p", { class: "lead", text: "Cut several garments at once, by colour and size." }), run.element);
  return run.end;
}

/** The order entered in the ledger, with what was planned. */
function toLedger(app) {
  const said = el("p", { class: "said", role: "status" });
  const enter = async () => {
    const { search } = app.project.data.answers.run;
    try {
      const { entries } = await call("POST", "/api/ledger/orders", { search, name: app.project.name });
      said.replaceChildren(`Entry ${entries.at(-1).number}: ${entries.at(-1).words}. `, el("a", { href: "#/ledger" }, "On hand"));
    } catch (error) {
      said.textContent = error.message;
    }
  };
  return el("section", { class: "no-print" }, el("p", { class: "row" }, button("Enter the order in the ledger", enter)), said);
}

const figure = (text) => el("td", { class: "figure", text });
const scrolled = (label, table) => el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": label }, table);

function heads(words, from = 1) {
  return el("thead", {}, el("tr", {}, words.map((word, i) => el("th", { scope: "col", class: i >= from ? "figure" : null, text: word }))));
}

/** Costs that follow from rates nobody has confirmed are marked, before any figure is shown. */
function examples(app, { quote }, onConfirmed) {
  if (quote.confirmed !== false) return null;
  return el("section", { class: "note examples", "aria-label": "Example rates" },
    el("p", {}, el("b", { text: "Example: do not send it. " }), `Still to be confirmed: ${quote.examples.join("; ")}.`),
    confirmRates(app, onConfirmed));
}

/** A plan that was stopped, and plies that have no roll, are told of before any figure. */
function warnings({ cut_short: isStopped, lots }) {
  const said = [isStopped && "Stopped: this plan is as far as it was. It gives the order, and its markers passed the check. Plan the run again to go on: what was laid is kept.", ...lots.flatMap(shortWords)].filter(Boolean);
  return said.map((words) => el("p", { class: "note", role: "status", text: words }));
}

/** What the rolls of each cloth of a lot lack. */
function shortWords({ cloths }) {
  return Object.values(cloths).filter(({ short = [] }) => short.length).map(({ name, short, short_proved: isProved }) => {
    const each = short.map(({ lay, plies, mm }) => `lay ${lay}: ${plies} ${plies === 1 ? "ply" : "plies"}, ${formatAlong(mm, units())}`).join("; ");
    const all = formatAlong(short.reduce((sum, { mm }) => sum + mm, 0), units());
    return `The rolls of ${name} do not suffice: ${all} find no roll (${isProved ? "proved: these rolls cannot give them" : "no way was found; there may be one"}). ${spoken(each)}.`;
  });
}

function summary(result) {
  return el("div", { class: "stack" }, warnings(result), figures(result));
}

function figures({ cost, quote, garments, cutting_minutes: minutes }) {
  const each = Number(cost.run.total) / Math.max(1, cost.garments);
  const said = (amount) => `${cost.currency}${Number(amount).toFixed(2)}`;
  return el("section", { class: "card buy" }, el("div", { class: "buys" },
    [[said(each), "a garment costs"], [said(quote.total), quote.confirmed === false ? "would be quoted for all, by example rates" : "is quoted for all"], [`${garments.reduce((sum, one) => sum + one.cut, 0)}`, `garments, ${Math.round(minutes / 6) / 10} h of cutting`]]
      .map(([large, about]) => el("div", { class: "bought" }, el("p", { class: "figure-large", text: large }), el("p", { class: "about", text: about })))));
}

/** The order and what is cut of it, then the lays of each lot. */
function lays({ garments, lots, cost }) {
  const sizes = [...new Set(garments.map((one) => one.size))];
  const colours = [...new Set(garments.map((one) => one.colour))];
  const cut = (colour, size) => garments.find((one) => one.colour === colour && one.size === size);
  const words = (one) => (!one ? "–" : one.cut === one.ordered ? String(one.cut) : `${one.cut} of ${one.ordered}`);
  const order = el("table", { class: "grid-table" }, el("caption", { text: "Cut, of each colour and size" }), heads(["Colour", ...sizes]),
    el("tbody", {}, colours.map((colour) => el("tr", {}, el("th", { scope: "row", text: colour }), sizes.map((size) => figure(words(cut(colour, size))))))));
  return el("section", { class: "card" }, el("h2", { text: "Lay plan" }), scrolled("Order", order), lots.map((lot) => {
    const keys = Object.keys(lot.cloths);
    return [scrolled(`Lays of ${lot.part}`, el("table", { class: "grid-table" }, el("caption", { text: `Lays of ${lot.part}` }),
      heads(["Lay", "Garments on the marker", ...keys.map((key) => `Plies, ${key}`), "Long"], 2),
      el("tbody", {}, lot.plan.lays.map((lay, i) => el("tr", {}, el("th", { scope: "row", text: String(i + 1) }),
        el("td", { text: mixWords(lay.mix, sizes) }), keys.map((key) => figure(String(lay.plies[key] ?? 0))), figure(formatAlong(lay.marker_mm, units()))))))), lot.preferred && el("p", { class: "quiet", text: preferredWords(lot.preferred, cost.currency) })];
  }));
}

/** What comes before cost, and what that costs more. */
function preferredWords({ prefer, chosen, cheapest }, currency) {
  const [fewer, lower, dearer] = ["lays", "height", "cost"].map((key) => cheapest[key] - chosen[key]);
  const gained = prefer === "fewest lays" ? `${fewer} ${fewer === 1 ? "lay" : "lays"} fewer` : `${lower} ${lower === 1 ? "ply" : "plies"} fewer in the highest lay`;
  return `Preferred: ${prefer}. ${gained}, ${currency}${Math.abs(dearer).toFixed(2)} ${dearer > 0 ? "cheaper" : "dearer"} than the plan by cost.`;
}

const mixWords = (mix, sizes) => mix.map((count, i) => count && `${count} × ${sizes[i]}`).filter(Boolean).join(", ");

function tickets({ tickets: all }) {
  return el("section", { class: "stack" }, el("h2", { text: "Tickets" }), el("ul", { class: "tickets" }, all.map((ticket) => el("li", {},
    el("b", { text: `Ticket ${ticket.number}, ${ticket.part}` }),
    el("span", { text: Object.entries(ticket.garments).map(([size, count]) => `${count} × ${size}`).join(", ") }),
    el("span", { text: Object.entries(ticket.plies).map(([colour, plies]) => `${plies} ${plies === 1 ? "ply" : "plies"} ${colour}`).join(", ") }),
    el("span", { class: "figure", text: `${formatAlong(ticket.marker_mm, units())}, ${percent(ticket.density_percent)} used` })))));
}

function cost({ cost: { run, billed, currency, break_even: even }, buy, said = [] }) {
  const groups = [...new Set(run.lines.map((line) => line.part))];
  const sums = groups.map((part) => [part, run.lines.filter((line) => line.part === part).reduce((sum, line) => sum + Number(line.amount), 0)]);
  const sheet = el("table", { class: "sums" }, el("caption", { text: `Cost of the run${currency ? `, ${currency}` : ""}` }),
    el("tbody", {}, sums.map(([part, sum]) => el("tr", {}, el("th", { scope: "row", text: part }), figure(sum.toFixed(2))))),
    el("tfoot", {}, el("tr", {}, el("th", { scope: "row", text: even === null ? "Together; not paid for even if all billed garments are sold" : `Together; paid for once ${even} of ${billed} are sold` }), figure(run.total))));
  const list = el("table", {}, el("caption", { text: "To buy" }), heads(["What", "Quantity", "Cost"]),
    el("tbody", {}, buy.map((one) => el("tr", {}, el("th", { scope: "row", text: one.what }), figure(one.quantity), figure(one.cost ?? "–")))));
  return el("section", { class: "card" }, el("h2", { text: "Cost" }), el("div", { class: "two" }, el("div", {}, buy.length ? scrolled("To buy", list) : el("p", { text: "Nothing to buy." }), there(said)), scrolled("Cost of the run", sheet)));
}

/** What there is already. */
const there = (said) => said.length > 0 && el("ul", { class: "remarks" }, said.map((line) => el("li", { text: line })));
