/** A legend: what layers, colours and line styles stand for in files of one program; ours to change. */

import { button, el } from "../lib/dom.js";
import { choiceField, textField } from "../lib/field.js";
import { dressed } from "../patterns/looks.js";
import { DECIDED, roleWords } from "../patterns/roles.js";
import { shelfForm } from "./shelfform.js";

const MATERIALS = [["", "–"], ["shell", "Shell"], ["lining", "Lining"], ["interfacing", "Interfacing"], ["rib", "Rib"]];
const MARKS = [["layer", "Layer"], ["colour", "Colour"], ["dash", "Line style"]];

export async function legendPart(thing, app, again) {
  await dressed();
  return shelfForm(thing, again, fields);
}

const fields = (kept, redraw) => {
  const { data } = kept;
  const rules = Array.isArray(data.line) ? data.line : [];
  const put = (rule, key) => (value) => { if (value) rule[key] = value; else delete rule[key]; };
  const row = (rule, n) => el("tr", {},
    MARKS.map(([key, words]) => el("td", {}, textField({ name: `${key} ${n}`, label: words, text: rule[key], store: put(rule, key) }).element)),
    el("td", {}, choiceField({ name: `role ${n}`, label: "What it is", value: rule.role ?? "", choices: [["", "–"], ...DECIDED.map((role) => [role, roleWords(role)])], store: put(rule, "role") }).element),
    el("td", {}, choiceField({ name: `material ${n}`, label: "Material", value: rule.material ?? "", choices: MATERIALS, store: put(rule, "material") }).element),
    el("td", {}, button("Delete", () => { rules.splice(n, 1); redraw(); }, { kind: "quiet", "aria-label": `Delete rule ${n + 1}` })));
  const from = data.program ? `${String(data.form ?? "").toUpperCase()} files from ${data.program}` : `${String(data.form ?? "").toUpperCase()} files with the layers ${(data.layers ?? []).join(", ")}`;
  return [el("section", { class: "card" },
    el("p", { text: `It is used for ${from}, and each line that it decides says so.` }),
    rules.length ? el("div", { class: "scroll" }, el("table", { class: "legend-rules" }, el("tbody", {}, rules.map(row)))) : el("p", { class: "empty", text: "It has no rules any more." }),
    el("p", { class: "row" }, button("Add a rule", () => { data.line = [...rules, { layer: "", role: "sew line" }]; redraw(); }),
      el("a", { class: "button quiet", href: `/api/legends/${encodeURIComponent(thing.id)}`, download: "" }, "As a file")),
    el("p", { class: "help", text: "A rule that names more of a line comes first. Files that were read already stay as they are until they are read again." }))];
};
