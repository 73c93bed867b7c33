/** Pieces ticked off as they are cut, kept with the project. */

import { el, freshId } from "../lib/dom.js";
import { boxOf, factsOf, nameOf } from "./scene.js";

/** What is ticked off of a marker: `{has, set, count, watch}`. */
export function ticks(app, search, marker) {
  const held = () => app.project.data?.cut?.[search]?.[marker] ?? [];
  return {
    has: (at) => held().includes(at),
    count: () => held().length,
    set: (at, isCut) => app.change((data) => {
      const of = ((data.cut ??= {})[search] ??= {});
      of[marker] = [...held().filter((other) => other !== at), ...(isCut ? [at] : [])].sort((a, b) => a - b);
    }),
  };
}

/** A layout kept beside an answer that was kept has a search of its own: what is done goes with it. */
export function carryTicks(data, before, after) {
  for (const held of [data.cut, data.cutting?.steps]) if (held?.[before]) held[after] = structuredClone(held[before]);
}

/** Go to the view that is cut from, with a marker of what to buy (`kind` "buy") or a lay of a run ("run"). */
export function goToCut(app, kind, marker) {
  app.change((data) => { (data.cutting ??= {}).chosen = { kind, marker }; });
  app.go("cutting");
}

/** All pieces in a table, in the order in which they lie along the cloth; `{element, mark, redraw}`. */
export function tickList(top) {
  const body = el("div", { class: "scroll" });
  let boxes = [];
  const mark = () => boxes.forEach(([at, box]) => { box.checked = top.ticks.has(at); });
  const redraw = () => {
    boxes = [];
    body.replaceChildren(...groupsOf(top).map(([words, pieces]) => pieceTable(top, words, pieces, boxes)));
    mark();
  };
  redraw();
  return { element: el("details", { class: "tick-list" }, el("summary", { text: "All pieces, to tick off as they are cut" }), body), mark, redraw };
}

/** Pieces by stages, each along the cloth. */
function groupsOf(top) {
  const along = (pieces) => [...pieces].sort((a, b) => boxOf(top.layout.placements[a].outline).x - boxOf(top.layout.placements[b].outline).x);
  const { stages } = top.options.cloth ?? {};
  if (stages?.length) return stages.map(({ words, pieces }, i) => [stages.length > 1 ? `${i + 1}: ${words}` : words, along(pieces)]);
  return [["", along(top.layout.placements.keys())]];
}

function pieceTable(top, words, pieces, boxes) {
  const rows = pieces.map((at) => {
    const id = freshId("tick");
    const box = el("input", { type: "checkbox", id, on: { change: ({ target }) => top.tick(at, target.checked) } });
    boxes.push([at, box]);
    const facts = factsOf(top.layout, at, top.units);
    return el("tr", {},
      el("td", { class: "tick-cell" }, box),
      el("th", { scope: "row" }, el("label", { for: id, text: nameOf(top.layout, at) })),
      el("td", { class: "figure", text: facts[1][1] }), el("td", { class: "figure", text: facts[2][1] }),
      el("td", { class: "nowrap", text: facts[0][2] }), el("td", { text: facts[4][1] }));
  });
  return el("table", {}, el("caption", { text: words }),
    el("thead", {}, el("tr", {}, ["Cut", "Piece", "From the start", "From the lower edge", "Along × across", "Lies"].map((title, i) => el("th", { scope: "col", class: i === 2 || i === 3 ? "figure" : null, text: title })))),
    el("tbody", {}, rows));
}
