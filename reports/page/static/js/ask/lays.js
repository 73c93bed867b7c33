/** The lays of a run, each opened on the table as its plies are cut: seen, changed by hand, kept, printed. */

import { call } from "../lib/api.js";
import { button, el, freshId, say, spoken } from "../lib/dom.js";
import { units } from "../project/settings.js";
import { SHADES } from "../table/layout.js";
import { drawMarker } from "../table/marker.js";
import { carryTicks, goToCut } from "../table/ticks.js";

/** A card with a choice of the lays of a run, `told` being its search; nothing is fetched before one is opened. */
export function laysOnTable(app, told) {
  const { tickets } = told.result;
  if (!tickets.length) return null;
  const id = freshId("lay");
  const frame = el("div", { class: "stack" });
  const said = el("p", { class: "wrong", role: "alert" });
  const choice = el("select", { id }, tickets.map((ticket, at) => el("option", { value: at, text: ticketWords(ticket) })));
  let search = told.id;
  const open = async () => {
    said.textContent = "";
    const at = Number(choice.value);
    try {
      const layout = await call("GET", `/api/searches/${encodeURIComponent(search)}/table/${at}`);
      if (Number(choice.value) === at) show(at, layout);
    } catch (error) {
      if (frame.querySelector(".loading")) frame.replaceChildren();
      said.textContent = error.message;
    }
  };
  const show = (at, layout) => {
    const drawing = el("div", { class: "marker-frame", on: { kept: ({ detail }) => { search = keepAnswer(app, search, detail.id); open(); } } });
    frame.replaceChildren(el("h3", { text: spoken(layout.lay.title) }), key(layout.sizes) ?? "",
      layout.by_hand ? el("p", { class: "note", text: layout.by_hand }) : "", drawing, links(app, search, at, layout));
    drawMarker(drawing, layout, { units: units(), app, search, marker: at, cloth: layout.cloth, isLive: false });
    say(`Lay ${layout.lay.ticket} is on the table`);
  };
  choice.addEventListener("change", () => {
    if (!frame.childElementCount) return;
    frame.replaceChildren(el("p", { class: "loading", text: "Opening …" }));
    open();
  });
  return el("section", { class: "card drawn lays-on-table" }, el("h2", { text: "A lay on the table" }),
    el("p", { class: "row no-print" }, el("label", { for: id, text: "Lay" }), choice, button("Open on the table", open, { kind: "main" })), said, frame);
}

const ticketWords = ({ number, part, garments, plies }) =>
  `${number}: ${part}, ${Object.entries(garments).map(([size, count]) => `${count} × ${size}`).join(", ")}; ${Object.entries(plies).map(([colour, count]) => `${count} ${count === 1 ? "ply" : "plies"} ${colour}`).join(", ")}`;

/** A layout kept beside an answer that was kept has a search of its own: it is the project's from then on. */
function keepAnswer(app, before, after) {
  if (after !== before) app.change((data) => {
    data.answers.run = { ...data.answers.run, search: after };
    carryTicks(data, before, after);
  });
  return after;
}

/** Which shade is which size; the name of each piece says its size as well. */
function key(sizes) {
  const all = [...new Set(sizes)];
  if (all.length < 2) return null;
  return el("p", { class: "size-key" }, "Sizes: ", all.map((size, i) => el("span", { class: `size-${i % SHADES}`, text: size })));
}

function links(app, search, at, { lay, by_hand: byHand }) {
  const file = (name, words) => el("a", { class: "button plain", download: name, href: `/api/searches/${encodeURIComponent(search)}/files/${encodeURIComponent(name)}` }, words);
  const stem = `lay-${lay.ticket}${byHand ? "-by-hand" : ""}`;
  return el("p", { class: "row no-print" },
    button("Cut it step by step", () => goToCut(app, "run", at)),
    file(`${stem}-full-size.pdf`, "Full size, to print"), file(`${stem}.dxf`, "Outlines (DXF)"), file(`${stem}.json`, "The lay’s file"), file(`${stem}-guide.txt`, "By tape and chalk"));
}
