/** The way on and back at the foot of each step. */

import { button, el } from "../lib/dom.js";

/** Links to the step before and the one after `name`. */
export function nextSteps(app, name) {
  const at = app.steps.findIndex((step) => step.name === name);
  const [before, after] = [app.steps[at - 1], app.steps[at + 1]];
  return el("p", { class: "onward" },
    before && button(`← ${before.title}`, () => app.go(before.name)),
    after && button(`${after.title} →`, () => app.go(after.name), { kind: "main" }));
}
