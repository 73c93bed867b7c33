/** Pattern files of other programs: read, shown with what was understood, and used as the garment. */

import { send } from "../lib/api.js";
import { button, el, say } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { offerRib } from "../project/fresh.js";
import { LARGEST_PHOTO, isPhoto, photoFields, traced } from "../project/photographed.js";
import { drawPieces } from "../project/pieces.js";
import { units } from "../project/settings.js";

const LARGEST = 5_000_000; // bytes
const UNITS = [["", "As the file says"], ["mm", "mm"], ["cm", "cm"], ["m", "m"], ["in", "in"], ["ft", "ft"], ["px", "pixels, 96 to the inch"]];

export function show(element, app) {
  const asked = { units: "", size: "", line: "", sheet: "", mat: "" };
  const result = el("div", { class: "stack", "aria-live": "polite" });
  const input = el("input", { type: "file", id: "pattern-file", accept: ".dxf,.svg,.json,.csv,.toml,.jpg,.jpeg,.png", on: { change: () => input.files[0] && read(input.files[0]) } });
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
      shown(result, app, file.name, await send(`/api/uploads?${query}`, file));
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
}

function shown(result, app, name, { pieces, words, pieces_file: kept, photo }) {
  const drawing = el("div", { class: "pieces" });
  const use = button("Use these pieces", () => {
    app.change((data) => {
      if (Object.keys(data.job.body ?? {}).length) data.measured = data.job.body; // imported pieces have none; kept for a garment drafted later
      Object.assign(data.job, { garment: "imported", style: {}, body: {}, pieces_file: kept });
      offerRib(data, pieces.some(({ material }) => material === "rib"));
    });
    app.go("cloth");
  }, { kind: "main" });
  result.replaceChildren(el("section", { class: "card" }, el("h2", { text: name }),
    el("ul", { class: "remarks" }, words.map((line) => el("li", { text: line.trim() }))),
    el("p", { class: "row" }, use)), ...(photo ? [traced(photo, units())] : []), drawing);
  drawPieces(drawing, { pieces }, units());
  say(`${pieces.length} pieces were read`);
}
