/** The files of every answer, made when they are asked for. */

import { call } from "./api.js";
import { el } from "./dom.js";

const KINDS = [["buy", "What to buy"], ["widths", "All widths"], ["saves", "What saves cloth"], ["chart", "Chart of sizes"], ["run", "The run"]];

export async function show(element, app) {
  element.append(el("h1", { text: "Files" }), el("p", { class: "lead", text: "To print, to send, to open in other programs. Each is made when you ask for it; full-size prints take some seconds." }));
  const answers = KINDS.filter(([kind]) => app.project.data.answers?.[kind]);
  if (!answers.length) {
    element.append(el("p", { class: "empty" }, "No answers yet, and so no files. ", el("a", { href: `#/${encodeURIComponent(app.project.id)}/answer` }, "Find what to buy")));
    return;
  }
  for (const [kind, title] of answers) element.append(await section(app.project.data.answers[kind].search, title));
}

async function section(search, title) {
  const path = `/api/searches/${encodeURIComponent(search)}/files`;
  const card = el("section", { class: "card" }, el("h2", { text: title }));
  try {
    const files = await call("GET", path);
    card.append(el("ul", { class: "files" }, [...bySubject(files)].map(([subject, of]) => el("li", {}, el("b", { text: subject }), of.map((file) => link(path, file, subject))))));
  } catch (error) {
    const words = error.status === 404 ? "This answer is no longer kept: look for it again." : `${error.message}.`;
    card.append(el("p", { class: "quiet", text: words }));
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
