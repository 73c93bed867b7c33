/** An answer: yards to buy in large type, what it costs, the drawing, and how far from the best it can be. */

import { button, el, say, spoken, svg } from "../lib/dom.js";
import { formatBound, formatNeed, formatSize, formatTime, percent } from "../lib/units.js";
import { units } from "../project/settings.js";
import { drawMarker } from "../table/marker.js";
import { goToCut } from "../table/ticks.js";

/** The whole answer; `told` is the search as it ended, `asked` what was asked; `onKept` hears of a layout made by hand. */
export function shownResult(app, asked, told, onKept) {
  const { plan, best_words: bestWords = [], markers = [] } = told.result;
  const offers = { fabric: plan.fabrics, rib: plan.ribs };
  const best = plan.best.map(({ kind, number }) => offers[kind][number - 1]);
  const chosen = best.filter((offer) => plan.fabrics.includes(offer));
  const rib = best.find((offer) => plan.ribs.includes(offer));
  // An answer kept since before ties were told has none.
  const tied = plan.best.flatMap(({ kind, tied_with: others = [] }) => others.map(({ number }) => offers[kind][number - 1]));
  const drawn = el("section", { class: "card drawn" });
  const pick = (fabric) => drawFabric(drawn, { app, asked, told, fabric, at: plan.fabrics.indexOf(fabric), markers, onKept });
  const several = plan.fabrics.length > 1;
  // By "order" none was found to be better: it is the first of those that were not compared.
  const unweighed = plan.best.filter(({ by }) => by === "order").map(({ kind, number }) => offers[kind][number - 1]);
  const mark = (offer) => best.includes(offer) && el("em", { text: unweighed.includes(offer) ? "first, not compared" : "best" });
  if (chosen[0]) pick(chosen[0]);
  return el("div", { class: "stack result" },
    el("section", { class: "card buy" },
      el("div", { class: "buys" }, chosen.map((fabric) => bought(fabric, fabric.part)), rib && bought(rib, "rib")),
      total([...chosen, rib].filter(Boolean)),
      el("p", { class: "row no-print" }, keepButton(app, asked, chosen, rib), el("a", { class: "button plain", href: `#/${encodeURIComponent(app.project.id)}/downloads` }, "Files"),
        button("Print", () => print()))),
    several && comparison(plan.fabrics, chosen, tied, mark, pick),
    drawn,
    ribs(plan.ribs, tied, mark),
    shopping(plan.shopping),
    remarks(plan, bestWords, told, app.catalogue));
}

/** A sign stands before the amount, a code after it. */
function money({ cost, currency = "" }) {
  if (typeof cost !== "number") return "";
  const amount = cost.toFixed(2);
  return /^[a-z]+$/i.test(currency) ? `${amount} ${currency}` : `${currency}${amount}`;
}

function bought(offer, part) {
  return el("div", { class: "bought" },
    el("p", { class: "part", text: spoken(part === "shell" ? "cloth" : part) }),
    el("p", { class: "figure-large", text: offer.buy }),
    el("p", { class: "about" }, `of ${offer.name}`, money(offer) && el("b", { text: ` · ${money(offer)}` })));
}

function total(offers) {
  const priced = offers.filter((offer) => typeof offer.cost === "number");
  if (priced.length < 2 || new Set(priced.map((offer) => offer.currency ?? "")).size > 1) return null;
  return el("p", { class: "total" }, "Together ", el("b", { text: money({ ...priced[0], cost: priced.reduce((sum, { cost }) => sum + cost, 0) }) }));
}

/** Everything to buy; of an answer kept since before there was a list, nothing. */
function shopping(list) {
  if (!list) return null;
  const isPriced = list.lines.some(({ price }) => price);
  const priced = (...cells) => (isPriced ? cells : []);
  const cells = ({ name, buy, usual_length: usual, sold_by: by, price, cost, currency, where }) => [
    name, usual ? buy : `${buy} (made to order)`, by, ...priced(price ?? (by ? "no price given" : ""), money({ cost, currency })), where.join(", ")];
  return el("section", { class: "card shopping" },
    el("h2", { text: list.garments > 1 ? `Shopping list for ${list.garments} garments` : "Shopping list" }),
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Everything to buy" }, el("table", {},
      el("thead", {}, el("tr", {}, ["What", "Buy", "Sold by", ...priced("Price", "Cost"), "Used at"].map((text) => el("th", { scope: "col", text })))),
      el("tbody", {}, list.lines.map((line) => el("tr", {}, cells(line).map((text, at) => el(at ? "td" : "th", { scope: at ? null : "row", text }))))))),
    !isPriced && el("p", { class: "help", text: "No prices are given." }),
    !list.trims_known && el("p", { class: "help", text: "Trims of imported pieces are not worked out: add them yourself." }));
}

function keepButton({ project, change }, asked, chosen, rib) {
  const isKept = (project.data.kept ?? []).some((one) => one.search === asked.search);
  const keep = button(isKept ? "Kept" : "Keep this answer", () => {
    const title = [...chosen, rib].filter(Boolean).map((offer) => `${offer.buy} of ${offer.name}`).join(", ");
    change((data) => { (data.kept ??= []).push({ ...asked, title }); });
    keep.disabled = true;
    keep.textContent = "Kept";
    say("The answer is kept");
  }, { kind: "main", disabled: isKept });
  return keep;
}

