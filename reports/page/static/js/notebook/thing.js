/** The place of one thing: what is known of it, what it goes with, and what can be done with it. */

import { call } from "../lib/api.js";
import { confirmed } from "../lib/dialog.js";
import { button, el, say } from "../lib/dom.js";
import { dayWords } from "../lib/days.js";
import { clientPart } from "./client.js";
import { earlierPart } from "./copies.js";
import { goodsPart } from "./goods.js";
import { legendPart } from "./legend.js";
import { patternPart } from "./pattern.js";
import { photosPart } from "./photos.js";
import { related } from "./related.js";
import { stylePart } from "./style.js";

const TITLES = { project: "Project", client: "Client", cloth: "Cloth", rib: "Rib", trim: "Trim", stock: "On hand", "style": "Own style", pattern: "Pattern file", legend: "Legend", layout: "Laid by hand", order: "Order", photo: "Photo" };

/** Kinds of answers, the view of each, and what they say. */
const ANSWERS = [["buy", "answer", "What to buy"], ["which", "cloth", "Which of the cloths on hand will do"], ["widths", "compare", "One cloth at all widths"],
  ["saves", "compare", "What would save cloth"], ["chart", "chart", "Yardage by size and width"], ["run", "run", "The run"]];

/** What happened on the day that is told of a thing, where it was not changed. */
const SINCE = { stock: "since", order: "of", photo: "of", layout: "of" };

const PARTS = { client: clientPart, cloth: goodsPart, rib: goodsPart, trim: goodsPart, style: stylePart, project: projectPart, stock: stockPart, order: stockPart, photo: photoPart, layout: layoutPart, pattern: patternPart, legend: legendPart };

/** Fill an element with the place of a thing; `others` go with it, `again()` shows all anew. */
export async function thingPage(element, thing, others, app, again) {
  const changed = thing.changed && el("span", { text: `, ${SINCE[thing.kind] ?? "changed"} ${dayWords(thing.changed)}` });
  element.append(el("p", { class: "back" }, el("a", { href: "#/notebook" }, "All of the notebook")),
    el("h2", { class: "thing-name" }, el("bdi", { text: thing.name })),
    el("p", { class: "kind" }, el("b", { text: TITLES[thing.kind] }), thing.about && el("span", {}, ", ", el("bdi", { text: thing.about })), changed));
  const part = await PARTS[thing.kind]?.(thing, app, again, others);
  if (part) element.append(...[part].flat().filter(Boolean));
  element.append(related(others.filter(({ kind }) => kind !== "photo"))); // they are shown above
}

async function projectPart(thing, app, again) {
  return [el("p", { class: "row" }, el("a", { class: "button main", href: `#/${encodeURIComponent(thing.id)}/who` }, "Open the project"),
    el("a", { class: "button plain", href: `#/${encodeURIComponent(thing.id)}/answer` }, "What to buy")),
  await answersPart(thing.id), await photosPart("project", thing.id), await earlierPart(thing.id, app, again)];
}

/** What was asked of a project and is answered, and the answers that were kept beside; each leads to where it is shown. */
async function answersPart(id) {
  const { data } = await call("GET", `/api/projects/${encodeURIComponent(id)}`);
  const shown = ANSWERS.filter(([kind]) => data.answers?.[kind]);
  const kept = data.kept ?? [];
  if (!shown.length && !kept.length) return null;
  const link = (view, words) => el("li", {}, el("a", { href: `#/${encodeURIComponent(id)}/${view}` }, el("bdi", { text: words })));
  return el("section", { class: "card" }, el("h3", { text: "Answers" }), el("ul", { class: "lines" },
    shown.map(([, view, words]) => link(view, words)), kept.map(({ title }) => link("answer", `Kept: ${title}`))));
}

function stockPart(thing) {
  return el("p", { class: "row" }, el("a", { class: "button plain", href: "#/ledger" }, thing.kind === "order" ? "How far it is" : "What is on hand"));
}

function layoutPart(thing, app, again, others) {
  const of = others.find(({ kind }) => kind === "project");
  return of ? el("p", { class: "row" }, el("a", { class: "button plain", href: `#/${encodeURIComponent(of.id)}/answer` }, "Answers of the project"))
    : el("p", { class: "quiet", text: "No project holds it any more. It is dropped after some more searches." });
}

function photoPart(thing, app) {
  const remove = async () => {
    if (!(await confirmed("Delete this photo?", "You can only get it back from a copy or a backup.", "Delete"))) return;
    await call("DELETE", `/api/photos/${encodeURIComponent(thing.id)}`);
    say("The photo is deleted");
    location.hash = "#/notebook";
  };
  return [el("img", { class: "photo", src: `/api/photos/${encodeURIComponent(thing.id)}`, alt: thing.name }), el("p", { class: "row" }, button("Delete the photo", remove, { kind: "quiet" }))];
}
