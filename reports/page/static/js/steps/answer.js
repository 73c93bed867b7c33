/** What to buy: a first yardage at once, a better one while one looks on, and never a worse one. */

import { lookAgain, lookLonger, looking, lookOn, now, refresh, stop } from "../ask/looking.js";
import { staleNote } from "../ask/question.js";
import { onHandCard } from "../ledger/covering.js";
import { button, el, say, spoken } from "../lib/dom.js";
import { carryTicks } from "../table/ticks.js";
import { nextSteps } from "./footer.js";
import { liveView } from "./live.js";
import { shownResult } from "./result.js";
import { lookingStrip } from "./strip.js";

export function show(element, app) {
  const left = new AbortController();
  const view = { app, stage: el("div", { class: "stack" }), strip: lookingStrip({ stop, lookLonger }), shown: "", live: null };
  element.append(el("h1", { text: "What to buy" }), view.strip.element, view.stage, nextSteps(app, "answer"));
  looking.addEventListener("stand", () => paint(view), { signal: left.signal });
  looking.addEventListener("progress", ({ detail }) => { view.live?.progress(detail); view.strip.progress(); }, { signal: left.signal });
  paint(view);
  const lookAway = lookOn();
  return () => { lookAway(); left.abort(); view.live?.end(); };
}

/** Show how things stand. An answer that one is at work on by hand stays until one asks for the new one. */
function paint(view) {
  view.strip.show();
  if (now.answer && (now.state !== "looking" || now.holds)) return showAnswer(view);
  view.shown = "";
  if (now.state === "looking") return showLive(view);
  endLive(view);
  return view.stage.replaceChildren(...[needed(view.app), keptList(view)].filter(Boolean));
}

function showAnswer(view) {
  endLive(view);
  const { answer, told, changes, fault } = now;
  const key = JSON.stringify([answer.search, changes, fault ?? ""]);
  if (key === view.shown) return;
  const isFirst = !view.shown;
  if (!isFirst && isAtWork(view.stage)) {
    view.strip.offer(() => showAnswer(Object.assign(view, { shown: "" })));
    return;
  }
  view.shown = key;
  view.strip.offer(null);
  const { scrollY } = globalThis;
  view.stage.replaceChildren(...[
    fault && el("p", { class: "note", role: "alert", text: `${spoken(fault)}${changes.length ? "" : " The last answer still holds."}` }),
    staleNote(view.app, "buy", answer, changes, lookAgain),
    shownResult(view.app, answer, told, (kept) => keepHandMade(view, answer, kept)),
    onHandCard(view.app, answer.search),
    keptList(view),
  ].filter(Boolean));
  scrollTo(0, scrollY);
  say(fault || (isFirst ? "The answer is ready" : "A better answer is shown"), { rarely: !isFirst });
}

/** Whether someone is at work on the drawing: pieces are moved by hand, or the focus is in it. */
function isAtWork(stage) {
  const bar = stage.querySelector(".hand-bar");
  return (bar && !bar.hidden) || Boolean(stage.querySelector(".drawn")?.contains(document.activeElement));
}

function showLive(view) {
  if (view.live) return;
  view.live = liveView(view.app.project.data.job);
  if (now.progress) view.live.progress(now.progress);
  view.stage.replaceChildren(view.live.element);
}

function endLive(view) {
  view.live?.end();
  view.live = null;
}

/** What is still needed for an answer, or what is wrong. */
function needed(app) {
  const { job } = app.project.data;
  const needs = [now.missing?.length && ["who", `Still to measure: ${now.missing.map(spoken).join(", ").toLowerCase()}.`],
    !job.fabric?.length && ["cloth", "There is no cloth to lay the pieces on yet."]].filter(Boolean);
  const words = now.fault && el("p", { class: "wrong", role: "alert", text: spoken(now.fault) });
  if (!words && !needs.length) return el("p", { class: "loading", text: "Drafting …" });
  return el("section", { class: "card welcome" }, words,
    ...(needs.length ? [el("h2", { text: "Some entries are missing" }),
      el("ul", { class: "remarks" }, needs.map(([step, said]) => el("li", {}, `${said} `, el("a", { href: `#/${encodeURIComponent(app.project.id)}/${step}` }, "Go there"))))] : []));
}

/** A layout made by hand is the project's answer; beside one that was kept it has a search of its own. */
function keepHandMade(view, answer, told) {
  const made = { ...answer, search: told.id };
  if (told.id !== answer.search) view.app.change((data) => {
    data.answers.buy = made;
    carryTicks(data, answer.search, told.id);
  });
  view.shown = "";
  return refresh();
}

function keptList(view) {
  const { project, change } = view.app;
  const kept = project.data.kept ?? [];
  const shown = project.data.answers?.buy?.search;
  const open = ({ title: _, ...one }) => {
    change((data) => { (data.answers ??= {}).buy = one; data.held = one.search; });
    view.shown = "";
    return refresh();
  };
  const forget = (one) => { change((data) => { data.kept = kept.filter((each) => each !== one); }); list.replaceWith(keptList(view) ?? ""); };
  const list = kept.length > 0 && el("section", { class: "card no-print" }, el("h2", { text: "Kept answers" }),
    el("ul", { class: "names" }, kept.map((one) => el("li", {},
      el("button", { type: "button", class: "chip", "aria-pressed": String(one.search === shown), on: { click: () => open(one) } }, one.title),
      button("Forget", () => forget(one), { kind: "quiet", "aria-label": `Forget ${one.title}` })))));
  return list || null;
}
