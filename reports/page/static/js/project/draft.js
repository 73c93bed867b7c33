/** The pieces as they are drafted while values change. */

import { call } from "../lib/api.js";
import { debounced } from "../lib/dom.js";

const PATIENCE = 500; // ms: a value half written is often wrong, and soon no longer

/** Measurements that a garment goes by in a style: the arm's length only where no sleeve length is written. */
export function goneBy(garment, style) {
  return garment.asked.filter((name) => garment.measurements.includes(name) || !style?.sleeve);
}

/** Measurements that a job's garment cannot do without: neither there, nor given by a rule from those that are. */
export function lacking(job, catalogue) {
  const garment = catalogue.garments.find((each) => each.name === job.garment);
  const follows = (name) => catalogue.measurements.find((each) => each.name === name)?.follows_from?.every((from) => job.body?.[from]);
  return (garment ? goneBy(garment, job.style) : []).filter((name) => !job.body?.[name] && !follows(name));
}

/**
 * Drafts on demand: call `draft()` after each change. It asks at once, or as soon as the last answer has come, so
 * that the drawing keeps up with typing. `onDraft(draft)` hears of what goes together, `onErrors(errors)`, a little
 * later, of what does not. `pick(job)` says what of the job is sent.
 */
export function drafter({ job, pick = bodyAndStyle, onDraft, onErrors }) {
  const complain = debounced(onErrors, PATIENCE);
  let [isAsking, isAskedAgain, hasEnded] = [false, false, false];

  async function draft() {
    complain.cancel();
    isAskedAgain = isAsking;
    if (isAsking || hasEnded) return;
    isAsking = true;
    try {
      const drafted = await call("POST", "/api/draft", { job: pick(job()) });
      if (!isAskedAgain && !hasEnded) onDraft(drafted);
    } catch (error) {
      if (!error.errors) throw error;
      if (!error.isOffline && !isAskedAgain && !hasEnded) complain(error.errors);
    } finally {
      isAsking = false;
      if (isAskedAgain) draft();
    }
  }

  return { draft, end: () => { hasEnded = true; complain.cancel(); } };
}

/** A job without its cloth and rib: enough to draft. */
export function bodyAndStyle({ fabric, rib, ...rest }) {
  return rest;
}
