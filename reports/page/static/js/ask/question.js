/**
 * What was asked for, a search of each kind: `answers` of a project holds the last that found something, `asked` the one
 * that is under way. Only one that found something takes the place of the answer before it.
 */

import { call } from "../lib/api.js";
import { button, el } from "../lib/dom.js";
import { orderOf } from "./order.js";
import { readSearch, startSearch } from "./search.js";

/** The view that shows the answer of each kind. */
const VIEW_OF = { buy: "answer", widths: "compare", saves: "compare", chart: "chart", run: "run" };

/** Start a search, `body` being the job or order, effort and options; null if another project was opened meanwhile. */
export async function ask(app, kind, body) {
  const owner = app.project.id;
  const kept = structuredClone(body);
  const search = await startSearch(kind, kept);
  if (app.project.id !== owner) return null;
  const { better_than: _, ...asked } = kept;
  app.change((data) => {
    (data.asked ??= {})[kind] = { ...asked, search };
    if (kind === "buy") delete data.held;
  });
  return search;
}

/**
 * How things stand: `{answer, told, running, fault, isGone}`. `answer` is what was asked, `told` its search as it ended;
 * `running` the id of a search under way; `fault` why the last one found nothing; `isGone` whether it is only gone.
 */
export async function standing(app, kind) {
  const stand = { answer: null, told: null, running: null, fault: "", isGone: false };
  const next = app.project.data.asked?.[kind];
  if (next) {
    const told = await found(next.search);
    if (app.project.data.asked?.[kind]?.search !== next.search) return standing(app, kind); // dropped, or asked anew, meanwhile
    if (isUnderWay(told)) stand.running = next.search;
    else app.change((data) => {
      delete data.asked[kind];
      if (told.result) (data.answers ??= {})[kind] = next;
    });
    if (!stand.running && !told.result) stand.fault = told.error ?? "The search was stopped before it found anything.";
  }
  const answer = app.project.data.answers?.[kind];
  if (!answer) return stand;
  const told = await found(answer.search);
  if (isUnderWay(told)) stand.running ??= answer.search; // begun by an earlier version, which kept no answer before it
  else if (told.result) Object.assign(stand, { answer, told });
  else {
    stand.isGone = !stand.fault && told.state === "gone";
    stand.fault ||= told.error;
  }
  return stand;
}

const isUnderWay = ({ state }) => state === "waiting" || state === "running";

/** A search; of one that cannot be shown any more, why. */
async function found(search) {
  try {
    return await readSearch(search);
  } catch (error) {
    if (error.status === 404) return { state: "gone", result: null, error: "The last answer is no longer kept: look again." };
    if (error.status === 409) return { state: "failed", result: null, error: error.message };
    throw error;
  }
}

/** What would be asked for now: the job, or the order; null where nothing can be asked as things are. */
export function subjectNow(app, kind) {
  if (kind !== "run") return { job: app.project.data.job };
  try {
    return { order: orderOf(app) };
  } catch {
    return { order: null };
  }
}

/** What has changed since an answer was asked for: `{field, name, was, now}` each, as the server tells it. */
export function changesSince(app, kind, answer) {
  return call("POST", `/api/searches/${encodeURIComponent(answer.search)}/changes`, subjectNow(app, kind));
}

/** A note of what has changed since, with a button that asks anew, by `lookAgain` if given; null if nothing has. */
export function staleNote(app, kind, answer, changes, lookAgain = null) {
  if (!changes.length) return null;
  const said = el("p", { class: "wrong", role: "alert" });
  const again = async () => {
    try {
      const { effort, options = {} } = answer;
      const isAsked = lookAgain ? await lookAgain() : await ask(app, kind, { ...subjectNow(app, kind), effort, options });
      if (isAsked !== null) app.go(VIEW_OF[kind]);
    } catch (error) {
      said.textContent = waitWords(error);
    }
  };
  return el("section", { class: "note changes", "aria-label": "Changed since" },
    el("p", { text: "This answer is out of date. Changed since then:" }),
    el("ul", {}, changes.map(({ name, was, now }) => el("li", {}, el("b", { text: name }), ": ", el("s", { text: was }), " → ", el("span", { text: now })))),
    el("p", { class: "row no-print" }, button("Find again", again)), said);
}

/** Why a search could not be started. */
export function waitWords(error) {
  return error.status === 429 ? "Several searches are waiting already: try again when one has ended." : error.message;
}
