/** The marker, or one piece of it, at its true size under a projector; measured before anybody cuts by it. */

import { chooser } from "../lib/chooser.js";
import { button, el, freshId, say, svg } from "../lib/dom.js";
import { INCH, formatFraction, formatSize, parseLength } from "../lib/units.js";
import { nameOf, widthOf } from "../table/scene.js";
import { drawBeam } from "./beam.js";
import { calibration, checkSide, measuredSquare } from "./calibration.js";
import { wholeScreen } from "./whole.js";

const MODES = [["square", "1 Square"], ["corners", "2 Corners"], ["check", "3 Check"], ["show", "4 Show"]];
const HELP = {
  square: "The square is drawn on the table. Measure it with a ruler, and write its sides. This sets the scale; where the picture is not square as well, go on to the corners.",
  corners: "Lay a mat with a grid, and write the field of it to use. Drag each ring on to its corner of that field, or choose a ring and use the arrow keys (with Shift ten steps). The drawn grid must lie on the mat’s own.",
  check: "The cross should lie on the middle of the field. Drag the ring to where the middle of the mat’s field really is: it says how far off the picture is.",
  show: "Lay the start of the cloth on the line at 0, and its lower edge on the lower line. Arrow keys go along the cloth and across it, or from piece to piece.",
};
const CAUTION = "Measure the picture before you cut: a projector that was moved, tilted or zoomed shows a wrong size. Lay a ruler on the square that is drawn with the pieces.";

