/** The pieces as they are drafted while values change. */

import { call } from "./api.js";
import { debounced } from "./dom.js";

const WAIT = 120; // ms after the last key

/** Whether a job has all that its garment's draft cannot do without. */
export function lacking(job, catalogue) {
  const garment = catalogue.garments.find((each) => each.name === job.garment);
  return (garment?.measurements ?? []).filter((name) => !job.body?.[name]);
}

/**
 * Drafts on demand: call `draft()` after each change. Only the newest answer is told: `onDraft(draft)`, or `onErrors(errors)`.
 * `pick(job)` says what of the job is sent.
 */
export function drafter({ job, pick = bodyAndStyle, onDraft, onErrors }) {
  let last = null;
  const run = debounced(async () => {
    last?.abort();
    last = new AbortController();
    const { signal } = last;
    try {
      const draft = await call("POST", "/api/draft", { job: pick(job()) }, { signal });
      if (!signal.aborted) onDraft(draft);
    } catch (error) {
      if (error.name === "AbortError" || signal.aborted || error.isOffline) return;
      if (!error.errors) throw error;
      onErrors(error.errors);
    }
  }, WAIT);
  return { draft: run, end: () => { run.cancel(); last?.abort(); } };
}

/** A job without its cloth and rib: enough to draft. */
export function bodyAndStyle({ fabric, rib, ...rest }) {
  return rest;
}
