/** The garment and its style, with its pieces drawn as values change. */

import { button, debounced, el, say, spoken } from "../lib/dom.js";
import { choiceField, lengthField, numberField, sayErrors } from "../lib/field.js";
import { formatField, formatSize } from "../lib/units.js";
import { drafter, lacking } from "../project/draft.js";
import { nameAnew } from "../project/naming.js";
import { drawPieces } from "../project/pieces.js";
import { units } from "../project/settings.js";
import { nextSteps } from "./footer.js";
import { changeGarment, wardrobe } from "./wardrobe.js";

/** So many options of a garment are in sight, where the example says nothing of them. */
const IN_SIGHT = 8;

export function show(element, app) {
  const { catalogue, project, change } = app;
  const form = el("form", { class: "card", on: { submit: (event) => event.preventDefault() } });
  const drawing = el("div", { class: "pieces", tabindex: 0, role: "region", "aria-label": "Pieces" });
  const beside = el("div", { class: "beside" });
  const faults = el("ul", { class: "remarks" });
  let fields = [];
  let draft = null;

  const checker = drafter({
    job: () => project.data.job,
    onDraft: (told) => {
      draft = told;
      fields.forEach((field) => field.clear());
      faults.replaceChildren();
      drawing.classList.remove("stale");
      paint();
    },
    onErrors: (errors) => {
      drawing.classList.add("stale");
      if (!draft) drawing.replaceChildren(el("p", { class: "empty", text: "The pieces appear here once you correct the marked entries." }));
      faults.replaceChildren(...sayErrors(fields, errors).map(({ field, message }) =>
        el("li", { class: "wrong" }, spoken(message), field.startsWith("body.") && [" ", whoLink(app)])));
    },
  });
  const paint = () => {
    if (!draft) return;
    drawPieces(drawing, draft, units());
    beside.replaceChildren(...[notes(draft), measures(draft)].filter(Boolean));
    say(`${draft.pieces.length} pieces drawn`, { rarely: true });
  };
  const redraft = () => {
    const missing = lacking(project.data.job, catalogue);
    if (!missing.length) return checker.draft();
    drawing.replaceChildren(el("p", { class: "empty" },
      `The pieces appear here once these are measured: ${missing.map(spoken).join(", ").toLowerCase()}. `, whoLink(app)));
    return undefined;
  };

  const fill = () => {
    const { job } = project.data;
    const garment = catalogue.garments.find((each) => each.name === job.garment);
    choice.hidden = !garment;
    if (!garment) { form.replaceChildren(...fromFile(app, fill)); return redraft(); }
    const isExample = garment.name === catalogue.template_job.garment;
    const first = new Set(isExample ? Object.keys(catalogue.template_job.style) : garment.options.slice(0, IN_SIGHT).map(({ name }) => name));
    const made = garment.options.map((option) => optionField(option, job, change, redraft));
    fields = made;
    const [usual, more] = [made.filter((_, i) => first.has(garment.options[i].name)), made.filter((_, i) => !first.has(garment.options[i].name))];
    form.replaceChildren(
      el("div", { class: "fields" }, howMany(app)),
      el("h2", { text: "Style" }), el("div", { class: "fields" }, usual.map((field) => field.element)),
      ...(more.length ? [el("details", {}, el("summary", { text: `More about the style (${more.length})` }),
        el("div", { class: "fields" }, more.map((field) => field.element)))] : []));
    return redraft();
  };

  const choice = wardrobe(catalogue, project.data.job.garment, (garment) => { change((data) => changeGarment(data, garment)); nameAnew(app); draft = null; beside.replaceChildren(); fill(); });
  const repaint = debounced(paint, 150);
  const resized = new ResizeObserver(repaint);
  element.append(el("h1", { text: "Garment and style" }), choice,
    el("div", { class: "two wide drafting" }, form, el("div", { class: "shown" }, el("div", { class: "sticky" }, el("div", { role: "alert" }, faults), drawing), beside)), nextSteps(app, "garment"));
  fill();
  resized.observe(element);
  return () => { resized.disconnect(); repaint.cancel(); checker.end(); };
}

const whoLink = (app) => el("a", { href: `#/${encodeURIComponent(app.project.id)}/who` }, "Go to the measurements");

function fromFile(app, fill) {
  const { catalogue, change } = app;
  const draft = () => {
    change((data) => {
      Object.assign(data.job, { garment: catalogue.template_job.garment, body: data.measured ?? data.job.body });
      delete data.job.pieces_file;
    });
    fill();
  };
  return [el("h2", { text: "Pieces from a pattern file" }), howMany(app),
    el("p", { class: "row" }, button("Draft a garment instead", draft))];
}

function howMany({ project, change }) {
  return numberField({
    name: "garments", label: "How many", value: project.data.job.garments ?? 1, least: 1, most: 1000,
    store: (value) => change(({ job }) => { job.garments = value ?? 1; }),
  }).element;
}

function optionField(option, job, change, redraft) {
  const style = job.style ?? {};
  const name = `style.${option.name}`;
  const [label, help] = [spoken(option.name), option.help];
  const store = (value) => {
    change((data) => {
      data.job.style ??= {};
      if (value === "" || value === null) delete data.job.style[option.name];
      else data.job.style[option.name] = value;
    });
    redraft();
  };
  if (option.kind === "choice") {
    return choiceField({
      name, label, help, value: style[option.name] ?? option.default,
      choices: option.choices.map((each) => [each, spoken(each).replaceAll("-", " ")]), store,
    });
  }
  if (option.kind === "share") {
    return numberField({ name, label, help, value: style[option.name], least: 0.2, most: 1.5, step: "any", placeholder: option.default ?? "worked out", store });
  }
  return lengthField({ name, label, help, text: style[option.name], units: units(), placeholder: byDefault(option), store });
}

/** What holds where nothing is written. */
function byDefault(option) {
  if (typeof option.default === "number") return formatField(option.default, units());
  return option.default ?? "worked out";
}

function notes({ remarks = [], notes: told = [] }) {
  const lines = [...remarks, ...told];
  return lines.length && el("ul", { class: "remarks" }, lines.map((words) => el("li", { text: spoken(words) })));
}

function measures({ measures: sizes = {} }) {
  const rows = Object.entries(sizes);
  return rows.length && el("details", {}, el("summary", { text: "All finished and cut sizes" }),
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Sizes" }, el("table", {}, el("tbody", {}, rows.map(([name, mm]) =>
      el("tr", {}, el("th", { scope: "row", text: spoken(name) }), el("td", { class: "figure", text: formatSize(mm, units()) })))))));
}
