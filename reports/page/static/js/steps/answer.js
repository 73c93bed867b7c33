/** What to buy: searched for while one watches, stopped at any time, and kept. */

import { ask, changesSince, staleNote, standing, waitWords } from "../ask/question.js";
import { followSearch, stopSearch } from "../ask/search.js";
import { button, el, say, spoken } from "../lib/dom.js";
import { lacking } from "../project/draft.js";
import { nextSteps } from "./footer.js";
import { liveView } from "./live.js";
import { shownResult } from "./result.js";

const EFFORTS = [["quick", "Quick", "a second or two"], ["good", "Good", "some seconds"], ["long", "Long", "a minute or more"]];

export async function show(element, app) {
  const stage = el("div", { class: "stack" });
  const left = new AbortController();
  element.append(el("h1", { text: "What to buy" }), stage, nextSteps(app, "answer"));
  await showStanding({ app, stage, signal: left.signal });
  return () => left.abort();
}

/** Watch a search that is under way; else show the answer there is, or what is still needed for one. */
async function showStanding(view) {
  const { answer, told, running, fault } = await standing(view.app, "buy");
  if (view.signal.aborted) return;
  if (running) follow(view, running);
  else if (answer) await showEnd(view, answer, told, fault);
  else showEmpty(view, fault && spoken(fault));
}

/** Nothing was searched yet, or nothing found. */
function showEmpty(view, words = "") {
  const { job } = view.app.project.data;
  const missing = lacking(job, view.app.catalogue);
  const needs = [missing.length && ["who", `Still to measure: ${missing.map(spoken).join(", ").toLowerCase()}.`],
    !job.fabric?.length && ["cloth", "There is no cloth to lay the pieces on yet."]].filter(Boolean);
  view.stage.replaceChildren(...[el("section", { class: "card welcome" },
    words && el("p", { class: "wrong", role: "alert", text: words }),
    ...(needs.length
      ? [el("h2", { text: "Some entries are missing" }),
        el("ul", { class: "remarks" }, needs.map(([step, said]) => el("li", {}, `${said} `, el("a", { href: `#/${encodeURIComponent(view.app.project.id)}/${step}` }, "Go there"))))]
      : [el("h2", { text: "Ready to lay" }), startForm(view, "Find what to buy")])), keptList(view)].filter(Boolean));
}

/** Asks how long to look; `more` is sent with the job. */
function startForm(view, words, { chosen = "good", more = {} } = {}) {
  const said = el("p", { class: "wrong", role: "alert" });
  const begin = async (event) => {
    event.preventDefault();
    const effort = new FormData(event.target).get("effort");
    try {
      const search = await ask(view.app, "buy", { job: view.app.project.data.job, effort, ...more });
      if (search && !view.signal.aborted) follow(view, search);
    } catch (error) {
      said.textContent = spoken(waitWords(error));
    }
  };
  return el("form", { class: "start", on: { submit: begin } },
    el("fieldset", { class: "efforts" }, el("legend", { text: "How long to look" }), EFFORTS.map(([value, title, help]) =>
      el("label", {}, el("input", { type: "radio", name: "effort", value, checked: value === chosen }), el("span", {}, el("b", { text: title }), el("small", { text: help }))))),
    el("button", { class: "button main large" }, words), said);
}

/** Watch a search; views must not wait for its end. The answer before it stays until it has found something. */
function follow(view, search) {
  const { app, stage, signal } = view;
  const live = liveView(app.project.data.job, { stop: () => stopSearch(search).catch((error) => live.said(error.message)) });
  stage.replaceChildren(live.element);
  say("The search has started");
  followSearch(search, { onProgress: live.progress, onState: live.state, signal })
    .then(() => { if (!signal.aborted) return showStanding(view); })
    .catch((error) => { if (error.name !== "AbortError") showEmpty(view, spoken(error.message)); })
    .finally(() => live.end());
}

async function showEnd(view, answer, told, fault = "") {
  const { app, stage, signal } = view;
  const changes = await changesSince(app, "buy", answer);
  if (signal.aborted) return;
  stage.replaceChildren(...[
    fault && el("p", { class: "note", role: "alert", text: `${spoken(fault)} The last answer still holds.` }),
    staleNote(app, "buy", answer, changes),
    shownResult(app, answer, told, (kept) => showHandMade(view, answer, kept)),
    el("section", { class: "card no-print" }, ...(changes.length
      ? [el("h2", { text: "Find again" }), startForm(view, "Find what to buy now", { chosen: answer.effort })]
      : [el("h2", { text: "Keep looking for a better layout" }),
        el("p", { class: "help", text: "The search continues from the layouts above: none gets longer, and what is proved stays proved." }),
        startForm(view, "Look again", { chosen: "long", more: { better_than: answer.search } })])),
    keptList(view),
  ].filter(Boolean));
  say(fault || (told.state === "stopped" ? "Stopped: showing the best so far" : "The answer is ready"));
}

/** A layout made by hand is the project's answer; beside one that was kept it has a search of its own. */
function showHandMade(view, answer, told) {
  const made = { ...answer, search: told.id };
  if (told.id !== answer.search) view.app.change((data) => {
    data.answers.buy = made;
    const cut = data.cut?.[answer.search];
    if (cut) data.cut[told.id] = structuredClone(cut);
  });
  return showEnd(view, made, told);
}

function keptList(view) {
  const { project, change } = view.app;
  const kept = project.data.kept ?? [];
  const shown = project.data.answers?.buy?.search;
  const open = ({ title: _, ...one }) => { change((data) => { (data.answers ??= {}).buy = one; }); return showStanding(view); };
  const forget = (one) => { change((data) => { data.kept = kept.filter((each) => each !== one); }); list.replaceWith(keptList(view) ?? ""); };
  const list = kept.length > 0 && el("section", { class: "card no-print" }, el("h2", { text: "Kept answers" }),
    el("ul", { class: "names" }, kept.map((one) => el("li", {},
      el("button", { type: "button", class: "chip", "aria-pressed": String(one.search === shown), on: { click: () => open(one) } }, one.title),
      button("Forget", () => forget(one), { kind: "quiet", "aria-label": `Forget ${one.title}` })))));
  return list || null;
}
