/** What was read of a pattern file, to be looked at and decided on: all outlines drawn and listed, each with its form. */

import { call } from "../lib/api.js";
import { dayWords } from "../lib/days.js";
import { confirmed } from "../lib/dialog.js";
import { button, el, say, svg } from "../lib/dom.js";
import { tickField } from "../lib/field.js";
import { tracing } from "../project/photoset.js";
import { drawPieces } from "../project/pieces.js";
import { units } from "../project/settings.js";
import { decisions } from "./decided.js";
import { dressed } from "./looks.js";
import { outlineForm } from "./outlineform.js";
import { plan } from "./plan.js";
import { handlesOf } from "./points.js";
import { keyOf, rows } from "./rows.js";
import { apart, boxOf, corrected, edgesOf, straightened } from "./shape.js";
import { chooseSize, sizesPart } from "./sizes.js";

const LEAST_NUMBERED = 160; // px: edges of a smaller outline are not numbered

/** Fill an element with a file that was read; `use(answer)` is run for its pieces, `onRead(answer)` whenever it was read again. */
export async function conversation(element, answer, { use, useWords = "Use these pieces", onRead = () => {} }) {
  await dressed();
  const again = async (changes, watch = "") => {
    const { id, units: unit, size, uses_legend: legend, told, changed } = answer.pattern;
    const asked = { told, units: unit, size, uses_legend: legend, shown_in: units(), changed, ...changes };
    return call("PUT", `/api/patterns/${id}${watch && `?watch=${watch}`}`, asked);
  };
  if (answer.choose_size) {
    element.replaceChildren(chooseSize(answer, async (size) => conversation(element, await again({ size }), { use, useWords, onRead })));
    return;
  }
  onRead(answer);
  const state = { chosen: null, mode: "", clicked: [] };
  const undone = el("span");
  const form = el("div", { class: "chosen-form" });
  const notes = el("div", { class: "stack notes" });
  const first = el("div", { class: "stack first-notes" });
  const key = el("div");
  const drawn = el("div", { class: "pieces" });
  const said = el("p", { class: "said wrong", role: "alert" });
  let learns = true;
  let outlines = [];
  let handles = null;

  const decided = decisions(answer.pattern.told, () => refresh());
  const settle = () => {
    outlines = answer.lines.outlines.map((one) => ({ ...one, toldBefore: one.sure === "told" && Boolean(decided.line(one)?.role) }));
    shape();
    if (state.chosen) state.chosen = outlines.find(({ numbers }) => numbers[0] === state.chosen.numbers[0]) ?? null;
  };
  const shape = () => {
    for (const outline of outlines) {
      outline.shown = outline.handles.length ? [corrected(outline, decided.moved(outline))] : outline.paths;
      outline.box = boxOf(outline.shown.flat());
    }
  };
  const isChosen = (outline) => outline === state.chosen;
  const isNarrow = () => matchMedia("(max-width: 60rem)").matches;
  const toDrawing = () => { if (isNarrow()) sheet.drawing.scrollIntoView({ block: "center" }); };
  const setMode = (mode) => { state.mode = mode; state.clicked = []; refresh(); if (mode) toDrawing(); };
  const pick = (outline, { scrolls = false } = {}) => {
    if (!outline && !answer.lines.is_drawing) return;
    state.chosen = outline;
    state.mode = "";
    refresh();
    if (!answer.lines.is_drawing) sheet.fit();
    if (!outline) return;
    list.focus(outline);
    if (scrolls && isNarrow()) form.scrollIntoView({ block: "nearest" });
    say(`Outline ${outline.numbers[0]}`);
  };
  const place = (at) => {
    const point = at.map((value) => Math.round(value * 100) / 100);
    if (state.mode === "fold") {
      const edges = edgesOf(state.chosen, state.chosen.shown[0]).filter(({ isStraight, long }) => isStraight && long > 20);
      const off = ({ a, b }) => apart(a, point) + apart(b, point) - apart(a, b);
      const edge = edges.sort((one, other) => off(one) - off(other))[0];
      if (!edge) return say("This piece has no straight edge");
      const { chosen } = state;
      state.mode = "";
      return decided.sayPiece(chosen, { fold: null, pair: null, fold_line: [edge.a, edge.b].map((each) => each.map((value) => Math.round(value * 100) / 100)) });
    }
    state.clicked.push(point);
    if (state.clicked.length < 2) return refresh();
    const [a, b] = state.clicked;
    if (apart(a, b) < 5) { state.clicked = [a]; return say("The second click is too near to the first"); }
    state.mode = "";
    state.clicked = [];
    return decided.sayPiece(state.chosen, { grain: null, grain_line: straightened(a, b, edgesOf(state.chosen, state.chosen.shown[0])) });
  };

  /** Pieces that a file lists may all begin at one point: one at a time is drawn. */
  const drawnNow = () => (answer.lines.is_drawing || !state.chosen ? outlines : outlines.filter(({ piece }) => piece === state.chosen.piece));
  const sheet = plan({ outlines: drawnNow, role: decided.role, pick: (outline) => pick(outline, { scrolls: true }), place, isChosen });
  const list = rows({ outlines: () => outlines, role: decided.role, pick: (outline) => pick(outline), isChosen, isTold: (outline) => Boolean(decided.line(outline)?.role) });

  const pieceOf = (outline) => {
    const there = answer.lines.pieces.find(({ numbers }) => numbers[0] === outline.numbers[0]);
    const made = there && answer.pieces.find(({ name }) => name === there.name);
    return made && { ...made, read: there.read, grainIsGuessed: there.grain_is_guessed && !decided.piece(outline)?.grain_line };
  };
  /** Read the file again in another way; what cannot be read is said, and all that was decided is still here. */
  const readAgain = async (changes) => {
    said.textContent = "";
    applying.disabled = true;
    const asked = { told: decided.told, ...changes };
    const progress = answer.photo && tracing("Making the pieces again …");
    if (progress) said.before(progress.element);
    try {
      const read = await (progress ? progress.during((watch) => again(asked, watch)) : again(asked));
      if (read.choose_size) return await conversation(element, read, { use, useWords, onRead });
      take(read);
      say("The pieces are made again");
    } catch (error) {
      said.textContent = `Not applied: ${error.message}. What you decided is still here.`;
    } finally {
      progress?.element.remove();
      applying.disabled = !decided.isChanged;
    }
    return undefined;
  };
  const takeApart = async (number) => {
    try {
      take(await call("POST", `/api/patterns/${answer.pattern.id}/apart/${number}`));
      say("The pieces are made again");
    } catch (error) {
      said.textContent = error.message;
    }
  };
  const forgetApart = async (number) => {
    if (!(await confirmed("Forget these decisions?", "They are only in the backup then.", "Forget"))) return;
    await call("DELETE", `/api/patterns/${answer.pattern.id}/apart/${number}`);
    answer.pattern.apart.splice(number, 1);
    showNotes();
  };
  const take = (read) => {
    answer = read;
    settleTold();
    settle();
    refresh();
    showNotes();
    drawPieces(drawn, { pieces: answer.pieces }, units());
    onRead(answer);
  };
  const settleTold = () => decided.take(answer.pattern.told);
  const undo = button("Undo", () => { state.mode = ""; decided.undo(); });
  const applying = button("Apply", () => readAgain({ learns }), { kind: "main" });
  const using = button(useWords, () => use(answer));

  const over = () => {
    const { chosen } = state;
    const marks = [];
    const there = answer.lines.pieces;
    for (const outline of drawnNow().filter((one) => decided.role(one) === "piece")) {
      const told = decided.piece(outline);
      const read = there.find(({ numbers }) => numbers[0] === outline.numbers[0]);
      const [grain, fold] = [told?.grain_line ?? read?.grain, told?.fold === "none" ? null : told?.fold_line ?? read?.fold];
      if (grain) marks.push(arrow(grain, outline === chosen ? "grain-shown chosen" : "grain-shown", sheet.scale()));
      if (fold) marks.push(svg("path", { class: "fold-shown", d: `M${fold[0][0]} ${-fold[0][1]}L${fold[1][0]} ${-fold[1][1]}` }));
    }
    for (const [x, y] of state.clicked) marks.push(svg("circle", { class: "clicked", cx: x, cy: -y, r: 5 / sheet.scale() }));
    const isLarge = chosen && (chosen.box.right - chosen.box.left + chosen.box.high - chosen.box.low) * sheet.scale() > LEAST_NUMBERED;
    if (isLarge && chosen.handles.length > 2 && decided.role(chosen) === "piece" && state.mode !== "points") marks.push(...edgeNumbers(chosen, sheet.scale()));
    return marks;
  };
  const refresh = () => {
    if (!outlines.length) settle();
    shape();
    if (state.mode && !(state.chosen && decided.role(state.chosen) === "piece")) state.mode = "";
    sheet.askPlace(["grain", "fold"].includes(state.mode));
    sheet.draw();
    list.show();
    undo.disabled = !decided.canUndo;
    applying.disabled = !decided.isChanged;
    undone.textContent = decided.isChanged ? "Decided, not applied yet" : "";
    using.disabled = decided.isChanged;
    key.replaceChildren(keyOf(outlines, decided.role));
    const held = document.activeElement?.closest?.(".chosen-form") && document.activeElement.dataset.field;
    const typed = held && document.activeElement.matches("input[type=text], input[type=number]");
    if (!typed) {
      form.replaceChildren(state.chosen
        ? outlineForm({ outline: state.chosen, piece: pieceOf(state.chosen), decided, units: units(), mode: state.mode, setMode, lookAt: () => { sheet.fit(state.chosen.box); toDrawing(); } })
        : el("p", { class: "empty", text: "Choose an outline in the drawing or in the list to say what it is." }));
      if (held) form.querySelector(`[data-field="${held}"]`)?.focus();
    }
    showHandles();
  };
  const showHandles = () => {
    if (state.mode !== "points") handles = null;
    else if (handles?.of === state.chosen) { handles.draw(); return; }
    const { chosen } = state;
    if (state.mode === "points") {
      handles = { of: chosen, ...handlesOf({ plan: sheet, outline: chosen, moved: () => decided.moved(chosen), shown: () => chosen.shown[0], move: (moved, mark) => decided.say(chosen, { moved }, mark), units: units() }) };
    }
    sheet.over.replaceChildren(...over(), ...(handles ? [handles.element] : []));
  };
  sheet.drawing.addEventListener("look", () => { if (handles) handles.draw(); sheet.over.replaceChildren(...over(), ...(handles ? [handles.element] : [])); });

  const showNotes = () => {
    const { lines, legend, changes, learned, pattern } = answer;
    const { left } = lines;
    first.replaceChildren(...[
      lines.alarms.length > 0 && el("div", { class: "note", role: "alert" }, el("ul", { class: "remarks" }, lines.alarms.map(({ number, words }) =>
        el("li", {}, words, " ", number && button(`Show ${number}`, () => { const found = outlines.find(({ numbers }) => numbers.includes(number)); pick(found); sheet.fit(); }, { kind: "quiet" }))))),
      legend && lines.by_legend > 0 && el("p", { class: "legend-note" }, `By your legend: ${lines.by_legend} of the lines. `, el("a", { href: `#/notebook/legend/${encodeURIComponent(legend)}` }, "Look at the legend"), " ",
        button("Read it without the legend", () => readAgain({ uses_legend: false }), { kind: "quiet" })),
      !pattern.uses_legend && el("p", { class: "legend-note" }, "Read without a legend. ", button("Use the legend for such files", () => readAgain({ uses_legend: true }), { kind: "quiet" })),
      pattern.units && el("p", { class: "legend-note" }, `Numbers are read in ${pattern.units}, as you chose. `, button("Read them as the file says", () => readAgain({ units: null }), { kind: "quiet" })),
      ...(pattern.apart ?? []).map((changed, number) => el("p", { class: "note" }, `Something else was decided of this file elsewhere, and came in by a backup (${dayWords(changed)}). `,
        button("Use that instead", () => takeApart(number), { kind: "quiet" }), button("Forget it", () => forgetApart(number), { kind: "quiet" }))),
      answer.is_known && el("p", { class: "note", text: "What you decided of this file before is used again." }),
    ].filter(Boolean));
    notes.replaceChildren(...[
      changes && el("section", { class: "card" }, el("h2", { text: "What has changed" }), el("ul", { class: "remarks" }, (changes.length ? changes : ["The pieces are the same as before."]).map((text) => el("li", { text })))),
      learned && learned.rules.length + learned.without.length > 0 && el("section", { class: "card" }, el("h2", { text: "Remembered for files of this program" }),
        el("ul", { class: "remarks" }, [...learned.rules.map((text) => el("li", { text })), ...learned.without.map((text) => el("li", { text: `Not remembered: ${text}: in this file not all of its lines are what you say` }))])),
      left.length > 0 && el("section", { class: "card" }, el("h2", { text: "Left out" }), el("ul", { class: "remarks" }, left.map((text) => el("li", { text })))),
      lines.unlisted > 0 && el("p", { class: "note", text: `${lines.unlisted} more outlines are not shown here.` }),
      sizesPart(answer, (size) => readAgain({ size })),
      el("details", { class: "card" }, el("summary", { text: "All that was said of the file" }), el("ul", { class: "remarks" }, answer.words.map((line) => el("li", { text: line.trim() }))),
        el("p", { class: "row" }, el("a", { class: "button plain", href: `/api/patterns/${pattern.id}/decisions`, download: "" }, "What is decided, as a file"))),
    ].filter(Boolean));
  };

  settle();
  element.replaceChildren(
    el("section", { class: "card reading" }, el("div", { class: "head" }, el("h2", {}, el("bdi", { text: answer.pattern.name })), el("span", { class: "quiet", text: answer.lines.marks.words })),
      el("div", { class: "row reading-bar" }, undo, applying, undone, using, answer.lines.marks.layers.length + answer.lines.marks.program.length > 0 && tickField({ name: "learns", label: "Remember for files of this program", value: true, store: (value) => { learns = value; } }).element), said,
      first, key,
      el("div", { class: "reading-parts" }, el("div", { class: "plan-frame" }, sheet.bar, sheet.drawing), el("div", { class: "beside-plan" }, form, list.element))),
    notes, drawn);
  if (!answer.lines.is_drawing) [state.chosen] = outlines;
  refresh();
  sheet.fit();
  showNotes();
  drawPieces(drawn, { pieces: answer.pieces }, units());
}

