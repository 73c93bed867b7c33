/** The marker as it lies on the cutting table: to look at closely, measure, change by hand, and tick off. */

import { chooser } from "../lib/chooser.js";
import { el, say } from "../lib/dom.js";
import { INCH } from "../lib/units.js";
import { factsPanel } from "./facts.js";
import { hand } from "./hand.js";
import { handBar } from "./handbar.js";
import { drawLayout, drawPiece } from "./layout.js";
import { panned } from "./pan.js";
import { pointers } from "./pointers.js";
import { ruler } from "./ruler.js";
import { boxOf, nameOf, placeWords, shifted, spokenFacts, viewBoxOf, widthOf } from "./scene.js";
import { tickList, ticks } from "./ticks.js";
import { toolbar } from "./toolbar.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const ROOM = 1.15; // cloth shown beyond the layout while pieces are moved

/** A layout with all that can be done about it, as an element; options as of `drawMarker`. */
export function table(layout, options) {
  const top = new Table(layout, options);
  return top.element;
}

class Table {
  constructor(drawn, options) {
    const { full_width: full = 0, usable_width: usable = 0 } = options.cloth ?? {};
    const layout = { ...drawn, selvedge: Math.max(0, (full - usable) / 2) };
    Object.assign(this, { original: layout, layout, options, units: options.units, mode: "look", chosen: null, lifted: null, isBusy: false });
    this.hand = hand(layout, options);
    this.ticks = ticks(options.app, options.search, options.marker);
    this.drawing = drawLayout(layout, { units: this.units, box: viewBoxOf(layout), label: (at) => this.label(at), sizes: drawn.sizes, nap: options.cloth?.nap === true });
    this.view = panned(this.drawing.element, viewBoxOf(layout), (scale) => this.tools?.scaled(scale));
    this.ruler = ruler(this.units, Math.max(layout.length, widthOf(layout)) / 32);
    this.drawing.element.append(this.ruler.element);
    this.facts = factsPanel(this);
    this.bar = handBar(this);
    this.tools = toolbar(this);
    this.list = tickList(this);
    this.element = this.assembled();
    this.listen();
    this.mark();
  }

  assembled() {
    const { stages } = this.options.cloth ?? {};
    const stageNames = stages?.length > 1 ? ["All", ...stages.map((stage, i) => `${i + 1}: ${stage.words}`)] : [];
    return el("section", { class: "table-top", "aria-label": "The marker on the table" },
      this.tools.element,
      stageNames.length > 0 && chooser("Show what is cut while the cloth lies", stageNames.map((name, i) => [String(i), name]), "0", (value) => this.showStage(Number(value) - 1), { class: "stages no-print" }),
      el("div", { class: "close" }, el("div", { class: "canvas" }, this.drawing.element, this.bar.element), this.facts.element),
      this.list.element);
  }

  label(at) {
    const cut = this.ticks.has(at) ? ". Cut" : "";
    return spokenFacts(this.layout, at, this.units) + cut;
  }

  /** "look", "move" or "measure". */
  turnTo(mode) {
    if (this.lifted) this.putBack();
    this.mode = mode;
    this.drawing.element.dataset.mode = mode;
    this.view.refit(this.box());
    this.ruler.show(mode === "measure");
    this.facts.show();
    this.bar.show();
    say({ look: "Looking", move: "Choose a piece, then move it by dragging or with the arrow keys", measure: "Drag from point to point, or move the ruler with the arrow keys" }[mode]);
  }

  box() {
    return viewBoxOf(this.layout, this.mode === "move" ? Math.max(this.layout.length, this.original.length) * ROOM : this.layout.length);
  }

  choose(at) {
    if (this.lifted && this.lifted.piece !== at) this.letGo();
    this.chosen = at;
    this.mark();
    this.facts.show();
    if (at !== null) say(spokenFacts(this.layout, at, this.units));
  }

