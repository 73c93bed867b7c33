/** The steps that are done, kept with the project and in this browser: those of pieces are the ticks of the table. */

import { ticks } from "../table/ticks.js";

/** `{has, set, count, at, go}` for the steps of a marker, counted from 0. */
export function doneSteps(app, { search, marker }, steps) {
  const pieces = ticks(app, search, marker);
  const held = () => app.project.data?.cutting?.steps?.[search]?.[marker] ?? {};
  const edit = (run) => app.change((data) => {
    const of = (((data.cutting ??= {}).steps ??= {})[search] ??= {});
    run(of[marker] ??= {});
  });
  const has = (at) => (steps[at].piece === null ? (held().done ?? []).includes(steps[at].number) : pieces.has(steps[at].piece));
  return {
    has,
    count: () => steps.filter((_, at) => has(at)).length,
    set(at, isDone) {
      const { number, piece } = steps[at];
      if (piece !== null) return void pieces.set(piece, isDone);
      edit((of) => { of.done = [...(of.done ?? []).filter((other) => other !== number), ...(isDone ? [number] : [])].sort((a, b) => a - b); });
    },
    /** Where one was last. */
    at: () => Math.min(Math.max(0, held().at ?? 0), steps.length - 1),
    go: (at) => edit((of) => { of.at = at; }),
  };
}
