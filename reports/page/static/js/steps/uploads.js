/** Pattern files of other programs: read, shown with what was understood, and used as the garment. */

import { call, send } from "../lib/api.js";
import { el, say } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { conversation } from "../patterns/conversation.js";
import { offerRib } from "../project/fresh.js";
import { isPhoto, photoFields, traced } from "../project/photographed.js";
import { photoChoice, tracePhotos, unfit } from "../project/photoset.js";
import { units } from "../project/settings.js";

const LARGEST = 5_000_000; // bytes
const UNITS = [["", "As the file says"], ["mm", "mm"], ["cm", "cm"], ["m", "m"], ["in", "in"], ["ft", "ft"], ["px", "pixels, 96 to the inch"]];

export function show(element, app) {
  const asked = { units: "", size: "", line: "", sheet: "", mat: "" };
  const result = el("div", { class: "stack" });
  const input = el("input", { type: "file", id: "pattern-file", multiple: true, accept: ".dxf,.svg,.json,.geojson,.csv,.toml,.jpg,.jpeg,.png", on: { change: () => choose([...input.files]) } });
  const drop = el("div", {
    class: "drop", on: {
      dragover: (event) => { event.preventDefault(); drop.classList.add("over"); },
      dragleave: () => drop.classList.remove("over"),
      drop: (event) => { event.preventDefault(); drop.classList.remove("over"); choose([...event.dataTransfer.files]); },
    },
  }, el("label", { for: "pattern-file" }, el("b", { text: "A pattern file: DXF, SVG, JSON, CSV or TOML, up to 5 MB; or photos: JPEG or PNG, up to 25 MB each" })), input,
  el("p", { class: "quiet", text: "Choose a file or several photos, or drop them here. They stay on this machine." }));

  const choose = (files) => {
    if (!files.length) return;
    const photos = files.filter(({ name }) => isPhoto(name));
    if (files.length > 1 && photos.length < files.length) refuse(["Several files at once are photos, JPEG or PNG. Choose pattern files one at a time."]);
    else if (photos.length > 1) ask(photos);
    else if (photos.length) trace(photos);
    else read(files[0]);
    input.value = "";
  };
  /** Ask what several photos show, then trace them; `before` is what is read of those that they are added to. */
  const ask = (files, before = null) => {
    const kept = before ? before.photo.tables.flatMap((table) => table.files.map(({ file }) => file)) : [];
    const back = [...result.childNodes];
    const why = unfit(files, kept.length);
    if (why) return void refuse([why], before && back);
    result.replaceChildren(photoChoice({
      files, kept, isJoined: before ? before.photo.is_joined || kept.length === 1 : true, bySheet: !asked.sheet && !asked.mat,
      start: (joined) => trace(files, { joined, before, back }), cancel: () => result.replaceChildren(...(before ? back : [])),
    }));
    result.querySelector("input:checked").focus();
    result.scrollIntoView({ block: "nearest" });
  };
  const trace = async (files, { joined = false, before = null, back = null } = {}) => {
    const why = unfit(files);
    if (why) return void refuse([why]);
    try {
      await open(await tracePhotos(result, files, asked, { joined, addedTo: before?.pattern.id }));
    } catch (error) {
      refuse((error.errors ?? [error]).map(({ message }) => message), before && back);
    }
  };
  const read = async (file) => {
    if (file.size > LARGEST) return void refuse([`${file.name} has ${(file.size / 1e6).toFixed(1)} MB: at most ${LARGEST / 1e6} MB are read.`]);
    result.replaceChildren(el("p", { class: "loading", text: `Reading ${file.name} …` }));
    const query = new URLSearchParams({ name: file.name });
    for (const [name, value] of Object.entries(asked)) if (value) query.set(name, value);
    try {
      await open(await send(`/api/uploads?${query}`, file));
    } catch (error) {
      refuse((error.errors ?? [error]).map(({ message }) => message));
    }
  };
  const open = (answer) => shown(result, app, answer, (files) => ask(files, answer));
  /** Say why nothing was read; `back` is what was there before, and stays. */
  const refuse = (lines, back = null) => result.replaceChildren(el("section", { class: "card" },
    el("h2", { text: back ? "The photo was not added" : "This could not be read" }), el("ul", { class: "remarks", role: "alert" }, lines.map((line) => el("li", { class: "wrong", text: line })))), ...(back ?? []));
  element.append(el("h1", { text: "Pattern files" }), el("p", { class: "lead", text: "You can also lay pieces drawn in another program." }), drop,
    photoFields(asked),
    el("details", {}, el("summary", { text: "If sizes come out wrong" }), el("div", { class: "fields" },
      choiceField({ name: "units", label: "Unit of a bare number", value: "", choices: UNITS, store: (value) => { asked.units = value; } }).element,
      textField({ name: "size", label: "Size", help: "Which size to read", store: (value) => { asked.size = value; } }).element)),
    result);
  showUsed(result, app, open);
}

/** A file that was read, to be looked at and decided on. */
async function shown(result, app, answer, add) {
  result.parentElement.classList.add("has-file");
  const lines = el("div", { class: "stack" });
  result.replaceChildren(lines, answer.photo ? traced(answer.photo, units(), add) : "");
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
async function showUsed(result, app, open) {
  const { garment, pieces_file: used } = app.project.data.job;
  if (garment !== "imported" || !used) return;
  try {
    const { id } = await call("GET", `/api/patterns?${new URLSearchParams({ pieces_file: used })}`);
    const answer = await call("GET", `/api/patterns/${id}`);
    if (!result.childElementCount) await open(answer);
  } catch (error) {
    if (error.status !== 404) result.replaceChildren(el("p", { class: "note", text: `The file of these pieces cannot be shown: ${error.message}.` }));
  }
}