  /** Classes and names of all pieces. */
  mark() {
    const bad = this.hand.now.legal ? null : this.hand.now.moved;
    const { stages } = this.options.cloth ?? {};
    const shown = this.stage >= 0 ? new Set(stages[this.stage].pieces) : null;
    this.drawing.pieces.forEach((group, at) => {
      group.setAttribute("aria-pressed", String(at === this.chosen));
      group.setAttribute("aria-label", this.label(at));
      for (const [name, is] of Object.entries({ chosen: at === this.chosen, cut: this.ticks.has(at), wrong: at === bad, dim: shown && !shown.has(at) })) group.classList.toggle(name, Boolean(is));
    });
    this.list?.mark();
    this.tools?.counted();
  }

  showStage(stage) {
    this.stage = stage;
    this.mark();
    say(stage < 0 ? "All pieces are shown" : `${this.options.cloth.stages[stage].pieces.length} pieces are cut in this stage`);
  }

  tick(at, isCut) {
    this.ticks.set(at, isCut);
    this.mark();
    this.facts.show();
    const left = this.layout.placements.length - this.ticks.count();
    say(`${nameOf(this.layout, at)} ${isCut ? "is cut" : "is not cut"}; ${left} left`);
  }

  // Moving

  /** Show a piece off its place, without asking yet. */
  lift(at, dx, dy) {
    const { outline } = this.layout.placements[at];
    this.lifted = { piece: at, dx, dy };
    drawPiece(this.drawing.pieces[at], this.layout, at, shifted(outline, dx, dy));
    this.drawing.pieces[at].classList.add("lifted");
    this.facts.show();
  }

  nudge(dx, dy) {
    if (this.chosen === null) return void say("Choose a piece first");
    const so = this.lifted ?? { dx: 0, dy: 0 };
    this.lift(this.chosen, so.dx + dx, so.dy + dy);
    say(`${nameOf(this.layout, this.chosen)}: ${placeWords(this.held(), this.chosen, this.units)}`);
  }

  /** The layout with the lifted piece where it is held just now. */
  held() {
    if (!this.lifted) return this.layout;
    const { piece, dx, dy } = this.lifted;
    const placement = this.layout.placements[piece];
    return { ...this.layout, placements: this.layout.placements.with(piece, { ...placement, outline: shifted(placement.outline, dx, dy) }) };
  }

  /** The turn that a piece may have after the one that it has; null if it may lie in one way only. */
  nextTurn(at) {
    const turns = this.original.turns?.[at] ?? [];
    const now = ((this.layout.placements[at].turn % 360) + 360) % 360;
    return turns.length > 1 ? turns[(turns.findIndex((turn) => Math.abs(turn - now) < 0.01) + 1) % turns.length] : null;
  }

  /** Turn the chosen piece where it lies. */
  turnPiece() {
    if (this.chosen === null) return void say("Choose a piece first");
    const turn = this.nextTurn(this.chosen);
    if (turn === null) return void say(`${nameOf(this.layout, this.chosen)} may lie in one way only on this cloth`);
    return this.letGo(turn);
  }

  putBack() {
    const { piece } = this.lifted;
    this.lifted = null;
    this.drawing.pieces[piece].classList.remove("lifted");
    drawPiece(this.drawing.pieces[piece], this.layout, piece, this.layout.placements[piece].outline);
    this.facts.show();
  }

  /** Let the lifted piece go: it comes to lie where it may. */
  async letGo(turn = null) {
    if (this.isBusy) return;
    const { piece, dx, dy } = this.lifted ?? { piece: this.chosen, dx: 0, dy: 0 };
    const { x, y } = boxOf(this.layout.placements[piece].outline);
    this.isBusy = true;
    this.drawing.element.setAttribute("aria-busy", "true");
    try {
      await this.hand.move(piece, x + dx, y + dy, turn);
      this.restore();
      const { legal } = this.hand.now;
      say(`${legal ? "" : "It cannot be cut like this. "}${nameOf(this.layout, piece)}: ${placeWords(this.layout, piece, this.units)}`);
    } catch (error) {
      if (this.lifted) this.putBack();
      this.bar.said(error.message);
    } finally {
      this.isBusy = false;
      this.drawing.element.removeAttribute("aria-busy");
    }
  }

