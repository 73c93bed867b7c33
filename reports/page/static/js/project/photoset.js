/** Several photos at once: whether they show one piece or each its own, and how far tracing them is. */

import { call, send } from "../lib/api.js";
import { button, el, freshId, say } from "../lib/dom.js";
import { LARGEST_PHOTO, LARGEST_SET, MOST_PHOTOS } from "./photographed.js";

const POLL = 400; // ms
const WAYS = [
  [true, "One piece over several photos", "Each photo shows a part of the same table. They are joined over the printed sheets that they share."],
  [false, "Each photo shows its own pieces", "Each photo has a sheet and whole pieces. All pieces come into one pattern."],
];

/**
 * What the photos show, to be said before they are traced. `kept` are names of photos that are there already, `isJoined`
 * whether those are joined; `start(joined)` is run once it is said.
 */
export function photoChoice({ files, kept = [], isJoined = true, bySheet, start, cancel }) {
  const name = freshId("photos");
  let joined = isJoined && bySheet;
  const ways = WAYS.map(([value, words, help]) => el("label", { class: "way" },
    el("input", { type: "radio", name, checked: value === joined, disabled: value && !bySheet, on: { change: () => { joined = value; } } }),
    el("span", {}, el("b", { text: words }), el("span", { class: "help", text: value && !bySheet ? "Only with the printed reference sheet" : help }))));
  return el("section", { class: "card photo-choice" },
    el("h2", { text: `${files.length + kept.length} photos` }),
    el("ul", { class: "remarks" }, kept.map((each) => el("li", {}, el("bdi", { text: each }), " (kept)")),
      files.map((file) => el("li", {}, el("bdi", { text: file.name }), `, ${(file.size / 1e6).toFixed(1)} MB`))),
    el("fieldset", {}, el("legend", { text: "What they show" }), ways),
    el("p", { class: "row" }, button("Trace them", () => start(joined), { kind: "main" }), button("Cancel", cancel)));
}

/** Why photos cannot be sent; nothing if they can. */
export function unfit(files, kept = 0) {
  const large = files.find(({ size }) => size > LARGEST_PHOTO);
  if (large) return `${large.name} has ${(large.size / 1e6).toFixed(1)} MB: at most ${LARGEST_PHOTO / 1e6} MB are read.`;
  const many = files.length + kept;
  if (many > MOST_PHOTOS) return `These are ${many} photos: at most ${MOST_PHOTOS} are kept as one pattern.`;
  const sum = files.reduce((all, { size }) => all + size, 0);
  return sum > LARGEST_SET ? `The photos have ${(sum / 1e6).toFixed(0)} MB: at most ${LARGEST_SET / 1e6} MB are kept as one pattern. Save them at 12 million pixels.` : "";
}

/** Send photos to be traced; what is done meanwhile is shown in `within`. */
export async function tracePhotos(within, files, asked, { joined = false, addedTo = "" } = {}) {
  const query = new URLSearchParams({ joined });
  if (addedTo) query.set("added_to", addedTo);
  for (const name of ["line", "sheet", "mat"]) if (asked[name]) query.set(name, asked[name]);
  for (const { name, size } of files) {
    query.append("name", name);
    query.append("size", size);
  }
  const progress = tracing(files.length > 1 ? `Sending ${files.length} photos …` : `Reading ${files[0].name} …`);
  within.replaceChildren(el("section", { class: "card" }, progress.element));
  return progress.during((watch) => {
    query.set("watch", watch);
    return send(`/api/uploads/photos?${query}`, new Blob(files));
  });
}

/** What is done of photos while they are traced: an element, and what runs `ask(watch)` and shows its steps meanwhile. */
export function tracing(first) {
  const words = el("p", { class: "loading", text: first });
  const bar = el("progress", { "aria-label": "Tracing" });
  const element = el("div", { class: "tracing" }, words, bar);
  const during = async (ask) => {
    const watch = [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    const timer = setInterval(async () => {
      try {
        const step = await call("GET", `/api/uploads/photos/${watch}`);
        if (!step.words) return;
        if (words.textContent !== `${step.words} …`) say(step.words, { rarely: true });
        words.textContent = `${step.words} …`;
        if (step.of > 1) Object.assign(bar, { max: step.of, value: step.done });
      } catch { /* the answer itself says what is wrong */ }
    }, POLL);
    try {
      return await ask(watch);
    } finally {
      clearInterval(timer);
    }
  };
  return { element, during };
}
