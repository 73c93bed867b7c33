/** The garment and its style, with its pieces drawn as values change. */

import { button, debounced, el, say, spoken } from "../lib/dom.js";
import { choiceField, lengthField, numberField, sayErrors } from "../lib/field.js";
import { labelled } from "../lib/labels.js";
import { formatField, formatSize } from "../lib/units.js";
import { drafter, lacking } from "../project/draft.js";
import { nameAnew } from "../project/naming.js";
import { drawPieces } from "../project/pieces.js";
import { units } from "../project/settings.js";
import { fromShelf, putOnShelf } from "../project/shelf.js";
import { nextSteps } from "./footer.js";
import { styleGroups } from "./groups.js";
import { changeGarment, wardrobe } from "./wardrobe.js";

export function show(element, app) {
  const { catalogue, project, change } = app;
  const form = el("form", { class: "card", on: { submit: (event) => event.preventDefault() } });
  const drawing = el("div", { class: "pieces", tabindex: 0, role: "region", "aria-label": "Pieces" });
  const beside = el("div", { class: "beside" });
  const faults = el("ul", { class: "remarks" });
  let fields = [];
  let groups = null;
  let draft = null;

  const checker = drafter({
    job: () => project.data.job,
    onDraft: (told) => {
      draft = told;
      groups?.showRelevant(told.idle ?? []);
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
    fields = garment.options.map((option) => optionField(option, job, change, redraft));
    groups = styleGroups({ garment, fields, titles: catalogue.option_groups, style: () => project.data.job.style ?? {} });
    form.replaceChildren(el("div", { class: "fields" }, howMany(app)), el("h2", { text: "Style" }), ownStyles(garment), groups.element);
    return redraft();
  };

  /** Own styles are kept on the shelf, and taken from it: garment and options together. */
  const ownStyles = (garment) => {
    const said = el("p", { class: "said", role: "status" });
    const chosen = fromShelf("style", "Own style", (thing) => {
      const other = catalogue.garments.find(({ name }) => name === thing.data.garment);
      if (!other) { said.textContent = "Its garment is not there any more."; return; }
      change((data) => {
        if (data.job.garment !== other.name) changeGarment(data, other);
        data.job.style = structuredClone(thing.data.style ?? {});
        data.own_style = thing.id;
      });
      nameAnew(app);
      app.go("garment");
      fill();
    });
    const keep = async () => {
      said.textContent = "";
      try {
        const kept = await putOnShelf("style", "Keep this style", "", { garment: garment.name, style: project.data.job.style ?? {} });
        if (!kept) return;
        change((data) => { data.own_style = kept.id; });
        said.textContent = `${kept.name} is in the notebook.`;
        await chosen.fill();
      } catch (error) {
        said.textContent = `Not kept: ${error.message}.`;
      }
    };
    return el("div", { class: "own-styles" }, chosen.element, el("p", { class: "row" }, button("Keep this style", keep)), said);
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
  const { label, help } = option;
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
  return lines.length && el("ul", { class: "remarks" }, lines.map((words) => el("li", { text: spoken(labelled(words)) })));
}

function measures({ measures: sizes = {} }) {
  const rows = Object.entries(sizes);
  return rows.length && el("details", {}, el("summary", { text: "All finished and cut sizes" }),
    el("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Sizes" }, el("table", {}, el("tbody", {}, rows.map(([name, mm]) =>
      el("tr", {}, el("th", { scope: "row", text: spoken(name) }), el("td", { class: "figure", text: formatSize(mm, units()) })))))));
}
