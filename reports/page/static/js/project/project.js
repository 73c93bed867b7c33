/** The project that is open: what it holds, and saving it as it changes. */

import { ApiError, call, connection } from "../lib/api.js";
import { debounced } from "../lib/dom.js";

/** `data` has the job, `answers` by kind, and `cut`, what is ticked off; null while none is open. */
export const project = { id: null, name: "", version: 0, data: null };

/** Tells `change` (anything), `saving`, `saved`, `unsaved`, `conflict`, and `refused` with why it cannot be saved. */
export const watch = new EventTarget();

const tabs = "BroadcastChannel" in window ? new BroadcastChannel("ellwand") : null;
let isDirty = false;
let saving = null;
let base = ""; // what a person had written when it was last the same here and on the server

const SEARCHED = new Set(["asked", "answers", "held"]); // what a search writes by itself

/** What a person has written of a project, to be compared. */
const written = ({ name, data }) => JSON.stringify([name, Object.entries(data).filter(([key]) => !SEARCHED.has(key)).sort(([one], [other]) => (one < other ? -1 : 1))]);

const tell = (what) => watch.dispatchEvent(new Event(what));
const copyKey = (id) => `ellwand.unsaved.${id}`;

/** Change the data of the open project; it is saved soon after. */
export function change(edit) {
  edit(project.data);
  touched();
}

/** Give the open project another name. */
export function rename(name) {
  project.name = name;
  touched();
}

function touched() {
  isDirty = true;
  keepCopy();
  tell("change");
  tell("unsaved");
  later();
}

const later = debounced(() => save(), 500);

// A copy in the browser outlives a server that was stopped between a change and its saving.
function keepCopy() {
  const { id, name, version, data } = project;
  try {
    localStorage.setItem(copyKey(id), JSON.stringify({ name, version, data }));
  } catch { /* no room: the server's copy is soon written */ }
}

function dropCopy(id) {
  try {
    localStorage.removeItem(copyKey(id));
  } catch { /* storage may be off */ }
}

function copyOf(id) {
  try {
    return JSON.parse(localStorage.getItem(copyKey(id)) ?? "null");
  } catch {
    return null;
  }
}

/** Save now, if anything changed; safe to call at any time. */
export async function save() {
  if (saving) return saving;
  if (!isDirty || !project.id) return null;
  saving = write().finally(() => { saving = null; });
  return saving;
}

async function write() {
  const { id, name, data, version } = project;
  const sent = written(project);
  isDirty = false;
  tell("saving");
  try {
    const answer = await call("PUT", `/api/projects/${encodeURIComponent(id)}`, { name, data, version });
    if (project.id !== id) return;
    project.version = answer?.version ?? version + 1;
    base = sent;
    tabs?.postMessage({ id, version: project.version });
    if (isDirty) return void later();
    dropCopy(id);
    tell("saved");
  } catch (error) {
    if (project.id !== id) return;
    isDirty = true;
    if (error instanceof ApiError && error.status === 409) setTimeout(() => join(id).catch(() => tell("conflict"))); // once this is over
    else {
      tell("unsaved");
      if (error.status >= 500) watch.dispatchEvent(new CustomEvent("refused", { detail: error.message }));
    }
  }
}

/** Two sides of a conflict go together where on one of them nothing is new but what a search has written. */
async function join(id) {
  const theirs = await call("GET", `/api/projects/${encodeURIComponent(id)}`);
  if (project.id !== id) return;
  if (written(theirs) === base) {
    for (const key of SEARCHED) {
      if (key in theirs.data) project.data[key] = theirs.data[key];
      else delete project.data[key];
    }
    project.version = theirs.version;
    later();
  } else if (written(project) === base) {
    dropCopy(id);
    isDirty = false;
    await open(id);
    tell("reloaded");
  } else tell("conflict");
}

connection.addEventListener("online", () => save());
addEventListener("pagehide", () => save());
document.addEventListener("visibilitychange", () => { if (document.hidden) save(); });

tabs?.addEventListener("message", async ({ data: { id, version } }) => {
  if (id !== project.id || isDirty || saving || version <= project.version) return;
  await open(id);
  watch.dispatchEvent(new Event("reloaded"));
});

/** Open a project by its id; changes that never reached the server are taken up again. */
export async function open(id) {
  if (project.id && project.id !== id) await save();
  const found = await call("GET", `/api/projects/${encodeURIComponent(id)}`);
  Object.assign(project, { id, name: found.name, version: found.version, data: found.data });
  base = written(project);
  isDirty = false;
  const copy = copyOf(id);
  if (copy?.data && JSON.stringify(copy.data) !== JSON.stringify(found.data)) {
    Object.assign(project, { name: copy.name, data: copy.data, version: copy.version });
    isDirty = true;
    await save();
  } else {
    dropCopy(id);
  }
  tell("change");
}

/** Make a project and open it; its id. */
export async function create(name, data) {
  const made = await call("POST", "/api/projects", { name, data });
  await open(made.id);
  return made.id;
}

/** Two tabs changed the same project: keep what is here, or take what is saved. */
export async function settle(keepsMine) {
  const mine = { name: project.name, data: project.data };
  dropCopy(project.id);
  isDirty = false;
  await open(project.id);
  if (!keepsMine) return void watch.dispatchEvent(new Event("reloaded"));
  Object.assign(project, mine);
  touched();
  await save();
}

/** Close the open project. */
export async function close() {
  await save();
  Object.assign(project, { id: null, name: "", version: 0, data: null });
  isDirty = false;
}
