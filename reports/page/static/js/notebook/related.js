/** What a thing goes with, kind by kind, each a link to its place. */

import { el } from "../lib/dom.js";

const HEADS = { project: "Projects", client: "Made for", cloth: "Cloth", rib: "Rib", trim: "Trims", stock: "On hand", "style": "Own style", pattern: "Pattern files", layout: "Laid by hand", order: "Orders", photo: "Photos" };

export function related(others) {
  if (!others.length) return el("p", { class: "quiet", text: "Nothing else goes with it yet." });
  const kinds = [...new Set(others.map(({ kind }) => kind))];
  return el("section", { class: "card related" }, el("h3", { text: "Goes with" }), kinds.map((kind) => el("div", {},
    el("h4", { text: HEADS[kind] }), el("ul", { class: "lines" }, others.filter((one) => one.kind === kind).map((one) => el("li", {},
      el("a", { href: `#/notebook/${one.kind}/${encodeURIComponent(one.id)}` }, el("bdi", { text: one.name }), one.about && el("span", {}, el("bdi", { text: one.about })))))))));
}
