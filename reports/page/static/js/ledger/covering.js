/** What on hand covers of what is to buy, asked of the ledger where one ticks so. */

import { call } from "../lib/api.js";
import { el } from "../lib/dom.js";
import { tickField } from "../lib/field.js";

/** A box to tick, and what there is of the answer of a search. */
export function onHandCard(app, search) {
  const found = el("div");
  const look = async () => {
    if (!app.project.data.on_hand) return void found.replaceChildren();
    found.replaceChildren(el("p", { class: "quiet", text: "Looking …" }));
    try {
      const { words } = await call("GET", `/api/ledger/covers/${encodeURIComponent(search)}`);
      found.replaceChildren(el("ul", { class: "remarks" }, words.map((line) => el("li", { text: line }))));
    } catch (error) {
      found.replaceChildren(el("p", { class: "wrong", role: "alert", text: error.message }));
    }
  };
  const box = tickField({ name: "on-hand", label: "Use what is on hand", help: "By your list under ‘On hand’: what you have, and what is still to buy",
    value: app.project.data.on_hand, store: (value) => { app.change((data) => { data.on_hand = value; }); look(); } });
  look();
  return el("section", { class: "card on-hand" }, box.element, found);
}
