/** The files of every answer, made when they are asked for. */

import { call } from "../lib/api.js";
import { el } from "../lib/dom.js";
import { lookAgain, onAnswer } from "./looking.js";
import { changesSince, staleNote, standing } from "./question.js";

const KINDS = [["buy", "What to buy"], ["widths", "All widths"], ["saves", "What saves cloth"], ["chart", "Chart of sizes"], ["run", "The run"]];

export async function show(element, app) {
  element.append(el("h1", { text: "Files" }), el("p", { class: "lead", text: "Print them, send them, or open them in other programs. Each file is made when you ask for it; full-size prints take a few seconds." }));
  const list = el("div", { class: "stack" });
  element.append(list);
  const left = new AbortController();
  const fill = async () => {
    const sections = await Promise.all(KINDS.map(([kind, title]) => section(app, kind, title)));
    if (left.signal.aborted) return;
    if (sections.some(Boolean)) list.replaceChildren(...sections.filter(Boolean));
    else list.replaceChildren(el("p", { class: "empty" }, "There are no answers yet, so there are no files. ", el("a", { href: `#/${encodeURIComponent(app.project.id)}/answer` }, "See what to buy")));
  };
  await fill();
  onAnswer(() => fill().catch(() => {}), left.signal); // what it could not read is said above everything
  return () => left.abort();
}

/** The files of one answer, and what has changed since it was found; null if there is none. */
async function section(app, kind, title) {
  const { answer, running, fault } = await standing(app, kind);
  if (!answer && !fault) return null;
  const card = el("section", { class: "card" }, el("h2", { text: title }));
  if (running) card.append(el("p", { class: "quiet", text: "A new search is running; these are the files of the last answer." }));
  if (!answer) {
    card.append(el("p", { class: "quiet", text: fault }));
    return card;
  }
  const path = `/api/searches/${encodeURIComponent(answer.search)}/files`;
  try {
    const [files, changes] = await Promise.all([call("GET", path), changesSince(app, kind, answer)]);
    card.append(staleNote(app, kind, answer, changes, kind === "buy" ? lookAgain : null) ?? "", el("ul", { class: "files" }, [...bySubject(files)].map(([subject, of]) => el("li", {}, el("b", { text: subject }), of.map((file) => link(path, file, subject))))));
  } catch (error) {
    card.append(el("p", { class: "quiet", text: `${error.message}.` }));
  }
  return card;
}

/** The files of each thing shown. */
function bySubject(files) {
  const found = new Map();
  for (const file of files) {
    found.set(file.subject, [...(found.get(file.subject) ?? []), file]);
  }
  return found;
}

function link(path, { name, what }, subject) {
  const form = name.split(".").at(-1).toUpperCase();
  return el("a", { class: "chip", href: `${path}/${encodeURIComponent(name)}`, download: name, "aria-label": `${form} ${what}: ${subject}`, title: name },
    el("b", { text: form }), ` ${what}`);
}
