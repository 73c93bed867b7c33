/** The notebook: all that is kept, found by one search field; each thing has a place of its own, and what it goes with. */

import { call } from "../lib/api.js";
import { chooser } from "../lib/chooser.js";
import { el, freshId, say } from "../lib/dom.js";
import { copiesPart } from "./copies.js";
import { newThings } from "./begin.js";
import { thingPage } from "./thing.js";

/** What each kind is called: one, and several. */
const KINDS = [
  ["project", "Project", "Projects"], ["client", "Client", "Clients"], ["cloth", "Cloth", "Cloths"], ["rib", "Rib", "Ribs"], ["trim", "Trim", "Trims"],
  ["stock", "On hand", "On hand"], ["style", "Own style", "Own styles"], ["pattern", "Pattern file", "Patterns"], ["legend", "Legend", "Legends"], ["layout", "Laid by hand", "Laid by hand"],
  ["order", "Order", "Orders"], ["photo", "Photo", "Photos"],
];

let sought = "";
let chosen = "all";

export async function show(element, app) {
  const [kind, id] = app.path ?? [];
  const book = await call("GET", "/api/notebook");
  const byKey = new Map(book.things.map((thing) => [key(thing.kind, thing.id), thing]));
  const thing = byKey.get(key(kind, id));
  const list = listed(book.things, byKey, thing);
  const again = () => { element.replaceChildren(); return show(element, app); };
  const page = el("section", { class: "thing" });
  element.append(el("h1", { text: "Notebook" }),
    el("div", { class: `notebook-parts${thing ? " has-thing" : ""}` }, el("div", { class: "stack found" }, list), page));
  if (book.faults.length) page.append(el("p", { class: "note", role: "alert", text: book.faults.join(" ") }));
  if (thing) await thingPage(page, thing, thing.related.map(([other, one]) => byKey.get(key(other, one))), app, again);
  else page.append(...[kind && el("p", { class: "note", text: "This is not in the notebook any more." }), newThings(app), await copiesPart(app)].filter(Boolean));
}

const key = (kind, id) => `${kind}/${id}`;

/** The address of a thing. */
const placeOf = ({ kind, id }) => `#/notebook/${kind}/${encodeURIComponent(id)}`;

/** A text as it is compared: without capitals and accents. */
const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

function listed(things, byKey, current) {
  const id = freshId("find");
  const results = el("div", { class: "stack results" });
  const words = new Map(things.map((thing) => [thing, plain([thing.name, thing.about, ...thing.related.map(([kind, one]) => byKey.get(key(kind, one)).name)].join(" "))]));
  const count = el("p", { class: "quiet", role: "status" });
  const field = el("input", { id, type: "search", autocomplete: "off", value: sought, placeholder: "A name, a cloth, a client …", on: { input: () => { sought = field.value; fill(); } } });
  const fill = () => {
    const parts = plain(sought).split(/\s+/).filter(Boolean);
    const found = things.filter((thing) => (chosen === "all" || thing.kind === chosen) && parts.every((part) => words.get(thing).includes(part)));
    count.textContent = `${found.length} of ${things.length}`;
    if (sought) say(count.textContent, { rarely: true });
    results.replaceChildren(...KINDS.map(([kind, , title]) => group(title, found.filter((thing) => thing.kind === kind), current)).filter(Boolean));
    if (!found.length) results.append(el("p", { class: "empty", text: things.length ? "Nothing of that name is kept." : "Nothing is kept yet. What you make and keep is found here." }));
  };
  const there = KINDS.filter(([kind]) => things.some((thing) => thing.kind === kind));
  fill();
  return [el("div", { class: "field" }, el("label", { for: id, text: "Find" }), field),
    there.length > 1 && chooser("Kind", [["all", "All"], ...there.map(([kind, , title]) => [kind, title])], chosen, (value) => { chosen = value; fill(); }, { class: "kinds" }), count, results];
}

/** Newest first, as far as it is known when something was changed. */
function group(title, things, current) {
  if (!things.length) return null;
  const sorted = [...things].sort((a, b) => (a.changed < b.changed ? 1 : a.changed > b.changed ? -1 : a.name.localeCompare(b.name)));
  return el("section", {}, el("h2", { text: title }), el("ul", { class: "lines" }, sorted.map((thing) => line(thing, thing === current))));
}

/** A thing as a line that leads to it. */
function line(thing, isCurrent = false) {
  return el("li", {}, el("a", { href: placeOf(thing), "aria-current": isCurrent && "page" }, el("bdi", { text: thing.name }), thing.about && el("span", {}, el("bdi", { text: thing.about }))));
}
