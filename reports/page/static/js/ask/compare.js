/** Side by side: the cloths, one cloth at every width, and what would save cloth. */

import { el, spoken } from "../lib/dom.js";
import { choiceField, lengthField } from "../lib/field.js";
import { bar, curvePlot } from "../lib/plot.js";
import { formatBound, formatNeed, formatSize, INCH, percent, YARD } from "../lib/units.js";
import { units } from "../project/settings.js";
import { lookAgain, onAnswer } from "./looking.js";
import { filesLink, inWords, panel } from "./panel.js";
import { changesSince, staleNote, standing } from "./question.js";
import { tubeAsked } from "./tube.js";

export function show(element, app) {
  const fabrics = el("section", { class: "card" }, el("h2", { text: "The cloths" }), el("p", { class: "loading", text: "Reading …" }));
  const widths = widthsPanel(app);
  const saves = savesPanel(app);
  element.append(el("h1", { text: "Compare" }), fabrics,
    el("section", { class: "stack" }, el("h2", { text: "One cloth, all widths" }), widths.element),
    el("section", { class: "stack" }, el("h2", { text: "What would save cloth" }), saves.element));
  const left = new AbortController();
  const fill = () => showFabrics(fabrics, app).catch((error) => fabrics.replaceChildren(el("p", { class: "wrong", text: `${error.message}.` })));
  fill();
  onAnswer(fill, left.signal);
  return () => { left.abort(); widths.end(); saves.end(); };
}

/** The offers of the last answer, the longest bar the most. */
async function showFabrics(section, app) {
  const title = el("h2", { text: "The cloths" });
  const { answer, told: found } = await standing(app, "buy");
  if (!answer) {
    section.replaceChildren(title, el("p", {}, "Nothing has been laid yet. ", el("a", { href: `#/${encodeURIComponent(app.project.id)}/answer` }, "See what to buy"), " first."));
    return;
  }
  const { fabrics: offers, best } = found.result.plan;
  const isBest = (at) => best.some(({ kind, number }) => kind === "fabric" && number === at + 1);
  const isTied = (at) => best.some(({ kind, tied_with: others = [] }) => kind === "fabric" && others.some(({ number }) => number === at + 1));
  const note = staleNote(app, "buy", answer, await changesSince(app, "buy", answer), lookAgain);
  const most = Math.max(1, ...offers.map((offer) => offer.buy_mm ?? 0));
  section.replaceChildren(title, note ?? "", el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "The cloths" }, el("table", {},
    el("thead", {}, heads(["Cloth", "Width", "Lies", "To buy", "", "Cost", "Used"], [1, 3, 5, 6])),
    el("tbody", {}, offers.map((offer, at) => el("tr", {}, el("th", { scope: "row" }, offer.name, offers.length > 1 && isBest(at) && el("em", { text: " best" }), isTied(at) && el("em", { text: " as good" })), ...(offer.refused
      ? [el("td", { class: "wrong", colspan: 6, text: `Will not do: ${offer.refused}` })]
      : [figure(formatSize(offer.width_mm, units())), el("td", { text: offer.spread.replaceAll("-", " ") }), figure(offer.buy),
        el("td", { class: "bar-cell" }, bar(offer.buy_mm / most)), figure(money(offer.cost)), figure(percent(offer.density_percent))])))))));
}

const figure = (text, kind = "") => el("td", { class: `figure ${kind}`, text });
const money = (cost) => (typeof cost === "number" ? cost.toFixed(2) : "–");
const heads = (words, figures) => el("tr", {}, words.map((word, i) => (word ? el("th", { scope: "col", class: figures.includes(i) ? "figure" : null, text: word }) : el("td", {}))));

function widthsPanel(app) {
  const metric = units() === "cm";
  const asked = { from: metric ? "90 cm" : "36 in", to: metric ? "180 cm" : "72 in", step: metric ? "10 cm" : "2 in", ...app.project.data.answers?.widths?.options };
  const field = (name, label) => lengthField({ name: `options.${name}`, label, text: asked[name], units: units(), store: (text) => { asked[name] = text || undefined; } }).element;
  return panel(app, {
    kind: "widths", start: "Lay it at all widths", empty: "See how the length falls as the cloth gets wider. Each width is laid and checked.",
    fields: el("div", { class: "fields" }, field("from", "From"), field("to", "To"), field("step", "By"), tubeAsked(app, asked)),
    ask: () => ({ job: app.project.data.job, options: asked }),
    shown: (told) => [widthsCurve(told.result), widthsTable(told.result), inWords(told.result.words), filesLink(app)],
  });
}

