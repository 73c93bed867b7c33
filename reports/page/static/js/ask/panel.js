/** The panel of a question: it is asked for, watched and shown; its last answer is kept with the project. */

import { chooser } from "../lib/chooser.js";
import { button, el, say, spoken } from "../lib/dom.js";
import { fieldWords } from "../lib/labels.js";
import { formatTime } from "../lib/units.js";
import { lacking } from "../project/draft.js";
import { ask, changesSince, staleNote, standing, waitWords } from "./question.js";
import { followSearch, stopSearch } from "./search.js";

const EFFORTS = [["quick", "Quick"], ["good", "Good"], ["long", "Long"]];

/**
 * Fill an element with a search of a kind. `plan` has `kind`, `start` (words of the button), `empty` (words while nothing
 * was searched), `ask()` ({job or order, options}), `fields` (an element of its own, or null) and `shown(told)`.
 * `start(effort)` asks, `end()` ends.
 */
export function panel(app, plan) {
  const left = new AbortController();
  const result = el("div", { class: "stack" });
  const told = el("p", { class: "wrong", role: "alert" });
  let effort = "good";
  const begin = el("button", { class: "button main large" }, plan.start);
  const form = el("form", { class: "card asking no-print", on: { submit: (event) => { event.preventDefault(); start(); } } },
    plan.fields, chooser("How long to look", EFFORTS, effort, (value) => { effort = value; }), told, el("p", { class: "row" }, begin));
  const element = el("section", { class: "stack" }, form, result);

  const start = async (chosen = effort) => {
    told.textContent = "";
    begin.disabled = true;
    try {
      const search = await ask(app, plan.kind, { ...plan.ask(), effort: chosen });
      if (search && !left.signal.aborted) follow(search);
    } catch (error) {
      refuse(error);
    }
  };
  const refuse = (error) => {
    if (error.name === "AbortError") return;
    begin.disabled = false;
    told.textContent = error.status === 429 ? waitWords(error)
      : (error.errors ?? [error]).map(({ field, message }) => (field ? `${spoken(fieldWords(field))}: ${message}` : message)).join("; ");
  };
  const follow = (search) => {
    begin.disabled = true;
    const watch = watching(() => stopSearch(search).catch(refuse));
    result.replaceChildren(watch.element);
    followSearch(search, { onProgress: watch.progress, onState: watch.state, signal: left.signal })
      .then(() => { if (!left.signal.aborted) return showStanding(); })
      .catch((error) => { if (error.name !== "AbortError") result.replaceChildren(); refuse(error); })
      .finally(watch.end);
  };
  const showStanding = async () => {
    const { answer, told: found, running, fault } = await standing(app, plan.kind);
    if (left.signal.aborted) return;
    if (running) return void follow(running);
    begin.disabled = isLacking;
    const said = (holds) => fault && el("p", { class: "note", role: "alert", text: `${spoken(fault)}${holds ? " The last answer still holds." : ""}` });
    if (!answer) return void result.replaceChildren(said(false) || el("p", { class: "empty", text: plan.empty }));
    const changes = await changesSince(app, plan.kind, answer);
    if (left.signal.aborted) return;
    result.replaceChildren(...[said(!changes.length), staleNote(app, plan.kind, answer, changes), plan.shown(found)].flat().filter(Boolean));
    say(fault || "The answer is ready");
  };
  const missing = plan.needsJob === false ? [] : lacking(app.project.data.job, app.catalogue);
  const isLacking = missing.length > 0;
  begin.disabled = isLacking;
  if (isLacking) told.textContent = `Still to measure: ${missing.map(spoken).join(", ").toLowerCase()}.`;
  showStanding().catch(refuse);
  return { element, start, end: () => left.abort() };
}

/** What is seen while many markers are laid. */
function watching(stop) {
  const began = Date.now();
  const words = el("p", { text: "Drafting and laying the first markers" });
  const clock = el("span", { text: "0 s" });
  const bar = el("progress", { max: 1, "aria-label": "Markers laid" });
  const ticking = setInterval(() => { clock.textContent = formatTime((Date.now() - began) / 1000); }, 1000);
  const stopping = button("Stop", () => { stopping.disabled = true; stopping.textContent = "Stopping …"; stop(); });
  return {
    element: el("section", { class: "card live" },
      el("div", { class: "head" }, el("div", {}, words, el("p", { class: "quiet" }, "For ", clock)), stopping), bar),
    progress: ({ done, total }) => {
      if (!total) return;
      bar.max = total;
      bar.value = done;
      words.textContent = `${done} of ${total} markers laid`;
      say(words.textContent, { rarely: true });
    },
    state: (state) => { if (state === "waiting") words.textContent = "Waiting for its turn"; },
    end: () => clearInterval(ticking),
  };
}

/** The answer in words, for who wants to read all of it. */
export function inWords(words) {
  return el("details", { class: "card" }, el("summary", { text: "In words" }),
    el("ul", { class: "remarks" }, words.map((line) => el("li", { text: line.trim() }))));
}

/** A link to the files of an answer. */
export function filesLink(app) {
  return el("p", { class: "no-print" }, el("a", { class: "button plain", href: `#/${encodeURIComponent(app.project.id)}/downloads` }, "Files of this answer"));
}
