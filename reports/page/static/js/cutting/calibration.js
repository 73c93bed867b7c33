/** What is known of a projector's picture: where it puts each point of the table, kept in this browser. */

import { INCH } from "../lib/units.js";
import { coarsest, homography, inverse, mapped, scaled } from "./homography.js";

const KEY = "ellwand.projector";

/** Side of the square that is measured before anybody cuts, mm. */
export const checkSide = (units) => (units === "cm" ? 100 : 4 * INCH);

/** Side of the square that sets the scale, in dots of the screen. */
export const squareSide = ([wide, high]) => Math.round(0.5 * Math.min(wide, high));

const usualField = (units) => (units === "cm" ? [600, 400] : [24 * INCH, 18 * INCH]);

/**
 * `map` takes points of the table, mm, from the lower left corner of the field, to dots of the screen; null as long as it
 * is not known. `corners` are those of the field on the screen, round from the lower left; `check` is where the middle of
 * the field was found.
 */
export function calibration(units) {
  const held = {
    map: null, corners: null, check: null, field: usualField(units), square: [0, 0], size: null, fault: "", isMeasured: false,
    middle: () => [held.field[0] / 2, held.field[1] / 2],
    fits: ([wide, high]) => !held.size || (held.size[0] === wide && held.size[1] === high),
    forget() { Object.assign(held, { map: null, corners: null, check: null, square: [0, 0], size: null, fault: "The window has another size now: set the scale again." }); },
    setField(along, across) { held.field = [along, across]; held.check = null; held.remap(); },
    /** Corners to begin with: where the scale puts them, or well within the screen. */
    needCorners([wide, high]) {
      held.size = [wide, high];
      if (held.corners) return;
      const found = held.map && fieldCorners(held.field).map((corner) => mapped(held.map, corner));
      const isSeen = found?.every(([x, y]) => x >= 0 && x <= wide && y >= 0 && y <= high);
      held.corners = isSeen ? found : [[0.25, 0.6], [0.75, 0.6], [0.75, 0.15], [0.25, 0.15]].map(([x, y]) => [Math.round(x * wide), Math.round(y * high)]);
      held.remap();
    },
    /** The map by the corners, if they are a field. */
    remap() {
      if (!held.corners) return;
      try {
        held.map = homography(fieldCorners(held.field), held.corners);
        held.fault = "";
        keep(held);
      } catch (error) {
        held.map = null;
        held.fault = `This cannot be: ${error.message}.`;
      }
    },
    /** How far the picture is off where the middle was found, mm; null before it was looked for. */
    error() {
      if (!held.check || !held.map) return null;
      const found = mapped(inverse(held.map), held.check);
      const [x, y] = held.middle();
      return found ? Math.hypot(found[0] - x, found[1] - y) : Infinity;
    },
    /** The largest that a dot of the screen is on the field, mm. */
    dot: () => Math.max(...fieldCorners(held.field).map((corner) => coarsest(inverse(held.map), mapped(held.map, corner)))),
  };
  return Object.assign(held, kept());
}

/** The corners of a field, round from the lower left. */
export const fieldCorners = ([along, across]) => [[0, 0], [along, 0], [along, across], [0, across]];

/** The scale by a square of the screen whose sides were measured; it does away with corners set before. */
export function measuredSquare(held, size) {
  const [across, down] = held.square;
  held.size = size;
  if (!(across > 0 && down > 0)) return;
  const side = squareSide(size);
  held.corners = held.check = null;
  held.map = scaled(side / across, side / down, [0.04 * size[0], 0.62 * size[1]]);
  held.fault = "";
}

function keep({ corners, field, size }) {
  try {
    localStorage.setItem(KEY, JSON.stringify({ corners, field, size }));
  } catch { /* it holds for this visit */ }
}

/** What was set on the same screen before; it must be checked and measured again. */
function kept() {
  try {
    const { corners, field, size } = JSON.parse(localStorage.getItem(KEY) ?? "null") ?? {};
    if (!corners || !field || !size) return {};
    return { corners, field, size, map: homography(fieldCorners(field), corners) };
  } catch {
    return {};
  }
}
