/** What a projector throws on the table: a square to measure, a grid with rings at its corners, or pieces at true size. */

import { svg } from "../lib/dom.js";
import { INCH } from "../lib/units.js";
import { boxOf, nameOf, shifted, widthOf } from "../table/scene.js";
import { checkSide, fieldCorners, squareSide } from "./calibration.js";
import { foldsOf, linesRound } from "./folded.js";
import { mapped } from "./homography.js";

const CORNERS = ["lower left", "lower right", "upper right", "upper left"];
const RIM = 25; // mm of the table kept clear round a single piece
const BESIDE = 16; // mm from a line to words beside it

/** Draw anew; `moved(isCheck)` hears of rings that are dragged. */
export function drawBeam(picture, { data, held, state, size, moved }) {
  const focused = picture.contains(document.activeElement) ? document.activeElement.dataset.ring : null;
  const parts = {
    square: () => square(size),
    corners: () => [...grid(held, data.units), ...(held.corners ?? []).map((at, i) => ring(picture, `${CORNERS[i]} corner of the field`, at, (to) => { held.corners[i] = to; held.check = null; held.remap(); moved(false); }, String(i)))],
    check: () => (held.map ? [...grid(held, data.units), ...check(picture, held, moved)] : []),
    show: () => (held.map ? pieces(data, held, state) : []),
  }[state.mode]();
  picture.replaceChildren(...parts);
  if (focused !== null) picture.querySelector(`[data-ring="${focused}"]`)?.focus();
}

function square([wide, high]) {
  const side = squareSide([wide, high]);
  const [x, y] = [Math.round((wide - side) / 2), Math.round(0.06 * high)];
  return [svg("rect", { class: "beam-line", x, y, width: side, height: side }),
    svg("text", { class: "beam-words", x: x + side / 2, y: y + side / 2, "text-anchor": "middle" }, "measure this square")];
}

/** The points of the table on the screen; null if one is beyond the horizon. */
function onScreen(map, points) {
  const found = points.map((point) => mapped(map, point));
  return found.some((one) => !one) ? null : found.map(([x, y]) => `${x.toFixed(2)},${y.toFixed(2)}`).join(" ");
}

function line(map, points, kind = "beam-line") {
  const at = onScreen(map, points);
  return at ? [svg("polyline", { class: kind, points: at })] : [];
}

function closed(map, points, kind = "beam-line") {
  const at = onScreen(map, points);
  return at ? [svg("polygon", { class: kind, points: at })] : [];
}

function words(map, point, text, more = {}) {
  const at = mapped(map, point);
  return at ? [svg("text", { class: "beam-words", x: at[0], y: at[1], "text-anchor": "middle", "dominant-baseline": "central", ...more }, text)] : [];
}

function grid({ map, field: [along, across] }, units) {
  if (!map) return [];
  const step = units === "cm" ? 50 : 3 * INCH;
  const upright = Array.from({ length: Math.floor(along / step + 1e-6) + 1 }, (_, i) => line(map, [[i * step, 0], [i * step, across]], "beam-grid"));
  const level = Array.from({ length: Math.floor(across / step + 1e-6) + 1 }, (_, i) => line(map, [[0, i * step], [along, i * step]], "beam-grid"));
  return [...upright.flat(), ...level.flat(), ...closed(map, fieldCorners([along, across]))];
}

function check(picture, held, moved) {
  const [x, y] = held.middle();
  const arm = Math.min(...held.field) / 12;
  const at = held.check ?? mapped(held.map, [x, y]);
  return [...line(held.map, [[x - arm, y], [x + arm, y]]), ...line(held.map, [[x, y - arm], [x, y + arm]]),
    ring(picture, "the middle of the field, where it really is", at, (to) => { held.check = to; moved(true); }, "check")];
}