/** `{element, begin, end}` for all that is told of a marker. */
export function projector(data, { leave }) {
  const { units } = data;
  const held = calibration(units);
  const unit = units === "cm" ? 100 : 6 * INCH;
  const picture = svg("svg", { class: "beam-picture", role: "group" });
  const controls = el("div", { class: "beam-controls" });
  const tick = freshId("measured");
  const measured = el("input", { type: "checkbox", id: tick, on: { change: () => { held.isMeasured = measured.checked; caution.hidden = held.isMeasured; draw(); say(held.isMeasured ? "The picture is measured" : ""); } } });
  const caution = el("div", { class: "beam-caution", role: "alert" }, el("p", { text: CAUTION }), el("p", { class: "tick-line" }, measured, el("label", { for: tick, text: `I measured the square: its sides are ${formatSize(checkSide(units), units)}` })));
  const told = el("p", { class: "beam-told", role: "status" });
  const reveal = button("Controls", () => hide(false), { class: "button main beam-reveal", hidden: true });
  const element = el("section", { class: "beam", "data-look": "dark", "aria-label": "Projector" }, picture, el("div", { class: "beam-panel" }, controls, reveal, caution));
  const whole = wholeScreen(() => element);
  const state = { mode: held.map ? "check" : "square", what: -1, from: 0, up: 0 };

  const size = () => [element.clientWidth || innerWidth, element.clientHeight || innerHeight];
  const draw = () => {
    const [wide, high] = size();
    picture.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    drawBeam(picture, { data, held, state, size: [wide, high], moved });
    picture.setAttribute("aria-label", pictureWords(data, held, state));
    told.textContent = words();
    measured.disabled = !held.map || state.mode !== "show"; // the square is there to be measured
  };
  /** A ring was moved: the scale is another, and what was measured no longer holds. */
  const moved = (isCheck) => {
    if (!isCheck) unmeasured();
    draw();
  };
  const unmeasured = () => {
    held.isMeasured = measured.checked = caution.hidden = false;
  };
  const words = () => {
    if (state.mode === "check" && held.map) return errorWords(held.error(), units);
    if (state.mode !== "show" && held.map) return `One dot of the picture is up to ${held.dot().toFixed(1)} mm on the table.`;
    if (state.mode === "show") return state.what < 0 ? `The picture begins ${formatSize(state.from, units)} from the start of the cloth, ${formatSize(state.up, units)} from its lower edge.` : nameOf(data.found, state.what);
    return held.fault;
  };
  const field = (label, mm, store) => {
    const id = freshId("beam");
    const said = el("span", { class: "said" });
    const input = el("input", { id, value: mm ? formatSize(mm, units) : "", autocomplete: "off", on: { change: () => {
      try {
        const found = parseLength(input.value.replace(",", "."), units);
        if (!(found > 0)) throw new Error("write a length above 0");
        said.textContent = "";
        store(found);
        unmeasured();
        draw();
      } catch (error) { said.textContent = error.message; }
    } } });
    return el("div", { class: "field" }, el("label", { for: id, text: label }), input, said);
  };
  const own = {
    square: () => [el("div", { class: "row" },
      field("Measured across the screen", held.square[0], (mm) => { held.square[0] = mm; measuredSquare(held, size()); }),
      field("Measured down the screen", held.square[1], (mm) => { held.square[1] = mm; measuredSquare(held, size()); }))],
    corners: () => [el("div", { class: "row" },
      field("Field across", held.field[0], (mm) => { held.setField(mm, held.field[1]); }),
      field("Field deep", held.field[1], (mm) => { held.setField(held.field[0], mm); }))],
    check: () => [],
    show: () => [el("div", { class: "row" }, whatField(), button("Back along the cloth", () => step(-1)), button("On along the cloth", () => step(1)), button("Across: back", () => across(-1)), button("Across: on", () => across(1)),
      chooser("Lines", [["dark", "Dark on light"], ["light", "Light on dark"]], element.dataset.look, (look) => { element.dataset.look = look; }))],
  };
  const whatField = () => {
    const id = freshId("what");
    const names = data.found.placements.map((_, at) => el("option", { value: at, selected: state.what === at, text: nameOf(data.found, at) }));
    return el("div", { class: "field" }, el("label", { for: id, text: "Shown" }),
      el("select", { id, on: { change: ({ target }) => { state.what = Number(target.value); draw(); } } }, el("option", { value: -1, selected: state.what < 0, text: "The marker" }), names));
  };
  /** Half of the field, in whole steps of its grid. */
  const stride = (size) => Math.max(unit, Math.floor(size / 2 / unit) * unit);
  const within = (at, by, size, most) => Math.min(Math.max(0, at + by * stride(size)), Math.max(0, Math.ceil(most / unit - 1) * unit));
  const step = (by) => {
    if (state.what < 0) state.from = within(state.from, by, held.field[0], data.found.length);
    else {
      const count = data.found.placements.length;
      state.what = (state.what + by + count) % count;
      controls.querySelector("select").value = state.what;
    }
    draw();
    say(told.textContent);
  };
  const across = (by) => {
    state.up = within(state.up, by, held.field[1], widthOf(data.found));
    draw();
    say(told.textContent);
  };
  const turn = (mode) => {
    if (mode === "corners" || mode === "check") held.needCorners(size());
    state.mode = held.map || mode === "square" || mode === "corners" ? mode : "square";
    fill();
    draw();
    controls.querySelector(".beam-modes input:checked").focus();
  };
  const fill = () => controls.replaceChildren(
    chooser("What is set", MODES, state.mode, turn, { class: "beam-modes" }),
    el("p", { class: "help", text: HELP[state.mode] }), ...own[state.mode](), told,
    el("p", { class: "row" }, whole.button, button("Hide the controls (h)", () => hide(true)), button("Back to the steps", leave)));
  const hide = (isHidden) => {
    controls.hidden = isHidden;
    reveal.hidden = !isHidden;
    (isHidden ? reveal : controls.querySelector("button, input"))?.focus();
  };
  const keys = (event) => {
    if (event.target.closest?.("input:not([type=checkbox]):not([type=radio]), select") || event.ctrlKey || event.metaKey) return;
    const isRing = event.target.closest?.(".ring");
    const acts = { h: () => hide(!controls.hidden), Escape: () => { if (!document.fullscreenElement) leave(); } };
    if (state.mode === "show" && !isRing && event.target.type !== "radio") Object.assign(acts, { ArrowRight: () => step(1), ArrowLeft: () => step(-1), ArrowUp: () => across(1), ArrowDown: () => across(-1) });
    if (!acts[event.key]) return;
    acts[event.key]();
    event.preventDefault();
  };
  const left = new AbortController();
  const resized = () => {
    if (held.fits(size())) return;
    held.forget();
    state.mode = "square";
    unmeasured();
    fill();
    draw();
  };
  return {
    element,
    begin() {
      if (!held.fits(size())) { held.forget(); state.mode = "square"; }
      fill();
      draw();
      document.addEventListener("keydown", keys, { signal: left.signal });
      addEventListener("resize", resized, { signal: left.signal });
      controls.querySelector("input")?.focus();
    },
    end: () => { left.abort(); whole.end(); },
  };
}

/** How far off the picture is at the check point. */
export function errorWords(mm, units) {
  if (mm === null) return "Drag the ring to where the middle of the field really is.";
  const said = units === "cm" ? `${mm.toFixed(1)} mm` : `${formatFraction(mm / INCH, 16)} in (${mm.toFixed(1)} mm)`;
  const verdict = mm > INCH / 16 ? "That is more than 1/16 in (1.6 mm): set the corners again." : "That is no more than 1/16 in (1.6 mm).";
  return `Off by ${said} at the check point. ${verdict}`;
}

function pictureWords(data, held, { mode, what }) {
  if (mode === "show" && held.map) return what < 0 ? `${data.title} at its true size` : `${nameOf(data.found, what)} at its true size`;
  return { square: "A square to measure", corners: "A grid to lay on the mat’s own, with a ring at each corner", check: "A cross at the middle of the field, and a ring", show: "Nothing: the size is not set yet" }[mode];
}