function comparison(fabrics, chosen, tied, mark, pick) {
  const radios = fabrics.map((fabric) => {
    const isChosen = chosen[0] === fabric;
    return el("label", { class: fabric.refused ? "refused" : null },
      el("input", { type: "radio", name: "shown", checked: isChosen, disabled: Boolean(fabric.refused), on: { change: () => pick(fabric) } }),
      el("span", {},
        el("b", { text: fabric.name }),
        mark(fabric),
        tied.includes(fabric) && el("em", { text: "as good" }),
        fabric.refused
          ? el("small", { text: `Will not do: ${fabric.refused}` })
          : [el("span", { class: "figure", text: [fabric.buy, money(fabric)].filter(Boolean).join(" · ") }),
            el("small", { text: `${formatSize(fabric.width_mm, units())} wide, ${percent(fabric.density_percent)} used` })]));
  });
  return el("fieldset", { class: "choices no-print" }, el("legend", { text: "Compared: choose one to see it laid" }), radios);
}

function drawFabric(frame, { app, asked, told, fabric, at, markers, onKept }) {
  const layout = markers.find((marker) => marker.fabric === at) ?? markers[at];
  const drawing = el("div", { class: "marker-frame", on: { kept: ({ detail }) => onKept(detail) } });
  frame.replaceChildren(
    el("h2", { text: `${fabric.name}, ${layout?.cloth?.words ?? fabric.spread.replaceAll("-", " ")}` }),
    drawing,
    layout ? el("p", { class: "row no-print" }, button("Cut it step by step", () => goToCut(app, "buy", markers.indexOf(layout)))) : "",
    el("div", { class: "two" },
      el("div", {}, el("h3", { text: "How good this is" }), proof(fabric, layout?.said)),
      el("div", {}, el("h3", { text: "From the layout to the shop" }), additions(fabric))));
  if (layout) {
    drawMarker(drawing, layout, { units: units(), app, search: told.id ?? asked.search, marker: markers.indexOf(layout), fabric, cloth: layout.cloth, isLive: false });
  }
}

function proof(fabric, said) {
  const { less_needs_mm: less, proved } = fabric.proof;
  const bound = proved ? fabric.marker_mm : fabric.proof.bound_mm;
  return [
    gauge(Math.min(1, bound / fabric.marker_mm)),
    el("p", { class: "ends" }, el("span", { text: `proved: ${formatBound(bound, units())} at least` }), el("span", { text: `laid: ${formatNeed(fabric.marker_mm, units())}` })),
    el("p", {}, el("b", { text: `${percent(fabric.density_percent)} of the cloth becomes pieces. ` }), said.proof),
    less !== null && el("p", { class: "quiet", text: `To buy less, the layout would have to be ${formatBound(less, units())} or shorter.` }),
    said.asked && el("p", { text: said.asked }),
    said.pattern && el("p", { text: said.pattern }),
    said.other_ways.length > 0 && el("details", {}, el("summary", { text: "Other ways to lay it" }), el("ul", {}, said.other_ways.map((line) => el("li", { text: line })))),
  ].filter(Boolean);
}

/** How much of the layout's length is proved to be needed. */
function gauge(share) {
  return svg("svg", { class: "gauge", role: "img", "aria-label": `${percent(share)} of this length is proved to be needed`, viewBox: "0 0 100 10", preserveAspectRatio: "none" },
    svg("rect", { class: "all", width: 100, height: 10 }), svg("rect", { class: "needed", width: (100 * share).toFixed(1), height: 10 }));
}

function additions(fabric) {
  // An answer kept since before lines were written has none.
  const lines = fabric.lines ?? fabric.additions.map(({ what, mm }) => ({ what, shown: formatNeed(mm, units()) }));
  return el("table", { class: "sums" },
    el("tbody", {}, lines.map(({ what, shown }) => el("tr", {}, el("th", { scope: "row", text: spoken(what) }), el("td", { class: "figure", text: shown })))),
    el("tfoot", {}, el("tr", {}, el("th", { scope: "row", text: "To buy" }), el("td", { class: "figure", text: fabric.buy }))));
}

function ribs(offers, tied, mark) {
  if (!offers.length) return null;
  return el("section", { class: "card" }, el("h2", { text: "Rib" }), el("ul", { class: "remarks" }, offers.map((rib) =>
    el("li", { class: rib.refused ? "wrong" : null }, el("b", { text: rib.name }),
      rib.refused ? ` will not do: ${rib.refused}` : `: ${[rib.buy, money(rib), rib.joins ? `${rib.joins} ${rib.joins === 1 ? "join" : "joins"}` : "no joins"].filter(Boolean).join(", ")}`,
      offers.length > 1 && mark(rib),
      tied.includes(rib) && el("em", { text: "as good" })))));
}

function remarks(plan, bestWords, told, { cautions = [] }) {
  return el("section", { class: "card" }, el("h2", { text: "Before you cut" }),
    el("ul", { class: "remarks" }, [...bestWords, ...(plan.remarks ?? []), ...cautions].map((line) => el("li", { text: spoken(line) }))),
    el("p", { class: "quiet", text: `Checked by separate code that shares nothing with the search. Searched for ${formatTime(told.seconds)}, seed ${plan.seed}.` }));
}