/** A ring that is dragged, or moved by arrow keys: a dot of the screen a step, with Shift ten. */
function ring(picture, name, [x, y], move, key) {
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const toScreen = (event) => {
    const { x: px, y: py } = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse());
    return [px, py];
  };
  return svg("g", {
    class: "ring", tabindex: 0, role: "button", "data-ring": key, "aria-label": `Ring for ${name}, ${Math.round(x)} across and ${Math.round(y)} down`,
    on: {
      keydown: (event) => {
        if (!arrows[event.key]) return;
        const [dx, dy] = arrows[event.key].map((one) => one * (event.shiftKey ? 10 : 1));
        event.preventDefault();
        move([x + dx, y + dy]);
      },
      pointerdown: (event) => {
        event.preventDefault();
        event.currentTarget.focus();
        const drag = (next) => move(toScreen(next));
        const drop = () => { removeEventListener("pointermove", drag); removeEventListener("pointerup", drop); removeEventListener("pointercancel", drop); };
        addEventListener("pointermove", drag);
        addEventListener("pointerup", drop);
        addEventListener("pointercancel", drop);
      },
    },
  }, svg("circle", { class: "ring-hold", cx: x, cy: y, r: 26 }), svg("circle", { class: "ring-line", cx: x, cy: y, r: 14 }),
  svg("path", { class: "ring-line", d: `M${x - 22} ${y}H${x - 4}M${x + 4} ${y}H${x + 22}M${x} ${y - 22}V${y - 4}M${x} ${y + 4}V${y + 22}` }));
}

function pieces(data, held, { what, from, up }) {
  const layout = data.found;
  const lower = layout.selvedge && layout.bands[0].low_edge === "selvedge" ? layout.selvedge : 0; // the cloth's own edge
  const only = what >= 0 ? boxOf(layout.placements[what].outline) : null;
  const [dx, dy] = only ? [RIM - only.x, RIM - only.y] : [-from, lower - up];
  const folds = foldsOf(layout);
  const shown = layout.placements.flatMap((placement, at) => (only && at !== what ? [] : piece(held.map, placement, nameOf(layout, at), folds, dx, dy)));
  return [...(only ? [] : clothLines(layout, held.map, [from, up], lower, data.units)), ...shown, ...(held.isMeasured ? [] : measuring(held, data.units))];
}

function piece(map, placement, name, folds, dx, dy) {
  const { outline, grain, notches = [] } = placement;
  const box = boxOf(outline);
  if (!onScreen(map, shifted(outline, dx, dy))) return [];
  const round = linesRound(placement, folds).flatMap(({ points, isFold }) => (isFold ? fold(map, shifted(points, dx, dy), box.y + box.width / 2 + dy) : line(map, shifted(points, dx, dy))));
  const named = grain ? [(grain[0][0] + grain[1][0]) / 2, (grain[0][1] + grain[1][1]) / 2 + BESIDE] : [box.x + box.length / 2, box.y + box.width / 2];
  return [...round, ...(grain ? line(map, shifted(grain, dx, dy), "beam-thin") : []),
    ...shifted(notches, dx, dy).flatMap((point) => { const at = mapped(map, point); return at ? [svg("circle", { class: "beam-dot", cx: at[0], cy: at[1], r: 4 })] : []; }),
    ...words(map, [named[0] + dx, named[1] + dy], name)];
}

/** A fold, and that it is not to be cut: the words stand on the side of the piece. */
function fold(map, points, middle) {
  const [[x0, y], [x1]] = [points[0], points.at(-1)];
  return [...line(map, points, "beam-fold"), ...words(map, [(x0 + x1) / 2, y + Math.sign(middle - y) * BESIDE], "fold: do not cut")];
}

/** Both edges of the cloth, its ends, and marks along it. */
function clothLines(layout, map, [from, up], lower, units) {
  const [step, unit] = units === "cm" ? [100, 10] : [6 * INCH, INCH];
  const top = widthOf(layout) + 2 * lower - up;
  const long = layout.length - from;
  const marks = [];
  for (let at = Math.ceil(from / step) * step; at <= layout.length; at += step) {
    marks.push(...line(map, [[at - from, -up], [at - from, 12 - up]], "beam-thin"), ...words(map, [at - from, -14 - up], String(Math.round(at / unit))));
  }
  return [...line(map, [[0, -up], [long, -up]], "beam-thin"), ...line(map, [[0, top], [long, top]], "beam-thin"),
    ...[0, long].flatMap((x) => line(map, [[x, -up], [x, top]], "beam-thin")), ...marks];
}

/** The square to lay a ruler on, above the field's middle. */
function measuring({ map, field }, units) {
  const side = checkSide(units);
  const [x, y] = [field[0] - side - RIM, field[1] - side - RIM];
  return [...closed(map, [[x, y], [x + side, y], [x + side, y + side], [x, y + side]], "beam-measure"),
    ...words(map, [x + side / 2, y + side / 2], units === "cm" ? "10 cm" : "4 in")];
}
