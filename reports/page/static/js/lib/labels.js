/** What people call what a file calls otherwise: names of options and tables never show as they are written there. */

const TABLES = { fabric: "cloth", rib: "rib", trim: "trim", body: "measurements", "style": "style", operation: "operation", garment: "garment", shape: "shape" };
let labels = {};

/** Take over the labels of all options of a catalogue. */
export function setLabels({ garments }) {
  labels = Object.fromEntries(garments.flatMap(({ options }) => options.map(({ name, label }) => [name, label])));
}

/** A text with options and tables called as people do: `hem_less` is "hem band, less than its opening". */
export function labelled(text) {
  return String(text)
    .replace(/\[{1,2}([a-z]+)\]{1,2}/g, (all, name) => (TABLES[name] ? `the ${TABLES[name]}` : all))
    .replace(/\b[a-z]+(?:_[a-z]+)+\b/g, (name) => (labels[name] ? lowered(labels[name]) : name.replaceAll("_", " ")));
}

/** The words for a field that the server names, such as `style.hem_less` or `fabric.0.width`. */
export function fieldWords(field) {
  const name = field.split(".").filter((part) => !/^\d+$/.test(part)).at(-1) ?? "";
  return labels[name] ?? lowered(labelled(TABLES[name] ?? name));
}

const lowered = (words) => words.charAt(0).toLowerCase() + words.slice(1);
