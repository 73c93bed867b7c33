/** Pattern files of other programs: read, shown with what was understood, and used as the garment. */

import { call, send } from "../lib/api.js";
import { el, say } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { conversation } from "../patterns/conversation.js";
import { offerRib } from "../project/fresh.js";
import { LARGEST_PHOTO, isPhoto, photoFields, traced } from "../project/photographed.js";
import { units } from "../project/settings.js";

const LARGEST = 5_000_000; // bytes
const UNITS = [["", "As the file says"], ["mm", "mm"], ["cm", "cm"], ["m", "m"], ["in", "in"], ["ft", "ft"], ["px", "pixels, 96 to the inch"]];

export function show(element, app) {
  const asked = { units: "", size: "", line: "", sheet: "", mat: "" };
  const result = el("div", { class: "stack" });
  const input = el("input", { type: "file", id: "pattern-file", accept: ".dxf,.svg,.json,.geojson,.csv,.toml,.jpg,.jpeg,.png", on: { change: () => input.files[0] && read(input.files[0]) } });
  const drop = el("div", {
    class: "drop", on: {
      dragover: (event) => { event.preventDefault(); drop.classList.add("over"); },
      dragleave: () => drop.classList.remove("over"),
      drop: (event) => { event.preventDefault(); drop.classList.remove("over"); if (event.dataTransfer.files[0]) read(event.dataTransfer.files[0]); },
    },
  }, el("label", { for: "pattern-file" }, el("b", { text: "A pattern file: DXF, SVG, JSON, CSV or TOML, up to 5 MB; or a photo: JPEG or PNG, up to 25 MB" })), input,
  el("p", { class: "quiet", text: "Choose a file, or drop it here. It stays on this machine." }));

  const read = async (file) => {
    const most = isPhoto(file.name) ? LARGEST_PHOTO : LARGEST;
    if (file.size > most) return void refuse([`${file.name} has ${(file.size / 1e6).toFixed(1)} MB: at most ${most / 1e6} MB are read.`]);
    result.replaceChildren(el("p", { class: "loading", text: `Reading ${file.name} …` }));
    const query = new URLSearchParams({ name: file.name });
    for (const [name, value] of Object.entries(asked)) if (value) query.set(name, value);
    try {
      await shown(result, app, await send(`/api/uploads?${query}`, file));
    } catch (error) {
      refuse((error.errors ?? [error]).map(({ message }) => message));
    }
    input.value = "";
  };
  const refuse = (lines) => result.replaceChildren(el("section", { class: "card" },
    el("h2", { text: "The file could not be read" }), el("ul", { class: "remarks", role: "alert" }, lines.map((line) => el("li", { class: "wrong", text: line })))));
  element.append(el("h1", { text: "Pattern files" }), el("p", { class: "lead", text: "You can also lay pieces drawn in another program." }), drop,
    photoFields(asked),
    el("details", {}, el("summary", { text: "If sizes come out wrong" }), el("div", { class: "fields" },
      choiceField({ name: "units", label: "Unit of a bare number", value: "", choices: UNITS, store: (value) => { asked.units = value; } }).element,
      textField({ name: "size", label: "Size", help: "Which size to read", store: (value) => { asked.size = value; } }).element)),
    result);
  showUsed(result, app);
}

/** A file that was read, to be looked at and decided on. */
async function shown(result, app, answer) {
  result.parentElement.classList.add("has-file");
  const lines = el("div", { class: "stack" });
  result.replaceChildren(lines, answer.photo ? traced(answer.photo, units()) : "");
  await conversation(lines, answer, {
    use: (read) => {
      app.change((data) => {
        if (Object.keys(data.job.body ?? {}).length) data.measured = data.job.body; // imported pieces have none; kept for a garment drafted later
        Object.assign(data.job, { garment: "imported", style: {}, body: {}, pieces_file: read.pieces_file });
        offerRib(data, read.pieces.some(({ material }) => material === "rib"));
      });
      app.go("cloth");
    },
    onRead: ({ pieces }) => say(`${pieces.length} pieces were read`),
  });
}

/** The file that the project's pieces are of, if it is kept. */
async function showUsed(result, app) {
  const { garment, pieces_file: used } = app.project.data.job;
  if (garment !== "imported" || !used) return;
  try {
    const { id } = await call("GET", `/api/patterns?${new URLSearchParams({ pieces_file: used })}`);
    const answer = await call("GET", `/api/patterns/${id}`);
    if (!result.childElementCount) await shown(result, app, answer);
  } catch (error) {
    if (error.status !== 404) result.replaceChildren(el("p", { class: "note", text: `The file of these pieces cannot be shown: ${error.message}.` }));
  }
}
