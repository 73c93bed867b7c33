/** The options of a style in groups, of which those are in sight that change something. */

import { el } from "../lib/dom.js";

/** Groups that are open at first. */
const OPEN = 3;

/**
 * `fields` are those of the garment's options; `style()` is what is chosen. `showRelevant(idle)` hides options that
 * change nothing, but for those that were chosen themselves.
 */
export function styleGroups({ garment, fields, titles, style }) {
  const all = garment.options.map(({ name, group }, i) => ({ name, group, field: fields[i] }));
  const shown = titles.map(({ name, title }) => ({ title, own: all.filter(({ group }) => group === name) })).filter(({ own }) => own.length)
    .map(({ title, own }, i) => {
      const words = el("summary");
      const element = el("details", { class: "group", open: i < OPEN }, words, el("div", { class: "fields" }, own.map(({ field }) => field.element)));
      return { title, own, words, element };
    });
  const showRelevant = (idle) => {
    const chosen = style();
    for (const { title, own, words, element } of shown) {
      for (const { name, field } of own) field.element.hidden = idle.includes(name) && chosen[name] === undefined;
      const there = own.filter(({ field }) => !field.element.hidden);
      const set = there.filter(({ name }) => chosen[name] !== undefined).length;
      words.textContent = set ? `${title} (${there.length}, ${set} chosen)` : `${title} (${there.length})`;
      element.hidden = !there.length;
    }
  };
  showRelevant([]);
  return { element: el("div", { class: "groups" }, shown.map(({ element }) => element)), showRelevant };
}
