/** The shelf of projects: open one, begin one, put all in one file, take them back from it. */

import { call, send } from "../lib/api.js";
import { confirmed } from "../lib/dialog.js";
import { button, el, say } from "../lib/dom.js";
import { apartWords } from "./apart.js";
import { exampleData, freshData } from "./fresh.js";
import { namedData } from "./naming.js";
import { create } from "./project.js";
import { showSaved } from "./settings.js";
import { sketch } from "./sketch.js";

export async function show(element, app, said = "") {
  const projects = await call("GET", "/api/projects");
  const { garments, template_job: model } = app.catalogue;
  const begin = async (name, data, view) => {
    await create(name, data);
    app.go(view);
  };
  const beginWith = (garment) => {
    const data = namedData(garment, freshData(garment));
    return begin(data.own_name, data, garment.to_measure.length ? "who" : "garment");
  };
  const fresh = el("section", { class: "stack" },
    el("h2", { text: "What will you make?" }),
    el("div", { class: "wardrobe" }, garments.map((garment) =>
      el("button", { type: "button", on: { click: () => beginWith(garment) } }, sketch(garment)))),
    el("p", { class: "row" },
      button("Look at an example", () => begin("Example: rib jacket", exampleData(app.catalogue), "who")),
      button("Use a pattern file", () => begin("From a pattern file", freshData(garments.find(({ name }) => name === model.garment)), "uploads"))));
  element.append(...(projects.length ? shelf(projects, fresh, () => show(clear(element), app)) : [welcome(), fresh]));
  element.append(backup((told) => show(clear(element), app, told), said));
}

const KINDS = [
  ["projects", "project", "projects"], ["clients", "client", "clients"], ["measurements", "set of measurements", "sets of measurements"],
  ["shelf", "thing on the shelf", "things on the shelf"], ["photos", "photo", "photos"], ["answers", "answer", "answers"],
  ["patterns", "pattern file", "pattern files"], ["settings", "setting", "settings"], ["entries", "ledger entry", "ledger entries"],
];

/** What a backup brought, in words. */
function broughtIn(counts) {
  const listed = (which) => KINDS.map(([kind, one, many]) => [counts[kind][which], one, many]).filter(([count]) => count)
    .map(([count, one, many]) => `${count} ${count === 1 ? one : many}`).join(", ");
  const [added, same] = [listed("added"), listed("same")];
  return [added ? `Came in: ${added}.` : "Nothing new came in.", same && `Here already: ${same}.`, apartWords(counts)].filter(Boolean).join(" ");
}

const clear = (element) => {
  element.replaceChildren();
  return element;
};

function welcome() {
  return el("section", { class: "welcome" },
    el("h1", { text: "How much cloth?" }),
    el("p", { class: "lead", text: "Choose a garment, measure, and list the cloths you could buy. The pieces are drafted and laid as tightly as possible. You learn what to buy, and the most that a better layout could still save." }));
}

/** The projects, newest first, and how to begin another. */
function shelf(projects, fresh, again) {
  const newest = [...projects].sort((a, b) => String(b.changed).localeCompare(String(a.changed), "en", { numeric: true }));
  const toFresh = () => { fresh.scrollIntoView(); fresh.querySelector("button").focus({ preventScroll: true }); };
  return [
    el("div", { class: "head" }, el("h1", { text: "Projects" }), button("New project", toFresh, { kind: "main" })),
    el("ul", { class: "shelf" }, newest.map((each) => card(each, again))),
    fresh,
  ];
}

function card({ id, name, changed }, again) {
  const remove = async () => {
    if (!(await confirmed(`Delete ‘${name}’?`, "Its photos go with it. You can get it back from a daily copy or a backup.", "Delete"))) return;
    await call("DELETE", `/api/projects/${encodeURIComponent(id)}`);
    say(`${name} is deleted`);
    await again();
  };
  return el("li", {},
    el("a", { href: `#/${encodeURIComponent(id)}/who` }, el("b", { text: name }), el("span", { text: when(changed) })),
    button("Delete", remove, { kind: "quiet", "aria-label": `Delete ${name}` }));
}

function when(changed) {
  const date = new Date(typeof changed === "number" ? changed * 1000 : changed);
  return Number.isNaN(date.getTime()) ? "" : `changed ${date.toLocaleString([], { dateStyle: "medium", timeStyle: "short" })}`;
}

function backup(again, told) {
  const file = el("input", { type: "file", class: "unseen", id: "restore", on: { change: restore } });
  const said = el("p", { class: "said", role: "status", text: told });
  async function restore() {
    const [chosen] = file.files;
    if (!chosen) return;
    try {
      const words = broughtIn(await send("/api/restore", chosen, "application/vnd.sqlite3"));
      await showSaved();
      await again(words);
      say(words);
    } catch (error) {
      said.textContent = `Not restored: ${error.message}`;
    }
    file.value = "";
  }
  return el("section", { class: "quiet-part" },
    el("h2", { text: "Backup" }),
    el("p", { text: "One file holds all: the notebook with its photos, answers, patterns, settings and the ledger. Keep it elsewhere, or take it to another machine. Restoring adds to what is here; nothing here is lost. Copies of each day are kept here as well: see the notebook." }),
    el("p", { class: "row" },
      el("a", { class: "button plain", href: "/api/backup", download: "" }, "Download a backup"),
      file, el("label", { class: "button plain", for: "restore" }, "Restore from a file")),
    said);
}
