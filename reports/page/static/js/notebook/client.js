/** A client: her measurements over time with what try-ons corrected, and photos. */

import { call } from "../lib/api.js";
import { button, el, say, spoken } from "../lib/dom.js";
import { confirmed, named } from "../lib/dialog.js";
import { allRead, lengthField, sayErrors, textField } from "../lib/field.js";
import { dayWords } from "../lib/days.js";
import { formatSize, parseLength } from "../lib/units.js";
import { units } from "../project/settings.js";
import { photosPart } from "./photos.js";

const MOST_SHOWN = 5; // sets side by side

export async function clientPart(thing, app, again) {
  const path = `/api/clients/${encodeURIComponent(thing.id)}`;
  const sets = await call("GET", `${path}/measured`);
  const rename = async () => {
    const name = await named("What is the client called?", "Name", thing.name, "Rename");
    if (!name || name === thing.name) return;
    try {
      await call("PUT", path, { name });
      await again();
    } catch (error) {
      said.textContent = `Not renamed: ${error.message}.`;
    }
  };
  const remove = async () => {
    if (!(await confirmed(`Forget ${thing.name}?`, "All measurements and photos of this client are deleted. The measurements in projects stay. A copy or a backup brings them back.", "Forget"))) return;
    await call("DELETE", path);
    say(`${thing.name} is forgotten`);
    location.hash = "#/notebook";
  };
  const said = el("p", { class: "said wrong", role: "alert" });
  return [over(sets, app.catalogue), again && measuring(thing, sets[0]?.body ?? {}, app.catalogue, again),
    await photosPart("client", thing.id),
    el("p", { class: "row" }, button("Rename", rename), button("Forget", remove, { kind: "quiet" })), said];
}

/** All sets side by side, the latest first; what changed from one to the next stands out. */
function over(sets, { measurements, corrections = [] }) {
  if (!sets.length) return el("p", { class: "empty", text: "No measurements are kept yet." });
  const shown = sets.slice(0, MOST_SHOWN);
  const corrected = new Map(corrections.map(({ name, words }) => [name, words]));
  const rows = (names) => names.filter((name) => sets.some(({ body }) => body[name] !== undefined));
  const line = (name, words) => el("tr", {}, el("th", { scope: "row", text: words }), shown.map(({ body }, i) => {
    const before = shown[i + 1]?.body[name];
    return el("td", { class: `figure${before !== undefined && body[name] !== before ? " changed" : ""}`, text: sized(body[name]) });
  }));
  const [plain, tried] = [rows(measurements.map(({ name }) => name)), rows([...corrected.keys()])];
  return el("section", { class: "card" }, el("h3", { text: "Measurements over time" }),
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Measurements over time" }, el("table", {},
      el("thead", {}, el("tr", {}, el("td"), shown.map(({ day, note }) => el("th", { scope: "col", class: "figure" }, dayWords(day), note && el("span", { class: "note-word" }, el("bdi", { text: note })))))),
      el("tbody", {}, plain.map((name) => line(name, spoken(name))),
        tried.length > 0 && el("tr", {}, el("th", { scope: "rowgroup", colspan: shown.length + 1, text: "After a try-on" })), tried.map((name) => line(name, spoken(corrected.get(name))))))),
    sets.length > shown.length && el("p", { class: "quiet", text: `${sets.length - shown.length} earlier, the first of ${dayWords(sets.at(-1).day)}.` }));
}

function sized(text) {
  if (text === undefined) return "";
  try {
    return formatSize(parseLength(text, units()), units());
  } catch {
    return String(text);
  }
}

/** A form for another set: the one before stands in it, so that only what has changed is written. */
function measuring(thing, before, { measurements, corrections = [] }, again) {
  const body = { ...before };
  let [day, note] = ["", ""];
  const put = (name) => (text) => { if (text) body[name] = text; else delete body[name]; };
  const field = (name, label, help) => lengthField({ name: `body.${name}`, label, help, text: body[name], units: units(), store: put(name) });
  const taken = measurements.map(({ name, help }) => field(name, spoken(name), help));
  const tried = corrections.map(({ name, words }) => field(name, spoken(words)));
  const when = textField({ name: "day", label: "Measured on", help: "By default today", length: 10, store: (value) => { day = value; } });
  when.control.type = "date";
  const fields = [...taken, ...tried, when];
  const told = el("p", { class: "said wrong", role: "alert" });
  const keep = async (event) => {
    event.preventDefault();
    told.textContent = "";
    if (!allRead(fields)) { told.textContent = "A marked entry cannot be read."; return; }
    try {
      await call("POST", "/api/clients", { name: thing.name, body, ...(day && { day }), ...(note && { note }) });
      say("The measurements are kept");
      await again();
    } catch (error) {
      const left = sayErrors(fields, error.errors ?? [error]);
      told.textContent = left.map(({ message }) => message).join("; ");
    }
  };
  return el("details", { class: "card" }, el("summary", { text: "Measure again" }),
    el("form", { on: { submit: keep } }, el("p", { class: "help", text: "The last measurements stand here. Write what has changed; the sets before stay." }),
      el("div", { class: "fields" }, taken.map((one) => one.element)),
      el("details", {}, el("summary", { text: "After a try-on" }), el("div", { class: "fields" }, tried.map((one) => one.element))),
      el("div", { class: "fields" }, when.element, textField({ name: "note", label: "Note", length: 200, store: (value) => { note = value; } }).element),
      el("p", { class: "row" }, el("button", { class: "button main", type: "submit" }, "Keep")), told));
}
