/** The sizes of a file: which one is read, and what all of them measure. */

import { call } from "../lib/api.js";
import { chooser } from "../lib/chooser.js";
import { button, el } from "../lib/dom.js";
import { formatField } from "../lib/units.js";
import { units } from "../project/settings.js";

const ALL = "all";

/** Ask for the size, where a file has several and says none. */
export function chooseSize({ choose_size: { sizes }, pattern }, pick) {
  const said = el("p", { class: "said wrong", role: "alert" });
  const choose = (size) => async () => {
    try {
      await pick(size);
    } catch (error) {
      said.textContent = error.message;
    }
  };
  return el("section", { class: "card" }, el("h2", {}, el("bdi", { text: pattern.name })),
    el("p", { text: "This file holds several sizes over one another. Which one do you want to use? You can change it later." }),
    el("p", { class: "row" }, sizes.map((size) => button(size, choose(size), { kind: "main" }))),
    el("p", { class: "row" }, button("These are not sizes: lines on the outermost piece", choose(ALL), { kind: "quiet" })), said);
}

/** Which size is read, and all of them side by side. */
export function sizesPart({ lines: { sizes, size }, pattern }, pick) {
  if (!sizes.length || size === ALL) return null;
  const table = el("div", { class: "scroll file-sizes" });
  const compare = async () => {
    table.replaceChildren(el("p", { class: "loading", text: "Reading all sizes …" }));
    try {
      table.replaceChildren(...compared(await call("GET", `/api/patterns/${pattern.id}/sizes`), pattern));
    } catch (error) {
      table.replaceChildren(el("p", { class: "wrong", role: "alert", text: error.message }));
    }
  };
  return el("section", { class: "card file-sizes" }, el("h2", { text: "Sizes" }),
    el("p", { class: "help", text: "The size that is read; the outlines of the others are marked Z." }),
    chooser("Size", sizes.map((each) => [each, each]), size, (value) => pick(value)),
    sizes.length > 1 && el("p", { class: "row" }, button("Compare all sizes, and make grade rules", compare)), table);
}

function compared({ sizes, base, pieces, words, is_true: isTrue }, pattern) {
  const write = ([long, wide]) => `${formatField(long, units())} × ${formatField(wide, units())}`;
  return [
    el("table", {}, el("thead", {}, el("tr", {}, el("th", { scope: "col", text: "Piece" }), sizes.map((size) => el("th", { scope: "col", class: "figure", text: size })), el("th", { scope: "col", class: "figure", text: "Rules miss it by" }))),
      el("tbody", {}, pieces.map(({ name, measured, off }) => el("tr", {}, el("th", { scope: "row" }, el("bdi", { text: name })),
        sizes.map((size) => el("td", { class: "figure", text: measured[size] ? write(measured[size]) : "–" })), el("td", { class: "figure", text: off === null ? "no rules" : `${off.toFixed(1)} mm` }))))),
    el("ul", { class: "remarks" }, words.map((text) => el("li", { text }))),
    isTrue && el("p", { class: "row" }, el("a", { class: "button plain", href: `/api/patterns/${pattern.id}/grading`, download: "" }, `Grade rules from size ${base}, as a file`)),
  ];
}
