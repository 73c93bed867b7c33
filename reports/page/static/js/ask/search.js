/** Searches on the server: start one, follow it, stop it. */

import { call } from "../lib/api.js";
import { labelled } from "../lib/labels.js";

const path = (id, rest = "") => `/api/searches/${encodeURIComponent(id)}${rest}`;

/** Start a search of a job, or of an order for a run; its id. `better_than` is the answer to go on from. */
export async function startSearch(kind, { effort = "good", options = {}, ...subject }) {
  const body = { kind, effort, options, ...subject };
  return (await call("POST", "/api/searches", body)).id;
}

/** End a search; what it has found so far is its result. */
export const stopSearch = (id) => call("POST", path(id, "/stop"));

/** End a search and keep nothing of it: what it was asked for has changed. */
export const forgetSearch = (id) => call("DELETE", path(id));

/** How a search stands; what went wrong is told in the words of the page. */
export async function readSearch(id) {
  const told = await call("GET", path(id));
  return told.error ? { ...told, error: labelled(told.error) } : told;
}

const ENDED = new Set(["done", "stopped", "failed"]);

/**
 * Follow a search until it ends; a promise of how it stands then.
 * `onProgress` gets each better layout, `onState` every change of state, `signal` ends the following, not the search.
 */
export function followSearch(id, { onProgress = () => {}, onState = () => {}, signal } = {}) {
  return new Promise((resolve, reject) => {
    const source = new EventSource(path(id, "/events"));
    const end = async () => {
      source.close();
      try {
        resolve(await readSearch(id));
      } catch (error) {
        reject(error);
      }
    };
    const parsed = (run) => (event) => run(JSON.parse(event.data));
    source.addEventListener("progress", parsed(onProgress));
    source.addEventListener("state", parsed((told) => {
      onState(told.state ?? told);
      if (ENDED.has(told.state ?? told)) end();
    }));
    source.addEventListener("done", end);
    // The browser connects again by itself; a search that is gone for good would make it try for ever.
    source.addEventListener("error", async () => {
      try {
        const told = await readSearch(id);
        if (ENDED.has(told.state)) { source.close(); resolve(told); }
      } catch (error) {
        if (!error.isOffline) { source.close(); reject(error); }
      }
    });
    signal?.addEventListener("abort", () => { source.close(); reject(new DOMException("left", "AbortError")); });
  });
}