  /** Show the state that the hand is at. */
  restore() {
    const { now } = this.hand;
    this.lifted = null;
    const ends = (band) => (band.x1 === this.original.length ? now.length : band.x1);
    this.layout = { ...this.original, placements: now.placements, length: now.length, bands: this.original.bands.map((band) => ({ ...band, x1: ends(band) })) };
    this.drawing.redraw(this.layout);
    this.drawing.pieces.forEach((group) => group.classList.remove("lifted"));
    this.view.refit(this.box());
    this.mark();
    this.facts.show();
    this.bar.show();
    this.list.redraw();
  }

  async keep() {
    try {
      const told = await this.hand.keep();
      say("The layout is kept");
      this.element.dispatchEvent(new CustomEvent("kept", { bubbles: true, detail: told }));
    } catch (error) {
      this.bar.said(error.message);
    }
  }

  // Pointer and keys

  listen() {
    let grip = null;
    pointers(this.drawing.element, this.view, {
      tap: (piece) => { this.choose(piece); if (piece !== null) this.drawing.pieces[piece].focus({ preventScroll: true }); },
      begin: (piece, at) => {
        if (this.mode === "measure") { this.ruler.from(at); return true; }
        if (this.mode !== "move" || piece === null || this.isBusy) return false;
        const held = this.lifted?.piece === piece ? this.lifted : { dx: 0, dy: 0 };
        this.choose(piece);
        grip = { x: at.x - held.dx, y: at.y + held.dy };
        return true;
      },
      drag: (at) => (this.mode === "measure" ? this.ruler.to(at) : this.lift(this.chosen, at.x - grip.x, grip.y - at.y)),
      end: (at) => {
        if (this.mode === "measure") { this.ruler.to(at); say(this.ruler.said()); this.facts.show(); } else this.letGo();
      },
      drop: () => { if (this.lifted) this.putBack(); },
    });
    this.element.addEventListener("keydown", (event) => this.key(event));
    this.drawing.pieces.forEach((group, at) => group.addEventListener("focus", () => { if (this.chosen !== at && group.matches(":focus-visible")) this.choose(at); }));
  }

  /** A step by key or button: `right` and `down` are -1, 0 or 1. */
  step(right, down, isLarge = false) {
    const mm = (this.units === "cm" ? 10 : INCH / 2) * (isLarge ? 10 : 1);
    if (this.mode === "look") this.view.pan(right / 8, down / 8);
    else if (this.mode === "move") this.nudge(right * mm, -down * mm);
    else {
      if (!this.ruler.isLaid) this.ruler.from({ x: 0, y: widthOf(this.layout) / 2 });
      this.ruler.step(right * mm, down * mm);
      say(this.ruler.said(), { rarely: true });
      this.facts.show();
    }
  }

  key(event) {
    if (event.target.closest("input, select, button, summary, table")) return;
    const { key, shiftKey, ctrlKey, metaKey } = event;
    const undoes = (ctrlKey || metaKey) && key.toLowerCase() === "z";
    if ((ctrlKey || metaKey) && !undoes) return;
    const acts = {
      "+": () => this.view.zoom(true), "=": () => this.view.zoom(true), "-": () => this.view.zoom(false), 0: () => this.view.whole(),
      Enter: () => (this.lifted ? this.letGo() : this.choose(this.focused())), " ": () => this.choose(this.focused()),
      Escape: () => (this.lifted ? this.putBack() : this.choose(null)),
      r: () => this.mode === "move" && this.turnPiece(),
      x: () => this.chosen !== null && this.tick(this.chosen, !this.ticks.has(this.chosen)),
    };
    if (undoes) this.back(shiftKey);
    else if (ARROWS[key]) this.step(...ARROWS[key], shiftKey);
    else if (acts[key === "R" ? "r" : key]) acts[key === "R" ? "r" : key]();
    else return;
    event.preventDefault();
  }

  focused() {
    const at = this.drawing.pieces.indexOf(document.activeElement);
    return at < 0 ? null : at;
  }

  /** Undo, or redo. */
  back(isForth) {
    if (this.isBusy) return;
    if (isForth) this.hand.redo();
    else this.hand.undo();
    this.restore();
    say(isForth ? "Done again" : "Undone");
  }
}