/** The unit in which lengths along the cloth are drawn. */
const along = () => (units() === "cm" ? [1000, "m"] : [YARD, "yd"]);
const across = () => (units() === "cm" ? [10, "cm"] : [INCH, "in"]);

function widthsCurve({ widths, fabric }) {
  const [[long, longUnit], [wide, wideUnit]] = [along(), across()];
  const points = widths.map((cell) => [cell.width_mm / wide, cell.cloth_mm / long]);
  const lower = widths.map((cell) => [cell.width_mm / wide, cell.bound_mm / long]);
  const titles = widths.map((cell) => `${formatSize(cell.width_mm, units())} wide: ${formatNeed(cell.cloth_mm, units())}`);
  const ends = [titles[0], titles.at(-1)].join("; ");
  if (!points.length) return null;
  return el("section", { class: "card" }, el("h3", { text: fabric }),
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Curve of widths" }, curvePlot({ points, lower, titles, across: `width, ${wideUnit}`, up: `length, ${longUnit}`, label: `Length over width of cloth. ${ends}` })),
    el("p", { class: "quiet", text: "Full line: laid and checked. Broken line: proved lower limit; no layout is shorter." }));
}

function widthsTable({ widths, refused }) {
  const least = Math.min(...widths.map((cell) => cell.cloth_mm * cell.width_mm));
  return el("details", { class: "card" }, el("summary", { text: "All figures" }), el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Figures of all widths" }, el("table", {},
    el("thead", {}, heads(["Width", "Lies", "Length", "To buy", "Cost", "Used"], [2, 3, 4, 5])),
    el("tbody", {}, widths.map((cell) => el("tr", {}, el("th", { scope: "row", text: formatSize(cell.width_mm, units()) }), el("td", { text: cell.spread.replaceAll("-", " ") }),
      figure(formatNeed(cell.cloth_mm, units()), cell.cloth_mm * cell.width_mm === least ? "best" : ""), figure(cell.buy), figure(money(cell.cost)), figure(percent(cell.density_percent)))),
    refused.map((cell) => el("tr", {}, el("th", { scope: "row", text: formatSize(cell.width_mm, units()) }), el("td", { class: "wrong", colspan: 5, text: cell.reason })))))));
}

function savesPanel(app) {
  const { fabric = [] } = app.project.data.job;
  const asked = { fabric: 1, ...app.project.data.answers?.saves?.options };
  const choices = fabric.map((offer, i) => [String(i + 1), offer.name || `Cloth ${i + 1}`]);
  return panel(app, {
    kind: "saves", start: "Look for savings", empty: "Changes the style or the cloth, one thing at a time. Each change is drafted, laid and checked.",
    fields: choices.length > 1 ? el("div", { class: "fields" }, choiceField({ name: "options.fabric", label: "Cloth", value: String(asked.fabric), choices, store: (value) => { asked.fabric = Number(value); } }).element) : null,
    ask: () => ({ job: app.project.data.job, options: asked }),
    shown: (told) => [savings(told.result), filesLink(app)],
  });
}

function savings({ changes, said }) {
  const most = Math.max(1, ...changes.map((row) => row.saved_mm ?? 0));
  const sorted = [...changes.slice(0, 1), ...changes.slice(1).sort((a, b) => (b.saved_mm ?? -1e9) - (a.saved_mm ?? -1e9))];
  return el("section", { class: "card" },
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "What each change saves" }, el("table", {},
      el("thead", {}, heads(["Change", "Shorter by", "", "Length", "Buy", "Cost"], [1, 3, 4, 5])),
      el("tbody", {}, sorted.map((row) => el("tr", {}, el("th", { scope: "row", text: spoken(row.change) }), ...(row.refused
        ? [el("td", { class: "quiet", colspan: 5, text: row.refused })]
        : [figure(saved(row.saved_mm)), el("td", { class: "bar-cell" }, bar(Math.max(0, row.saved_mm) / most, "second")), figure(formatNeed(row.marker_mm, units())), figure(row.buy), figure(money(row.cost))])))))),
    el("ul", { class: "remarks" }, said.map((line) => el("li", { text: line }))));
}

const none = () => formatBound(0, units()); // no tape shows less
const saved = (mm) => (formatBound(Math.abs(mm), units()) === none() ? "–" : mm > 0 ? formatBound(mm, units()) : `${formatNeed(-mm, units())} longer`);
