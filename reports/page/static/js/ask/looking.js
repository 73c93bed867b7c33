/**
 * Looks for what to buy by itself: a first yardage as soon as a job makes sense, whatever view is shown; then, while the
 * answer is in view, longer and longer, and never worse, until a person stops it or nothing is left to find.
 */

import { debounced, spoken } from "../lib/dom.js";
import { fieldWords } from "../lib/labels.js";
import { lacking } from "../project/draft.js";
import { project, watch } from "../project/project.js";
import { ask, changesSince, standing, waitWords } from "./question.js";
import { followSearch, forgetSearch, stopSearch } from "./search.js";

/** How long to look, one after the other; each goes on from what the one before found. */
const RUNGS = ["first", "quick", "good", "long"];

const UNWATCHED = "quick"; // how long is looked while the answer is not in view

const PATIENCE = 400; // ms: a value half written is often wrong, and soon no longer
const AGAIN = 10_000; // ms until a full queue is asked again

/** Tells `stand` when anything but a layout is new, and `progress`, whose `detail` is a better layout or how far it is. */
export const looking = new EventTarget();

/**
 * How things stand: `state` is "lacking" (something is still to be entered), "looking", "resting" or "faulty"; `answer`
 * and `told` are the last answer and its search, `changes` what has changed since, and `holds` whether its layouts do
 * hold all the same; `rung` is how long is looked now, `progress` the last heard of it, `missing` what is lacking and
 * `fault` what is wrong.
 */
export let now = {};

let app = null;
let isWatched = false; // whether the answer is in view
let owner = null; // the project that all of this is of
let turn = 0;
let followed = null; // the search that is followed, and how to leave it
let given = ""; // the job that was last looked at, as it was sent
let again = 0;

function stand(state, told = {}) {
  now = { ...now, state, ...told };
  looking.dispatchEvent(new Event("stand"));
}

/** Look from now on at the project that is open in `opened`. */
export function begin(opened) {
  app = opened;
  const soon = debounced(() => consider(), PATIENCE);
  watch.addEventListener("change", () => { reset(); soon(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) consider(true); });
}

/** Another project is open: what was followed is not its own. */
function reset() {
  if (owner === project.id) return;
  owner = project.id;
  leave();
  now = {};
  looking.dispatchEvent(new Event("stand"));
}

/** The answer is in view: it gets better from now on; the function returned says that it is no longer. */
export function lookOn() {
  isWatched = true;
  consider(true);
  return () => { isWatched = false; };
}

/** Stop; what was found so far is the answer. */
export async function stop() {
  if (followed) await stopSearch(followed.search);
}

/** Look longer from the answer that there is, or once more for one. */
export async function lookLonger() {
  given = "";
  await climb(now.answer && !now.changes.length ? now.answer : null, "long");
}

/** Look anew for the job as it is now. */
export const lookAgain = () => climb(null, RUNGS[0]);

/** Read again how things stand: the answer is another. */
export const refresh = () => consider(true);

/** Run `again` each time that another answer is there, until `signal` ends it. */
export function onAnswer(again, signal) {
  let shown = now.answer?.search;
  looking.addEventListener("stand", () => {
    if (now.answer?.search === shown) return;
    shown = now.answer?.search;
    again();
  }, { signal });
}

/** See what is to be done, if the job is another than before; `isAsked` looks anyway. */
async function consider(isAsked = false) {
  if (!project.id) return leave();
  const job = JSON.stringify([project.id, project.data.job]);
  if (job === given && !isAsked) return undefined;
  given = job;
  const mine = ++turn;
  try {
    await decide(mine);
  } catch (error) {
    if (mine === turn) fail(error);
  }
  return undefined;
}

async function decide(mine) {
  const known = await standing(app, "buy");
  const since = (search) => (search ? changesSince(app, "buy", { search }) : []);
  const [changes, changed] = await Promise.all([since(known.answer?.search), since(known.running)]);
  if (mine !== turn) return undefined;
  const holds = Boolean(known.answer) && changes.every(({ field }) => field.endsWith(".price"));
  now = { ...now, answer: known.answer, told: known.told, changes, holds, missing: [], fault: known.isGone ? "" : known.fault };
  if (known.running && !changed.length) return follow(known.running);
  if (known.running) await drop(known.running);
  const { job, held } = project.data;
  now.missing = lacking(job, app.catalogue);
  if (now.missing.length || !job.fabric?.length) return stand("lacking");
  if (now.fault) return stand("faulty");
  const { answer } = known;
  if (answer && held === answer.search) return stand("resting"); // taken out again, to be looked at
  if (document.hidden) return stand("resting"); // another tab may be at it
  if (!answer || changes.length) return climb(now.holds ? answer : null, RUNGS[0], mine);
  const isFar = !isWatched && RUNGS.indexOf(looked(answer)) >= RUNGS.indexOf(UNWATCHED);
  return isDone(known) || isFar ? stand("resting") : climb(answer, next(looked(answer)), mine);
}

/** A search that nobody waits for any more: what it was asked for has changed. */
async function drop(search) {
  leave();
  app.change((data) => { delete data.asked?.buy; });
  await forgetSearch(search);
}

const next = (effort) => RUNGS[RUNGS.indexOf(effort) + 1];

/** How long was looked for an answer; where only a price has changed since, for the one it goes on from. */
const looked = ({ looked: before, effort }) => (RUNGS.indexOf(before) > RUNGS.indexOf(effort) ? before : effort);

/** Whether nothing is left to look for: a person stopped it, it was looked long, or less is proved impossible in every way. */
function isDone({ answer, told }) {
  const laid = told.result.plan.fabrics.filter(({ refused }) => !refused);
  return told.state === "stopped" || !next(looked(answer)) || laid.every(({ proof, other_ways: ways }) => proof.buys_least && ways.every(({ reason }) => reason));
}

async function climb(answer, effort, mine = ++turn) {
  try {
    const better = answer ? { better_than: answer.search } : {};
    const search = await ask(app, "buy", { job: project.data.job, effort, ...better });
    if (!search || mine !== turn) return;
    if (answer) app.change((data) => { data.asked.buy.looked = looked(answer); });
    follow(search);
  } catch (error) {
    if (mine === turn) fail(error);
  }
}

function follow(search) {
  if (followed?.search === search) return;
  leave();
  const left = new AbortController();
  followed = { search, left };
  stand("looking", { rung: project.data.asked?.buy?.effort, progress: null });
  followSearch(search, {
    signal: left.signal,
    onProgress: (progress) => {
      now.progress = { ...now.progress, ...progress };
      looking.dispatchEvent(new CustomEvent("progress", { detail: progress }));
    },
  }).then(() => {
    if (followed?.search === search) followed = null;
    return consider(true);
  }).catch((error) => { if (error.name !== "AbortError") fail(error); });
}

/** Follow nothing any more. */
function leave() {
  followed?.left.abort();
  followed = null;
}

function fail(error) {
  clearTimeout(again);
  if (error.status === 429) again = setTimeout(() => consider(true), AGAIN);
  if (error.isOffline) return; // said above everything
  const fault = error.status === 429 ? waitWords(error)
    : (error.errors ?? [error]).map(({ field, message }) => (field ? `${spoken(fieldWords(field))}: ${message}` : message)).join("; ");
  stand("faulty", { fault, progress: null });
}