/** A grainline as an arrow. */
function arrow([[ax, ay], [bx, by]], kind, scale) {
  const long = Math.hypot(bx - ax, by - ay) || 1;
  const [ux, uy] = [(bx - ax) / long, (by - ay) / long];
  const head = Math.min(10 / scale, long / 4);
  const tip = (x, y, sign) => `M${x} ${-y}L${x - sign * head * (ux + 0.45 * uy)} ${-(y - sign * head * (uy - 0.45 * ux))}M${x} ${-y}L${x - sign * head * (ux - 0.45 * uy)} ${-(y - sign * head * (uy + 0.45 * ux))}`;
  return svg("path", { class: kind, d: `M${ax} ${-ay}L${bx} ${-by}${tip(bx, by, 1)}${tip(ax, ay, -1)}` });
}

/** The numbers of the edges of an outline, beside their middles. */
function edgeNumbers(outline, scale) {
  const [ring] = outline.shown;
  return edgesOf(outline, ring).map(({ from, to }, n) => {
    const many = (to - from + ring.length) % ring.length || ring.length;
    const at = (from + Math.floor(many / 2)) % ring.length;
    const [a, b] = many > 1 ? [ring[at], ring[at]] : [ring[from], ring[to]];
    return svg("text", { class: "edge-number", x: (a[0] + b[0]) / 2, y: -(a[1] + b[1]) / 2, "font-size": 11 / scale, "text-anchor": "middle", "aria-hidden": "true" }, String(n + 1));
  });
}
