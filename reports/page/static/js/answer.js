/** What to buy: searched for while one watches, stopped at any time, and kept. */

import { button, el, say, spoken } from "./dom.js";
import { lacking } from "./draft.js";
import { nextSteps } from "./footer.js";
import { liveView } from "./live.js";
import { shownResult } from "./result.js";
import { followSearch, readSearch, startSearch, stopSearch } from "./search.js";

const EFFORTS = [["quick", "Quick", "a few seconds"], ["good", "Good", "about half a minute"], ["long", "Long", "some minutes, at best"]];

export async function show(element, app) {
  const { project } = app;
  const stage = el("div", { class: "stack" });
  const left = new AbortController();
  element.append(el("h1", { text: "What to buy" }), stage, nextSteps(app, "answer"));
  const view = { app, stage, signal: left.signal };
  const asked = project.data.answers?.buy;
  if (!asked) showEmpty(view);
  else await showAsked(view, asked);
  return () => left.abort();
}

/** Nothing was searched yet, or not for what is asked now. */
function showEmpty(view, words = "") {
  const { job } = view.app.project.data;
  const missing = lacking(job, view.app.catalogue);
  const needs = [missing.length && ["who", `Still to measure: ${missing.map(spoken).join(", ").toLowerCase()}.`],
    !job.fabric?.length && ["cloth", "There is no cloth to lay the pieces on."]].filter(Boolean);
  view.stage.replaceChildren(...[el("section", { class: "card welcome" },
    words && el("p", { class: "wrong", role: "alert", text: words }),
    ...(needs.length
      ? [el("h2", { text: "Not everything is known yet" }),
        el("ul", { class: "remarks" }, needs.map(([step, said]) => el("li", {}, `${said} `, el("a", { href: `#/${encodeURIComponent(view.app.project.id)}/${step}` }, "Go there"))))]
      : [el("h2", { text: "Ready to be laid" }), startForm(view, "Find what to buy")])), keptList(view)].filter(Boolean));
}

function startForm(view, words, chosen = "good") {
  const said = el("p", { class: "wrong", role: "alert" });
  const begin = (event) => {
    event.preventDefault();
    start(view, new FormData(event.target).get("effort"), (told) => { said.textContent = told; });
  };
  return el("form", { class: "start", on: { submit: begin } },
    el("fieldset", { class: "efforts" }, el("legend", { text: "How long to look" }), EFFORTS.map(([value, title, help]) =>
      el("label", {}, el("input", { type: "radio", name: "effort", value, checked: value === chosen }), el("span", {}, el("b", { text: title }), el("small", { text: help }))))),
    el("button", { class: "button main large" }, words), said);
}

async function start(view, effort, complain) {
  const { project, change } = view.app;
  const [owner, job] = [project.id, structuredClone(project.data.job)];
  try {
    const asked = { search: await startSearch("buy", { job, effort }), effort, job };
    if (project.id !== owner) return;
    change((data) => { (data.answers ??= {}).buy = asked; });
    if (!view.signal.aborted) await follow(view, asked);
  } catch (error) {
    complain(error.status === 429 ? "Several searches are waiting already: try again when one of them has ended." : spoken(error.message));
  }
}

async function showAsked(view, asked) {
  try {
    const told = await readSearch(asked.search);
    if (told.state === "waiting" || told.state === "running") await follow(view, asked);
    else showEnd(view, asked, told);
  } catch (error) {
    if (error.name === "AbortError") return;
    if (error.status === 404) showEmpty(view, "The last answer is no longer kept: look again.");
    else throw error;
  }
}

/** Watch a search; views must not wait for its end. */
async function follow(view, asked) {
  const { app, stage, signal } = view;
  const live = liveView(app.project.data.job, { stop: () => stopSearch(asked.search).catch((error) => live.said(error.message)) });
  stage.replaceChildren(live.element);
  say("The search has begun");
  followSearch(asked.search, { onProgress: live.progress, onState: live.state, signal })
    .then((told) => { if (!signal.aborted) showEnd(view, asked, told); })
    .catch((error) => { if (error.name !== "AbortError") showEmpty(view, spoken(error.message)); })
    .finally(() => live.end());
}

function showEnd(view, asked, told) {
  const { app, stage } = view;
  if (told.state === "failed" || !told.result) return showEmpty(view, told.error ?? "It was stopped before anything was found.");
  const isOld = changedSince(asked.job, app.project.data.job);
  stage.replaceChildren(...[
    isOld && el("p", { class: "note" }, "Measurements, style or cloth have changed since: this is the answer to what they were."),
    shownResult(app, asked, told, (kept) => showEnd(view, asked, kept)),
    el("section", { class: "card no-print" }, el("h2", { text: isOld ? "Look again" : "Look on for better" }),
      startForm(view, isOld ? "Find what to buy now" : "Look again", isOld ? asked.effort : "long")),
    keptList(view),
  ].filter(Boolean));
  say(told.state === "stopped" ? "Stopped: the best so far is shown" : "The answer is there");
  return undefined;
}

/** Whether what was searched for is no longer what is asked; units change nothing. */
export function changedSince(before, now) {
  const plain = (job) => JSON.stringify(sorted({ ...job, units: null, garments: job.garments ?? 1 }));
  return plain(before) !== plain(now);
}

/** The same with its keys in order, however it was written. */
function sorted(value) {
  if (Array.isArray(value)) return value.map(sorted);
  if (!value || typeof value !== "object") return value;
  return Object.fromEntries(Object.keys(value).sort().map((key) => [key, sorted(value[key])]));
}

function keptList(view) {
  const { project, change } = view.app;
  const kept = project.data.kept ?? [];
  const shown = project.data.answers?.buy?.search;
  const open = (one) => { change((data) => { (data.answers ??= {}).buy = { search: one.search, effort: one.effort, job: one.job }; }); return showAsked(view, one); };
  const forget = (one) => { change((data) => { data.kept = kept.filter((each) => each !== one); }); list.replaceWith(keptList(view) ?? ""); };
  const list = kept.length > 0 && el("section", { class: "card no-print" }, el("h2", { text: "Kept answers" }),
    el("ul", { class: "names" }, kept.map((one) => el("li", {},
      el("button", { type: "button", class: "chip", "aria-pressed": String(one.search === shown), on: { click: () => open(one) } }, one.title),
      button("Forget", () => forget(one), { kind: "quiet", "aria-label": `Forget ${one.title}` })))));
  return list || null;
}
