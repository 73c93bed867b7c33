/** The daily copies: what is kept of the days before, and a project brought back as it was; one out of a backup as well. */

import { call, send } from "../lib/api.js";
import { button, el, freshId, say } from "../lib/dom.js";
import { dayWords } from "../lib/days.js";
import { apartWords } from "../project/apart.js";

const asOn = (day, isFirst) => `${isFirst ? "The last copy, of" : "Copy of"} ${dayWords(day)}`;

/** What is kept by days and weeks, with the projects in each. */
export async function copiesPart(app) {
  const { days, fault } = await call("GET", "/api/copies");
  const said = el("p", { class: "said", role: "status" });
  return el("section", { class: "card copies" }, el("h2", { text: "As it was" }),
    el("p", { text: "Each day on which you work begins with a copy of all that is kept. The copies of the last 7 such days stay, and one of each of the 5 weeks before. A project brought back from one comes in beside what is there; nothing is overwritten. A copy of the last hour is kept as well, in case the notebook is damaged." }),
    fault && el("p", { class: "note", role: "alert", text: `${fault.charAt(0).toUpperCase()}${fault.slice(1)}.` }),
    days.length === 0 && el("p", { class: "quiet", text: "There is no copy yet." }),
    days.map(({ day, projects }, i) => el("details", {}, el("summary", { text: `${asOn(day, i === 0)}: ${projects.length} project${projects.length === 1 ? "" : "s"}` }),
      el("ul", { class: "names" }, projects.map((one) => el("li", {}, el("bdi", { text: one.name }), bring(app, day, one, said)))))), outOfBackup(app), said);
}

/** The days on which a copy holds one project. */
export async function earlierPart(project, app) {
  const { days } = await call("GET", "/api/copies");
  const there = days.filter(({ projects }) => projects.some(({ id }) => id === project));
  if (!there.length) return null;
  const said = el("p", { class: "said", role: "status" });
  return el("details", { class: "card" }, el("summary", { text: "As it was before" }),
    el("ul", { class: "names" }, there.map(({ day, projects }, i) => el("li", {}, el("span", { text: `${asOn(day, i === 0)}, when that day began` }), bring(app, day, projects.find(({ id }) => id === project), said)))), said);
}

function bring(app, day, { id, name }, said) {
  const run = async () => {
    said.textContent = "";
    try {
      shown(await call("POST", `/api/copies/${day}/projects/${encodeURIComponent(id)}`), name, said);
    } catch (error) {
      said.textContent = `Not brought back: ${error.message}.`;
    }
  };
  return button("Bring back", run, { kind: "quiet", "aria-label": `Bring back ${name} as on ${dayWords(day)}` });
}

function shown({ project, counts }, name, said) {
  const isNew = counts.projects.added > 0;
  const words = isNew ? `${name} is there as it was: ` : `${name} is still just as it was then: `;
  const apart = apartWords(counts);
  said.replaceChildren(words, el("a", { href: `#/${encodeURIComponent(project)}/who` }, "open it"), apart ? ` ${apart}` : "");
  say(words);
}

/** One project out of a file that was backed up. */
function outOfBackup() {
  const id = freshId("archive");
  const list = el("ul", { class: "names" });
  const told = el("p", { class: "said", role: "alert" });
  const look = async () => {
    const [file] = input.files;
    if (!file) return;
    told.textContent = "";
    list.replaceChildren();
    try {
      const projects = await send("/api/restore/projects", file);
      list.replaceChildren(...projects.map((one) => el("li", {}, el("bdi", { text: one.name }), button("Bring in", () => take(file, one), { kind: "quiet", "aria-label": `Bring in ${one.name}` }))));
      if (!projects.length) told.textContent = "There is no project in it.";
    } catch (error) {
      told.textContent = `It cannot be read: ${error.message}.`;
    }
    input.value = "";
  };
  const take = async (file, { id: project, name }) => {
    try {
      const counts = await send(`/api/restore?${new URLSearchParams({ project })}`, file);
      const words = counts.projects.added ? `${name} came in. It is among the projects.` : `${name} is here already, just as it is there.`;
      told.textContent = [words, apartWords(counts)].filter(Boolean).join(" ");
    } catch (error) {
      told.textContent = `Not brought in: ${error.message}.`;
    }
  };
  const input = el("input", { type: "file", class: "unseen", id, on: { change: look } });
  return el("div", {}, el("h3", { text: "One project out of a backup" }), el("p", { class: "row" }, input, el("label", { class: "button plain", for: id }, "Choose a backup"),
    el("a", { class: "button plain", href: "/api/backup", download: "" }, "Download a backup of all")), list, told);
}
