/** What a person prefers on this machine: units and colours. */

import { call } from "../lib/api.js";
import { el } from "../lib/dom.js";
import { change, project } from "./project.js";

const read = (name, otherwise) => {
  try {
    return localStorage.getItem(`ellwand.${name}`) ?? otherwise;
  } catch {
    return otherwise;
  }
};

const write = (name, value) => {
  try {
    localStorage.setItem(`ellwand.${name}`, value);
  } catch { /* storage may be off: it holds for this visit */ }
};

/** Kept with the work as well, so that it is in a backup; the browser's copy is there before the first answer. */
const keep = (name, value) => {
  write(name, value);
  call("PUT", "/api/settings", { [name]: value }).catch(() => {});
};

/** Take over what is kept with the work. */
export async function showSaved() {
  const kept = await call("GET", "/api/settings");
  for (const name of ["units", "theme"]) {
    const own = read(name, null);
    if (kept[name]) write(name, kept[name]);
    else if (own) keep(name, own); // chosen before it was kept with the work
  }
  chosenUnits = kept.units ?? chosenUnits;
  dispatchEvent(new Event("ellwand-theme"));
  showSettings();
}

let chosenUnits = read("units", /-(US|LR|MM)$/.test(navigator.language) ? "in" : "cm");

/** Told when units change. */
export const settings = new EventTarget();

/** "in" or "cm": the open project's, or else what was chosen last. */
export function units() {
  return project.data?.job?.units ?? chosenUnits;
}

function setUnits(value) {
  chosenUnits = value;
  keep("units", value);
  if (project.data) change((data) => { data.job.units = value; });
  settings.dispatchEvent(new Event("units"));
}

function setTheme(value) {
  keep("theme", value);
  dispatchEvent(new Event("ellwand-theme"));
}

/** Fill in the settings: units above, colours below. */
export function showSettings() {
  const choices = (name, words, options, current, set) =>
    el("fieldset", { class: "switch" },
      el("legend", { class: "unseen", text: words }),
      options.map(([value, label]) =>
        el("label", {},
          el("input", { type: "radio", name, value, checked: value === current, on: { change: () => set(value) } }),
          el("span", { text: label }))));
  document.getElementById("units").replaceChildren(
    choices("units", "Lengths in", [["in", "inches"], ["cm", "cm"]], units(), setUnits),
  );
  document.getElementById("theme").replaceChildren(
    choices("theme", "Colours", [["auto", "auto"], ["light", "light"], ["dark", "dark"]], read("theme", "auto"), setTheme),
  );
}
