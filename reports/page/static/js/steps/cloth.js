/** Cloth and rib that could be bought: offers side by side. */

import { button, el, say, spoken } from "../lib/dom.js";
import { sayErrors } from "../lib/field.js";
import { currencyOf } from "../lib/price.js";
import { drafter, lacking } from "../project/draft.js";
import { freeName, freshFabric, freshRib } from "../project/fresh.js";
import { nextSteps } from "./footer.js";
import { whichPanel } from "../ask/which.js";
import { fromShelf, putOnShelf } from "../project/shelf.js";
import { offerCard } from "./offer.js";

const MOST = 12; // offers of a kind: more do not compare

const KINDS = [
  { key: "fabric", shelf: "cloth", title: "Cloth", fresh: freshFabric, words: "Add a cloth", none: "No cloth yet: add at least one to lay the pieces on." },
  { key: "rib", shelf: "rib", title: "Rib", fresh: freshRib, words: "Add a rib", none: "No rib: the bands are drafted, but no rib is bought." },
];

export function show(element, app) {
  const { project, change, catalogue } = app;
  const faults = el("ul", { class: "remarks" });
  let fields = [];
  let needsRib = catalogue.garments.find(({ name }) => name === project.data.job.garment)?.materials.includes("rib") ?? true;

  const checker = drafter({
    job: () => project.data.job,
    pick: (job) => job,
    onDraft: ({ pieces }) => {
      fields.forEach((field) => field.clear());
      faults.replaceChildren();
      needsRib = pieces.some(({ material }) => material === "rib");
      showRib();
    },
    onErrors: (errors) => {
      faults.replaceChildren(...sayErrors(fields, errors).map(({ message }) => el("li", { class: "wrong", text: spoken(message) })));
    },
  });
  const showRib = () => { sections.lastChild.hidden = !needsRib; };
  const check = () => { if (!lacking(project.data.job, catalogue).length) checker.draft(); };

  const fill = (focus = null) => {
    fields = [];
    sections.replaceChildren(...KINDS.map((kind) => section(kind, app, {
      add: (field) => fields.push(field), check,
      redo: (edit, words, at) => { change(({ job }) => edit(job)); fill(at); say(words); },
    })));
    showRib();
    check();
    if (focus) sections.querySelector(`[data-field="${focus}"]`)?.focus();
  };
  const sections = el("div", { class: "stack" });
  const which = whichPanel(app);
  element.append(el("h1", { text: "What could it be made of?" }),
    el("p", { class: "lead", text: "List the cloths you could buy. They are laid, priced and compared; the cheapest is named." }),
    el("div", { role: "alert" }, faults), sections,
    el("section", { class: "stack" }, el("h2", { text: "Which of my cloths will do?" }), which.element), nextSteps(app, "cloth"));
  fill();
  return () => { checker.end(); which.end(); };
}

function section(kind, app, { add, check, redo }) {
  const offers = app.project.data.job[kind.key] ?? [];
  const store = (i, name, value) => {
    app.change(({ job }) => {
      if (value === "" || value === null || value === false) delete job[kind.key][i][name];
      else job[kind.key][i][name] = value;
    });
    check();
  };
  const tools = (i) => [
    button("Copy", () => redo((job) => job[kind.key].splice(i + 1, 0, copied(job[kind.key], i)), "Copied", `${kind.key}.${i + 1}.name`), { disabled: offers.length >= MOST }),
    button("Keep on the shelf", () => keepOffer(kind, offers[i], said), { kind: "quiet" }),
    button("Remove", () => redo((job) => job[kind.key].splice(i, 1), "Removed"), { kind: "quiet" }),
  ];
  const said = el("p", { class: "said", role: "status" });
  const take = ({ data }) => redo((job) => {
    job[kind.key] = [...offers, { ...structuredClone(data), name: offers.some(({ name }) => name === data.name) ? freeName(offers, data.name) : data.name }];
  }, "Added", `${kind.key}.${offers.length}.name`);
  const append = () => redo((job) => { job[kind.key] = [...offers, kind.fresh(offers)]; }, "Added", `${kind.key}.${offers.length}.name`);
  return el("section", {},
    el("div", { class: "head" }, el("h2", { text: kind.title }), button(kind.words, append, { disabled: offers.length >= MOST })),
    offers.length < MOST && fromShelf(kind.shelf, "From the shelf", take).element, said,
    offers.length
      ? el("div", { class: "offers" }, offers.map((offer, i) => {
        const made = offerCard({ kind: kind.key, at: i, offer, catalogue: app.catalogue, currency: () => currencyIn(app.project.data.job), store: (name, value) => store(i, name, value), tools: tools(i),
          reshape: (edit) => redo((job) => edit(job[kind.key][i]), "Changed", `${kind.key}.${i}.form`) });
        made.fields.forEach(add);
        return made.element;
      }))
      : el("p", { class: "empty", text: kind.none }));
}

/** Keep an offer on the shelf, under the name it has. */
async function keepOffer(kind, offer, said) {
  said.textContent = "";
  try {
    const kept = await putOnShelf(kind.shelf, "Keep on the shelf", offer.name ?? "", offer);
    if (kept) said.textContent = `${kept.name} is in the notebook.`;
  } catch (error) {
    said.textContent = `Not kept: ${error.message}.`;
  }
}

/** The currency of the prices that are written already. */
const currencyIn = ({ fabric = [], rib = [] }) => [...fabric, ...rib].map(({ price }) => price && currencyOf(price)).find(Boolean) ?? "";

function copied(offers, i) {
  const stem = `${(offers[i].name ?? "").slice(0, 48)}, copy`;
  return { ...structuredClone(offers[i]), name: freeName(offers, stem) };
}
