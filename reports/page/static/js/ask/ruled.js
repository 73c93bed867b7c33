/** The sizes of a run of imported pieces: those of their pattern file, by grade rules that are made of its drawn sizes. */

import { call } from "../lib/api.js";
import { button, el } from "../lib/dom.js";

export const isImported = (app) => app.project.data.job.garment === "imported";

/** The grade rules of the project's pieces, as they were made; none if the pieces are others since. */
export function rulesOf(app) {
  const { job, rules } = app.project.data;
  return isImported(app) && rules?.pieces_file === job.pieces_file ? rules : null;
}

const tried = new Map(); // why no rules can be made, by the pieces: asked once, and again by hand

/** What is said of the sizes; where no rules are made yet they are, and `refill()` is run once they are. */
export function rulesPart(app, refill) {
  const rules = rulesOf(app);
  const { pieces_file: pieces } = app.project.data.job;
  const again = button(rules ? "Make the grade rules again" : "Try again", () => { tried.delete(pieces); make(app, refill, part); }, { kind: "quiet" });
  const part = el("section", { "aria-label": "Sizes" });
  if (rules) {
    part.append(el("p", {}, "Sizes of the pattern file: ", el("b", { text: rules.sizes.join(", ") }), `. The pieces have size ${rules.base}; the others follow by grade rules made of the drawn sizes.`),
      el("ul", { class: "remarks" }, rules.words.map((text) => el("li", { text }))), el("p", { class: "row" }, again));
  } else if (tried.has(pieces)) {
    part.append(el("p", { class: "note", role: "alert" }, `No run can be planned of this pattern file: ${tried.get(pieces)}. An order file for ‘ellwand run’ can name grade rules of your own.`), el("p", { class: "row" }, again));
  } else make(app, refill, part);
  return part;
}

async function make(app, refill, part) {
  const { pieces_file: pieces } = app.project.data.job;
  part.replaceChildren(el("p", { class: "loading", text: "Reading all sizes of the pattern file …" }));
  try {
    const { id } = await call("GET", `/api/patterns?${new URLSearchParams({ pieces_file: pieces })}`);
    const rules = await call("POST", `/api/patterns/${id}/rules`);
    app.change((data) => { data.rules = rules; });
  } catch (error) {
    tried.set(pieces, error.message);
  }
  if (app.project.data.job.pieces_file === pieces) refill();
}
