/** Pieces moved by hand: the server says where each comes to lie; every state can be gone back to. */

import { call } from "../lib/api.js";
import { boxOf } from "./scene.js";

const path = (search, what) => `/api/searches/${encodeURIComponent(search)}/${what}`;

/**
 * `{now, move, undo, redo, keep, …}`. A state has `placements`, `legal`, `why`, `length` and `density` (a share);
 * `moved` is the piece that was moved last.
 */
export function hand(layout, { search, marker }) {
  const start = layout.placements;
  const states = [{ placements: start, legal: true, why: "", length: layout.length, density: layout.density_percent / 100, moved: null }];
  let at = 0;

  const placeOf = (placement, i) => {
    const { x, y } = boxOf(placement.outline);
    return placement.turn === start[i].turn ? [x, y] : [x, y, placement.turn];
  };
  const places = () => states[at].placements.map(placeOf);

  return {
    get now() { return states[at]; },
    get canUndo() { return at > 0; },
    get canRedo() { return at < states.length - 1; },
    get isChanged() { return at > 0; },
    undo() { if (at > 0) at -= 1; return states[at]; },
    redo() { if (at < states.length - 1) at += 1; return states[at]; },
    /** Let a piece go with the lower left corner of its box at x, y. */
    async move(piece, x, y, turn = null) {
      const answer = await call("POST", path(search, "move"), { marker, piece, x, y, ...(turn !== null && { turn }), placements: places() });
      const before = states[at].placements;
      const after = { ...before[piece], outline: answer.outline, turn: answer.turn ?? before[piece].turn, grain: answer.grain ?? null, band: answer.band ?? before[piece].band };
      states.length = at + 1;
      states.push({ placements: before.with(piece, after), legal: answer.legal, why: answer.why, length: answer.length_mm, density: answer.density, moved: piece });
      at += 1;
      return states[at];
    },
    /** Keep what lies there; the search, with its answer made anew. */
    keep: () => call("POST", path(search, "placements"), { marker, placements: places() }),
  };
}
