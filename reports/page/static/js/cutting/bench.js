/** One marker cut beside the cloth, a step at a time: all of it is there at once, so the steps go on without the program. */

import { connection } from "../lib/api.js";
import { button, el, freshId, say } from "../lib/dom.js";
import { keepAwake } from "./awake.js";
import { doneSteps } from "./done.js";
import { lyingCloth } from "./lying.js";
import { projector } from "./projector.js";
import { alone, wholeScreen } from "./whole.js";

const LOST = "The program is not answering. The steps go on, and what is ticked off is kept in this browser: do not reload or close this page before it is there again.";

/** `{element, end}` for a marker that was chosen, and all that is told of it. */
export function bench(app, chosen, data) {
  const { steps } = data;
  const done = doneSteps(app, chosen, steps);
  const stages = new Map(steps.filter(({ piece }) => piece !== null).map(({ piece, stage }) => [piece, stage]));
  const cloth = lyingCloth(data);
  const panel = el("div", { class: "bench-step", "aria-live": "polite" });
  const count = el("p", { class: "bench-count" });
  const awake = el("p", { class: "quiet" });
  const lost = el("p", { class: "note", role: "alert", hidden: true });
  const tick = freshId("done");
  const box = el("input", { type: "checkbox", id: tick, on: { change: () => set(box.checked) } });
  const back = button("← Back", () => go(at - 1), { kind: "plain", class: "button plain bench-button" });
  const next = button("Next →", () => go(at + 1), { kind: "main", class: "button main bench-button" });
  const list = el("ol", { class: "bench-list" }, steps.map((step, i) => el("li", {}, button(`${step.number}. ${step.title}`, () => { go(i); next.focus(); }, { kind: "quiet" }))));
  const whole = wholeScreen(() => element);
  const lamp = button("Projector", () => openProjector());
  const stage = el("div", { class: "bench-stage" }, el("div", { class: "bench-cloth" }, cloth.element, el("p", { class: "help", text: keyWords(data) })), panel);
  const element = el("section", { class: "bench", "aria-label": "Cutting step by step", tabindex: -1 },
    el("div", { class: "bench-bar" }, el("h2", { text: data.title }), count, el("div", { class: "row" }, whole.button, lamp)),
    lost, stage,
    el("div", { class: "bench-foot" }, back, el("p", { class: "tick-line bench-tick" }, box, el("label", { for: tick, text: "Done" })), next));
  const below = el("div", { class: "stack no-print" }, awake,
    el("details", { class: "card" }, el("summary", { text: "All steps" }), list),
    el("details", { class: "card" }, el("summary", { text: "How distances are meant" }), lines(data.rules)),
    data.spare.length > 0 && el("details", { class: "card" }, el("summary", { text: "Spare cloth" }), lines(data.spare.map(({ words, layers }) => `${words}${layers > 1 ? `, ${layers} layers` : ""}`))),
    el("section", { class: "card" }, el("h2", { text: "Take care" }), lines(data.cautions)));
  let at = done.at();
  let close = () => {}; // the projector, if it is open

  const show = () => {
    const step = steps[at];
    panel.replaceChildren(...[
      el("p", { class: "bench-number", text: `Step ${step.number} of ${steps.length}` }),
      el("h3", { text: step.title }),
      step.figures.length > 0 && el("dl", { class: "bench-figures" }, step.figures.map(([label, words]) => el("div", {}, el("dt", { text: label }), el("dd", { text: unbroken(words) })))),
      el("ul", { class: "bench-lines" }, step.lines.map((line) => el("li", { text: line }))),
    ].filter(Boolean));
    cloth.show(step, (piece) => done.has(steps.findIndex((one) => one.piece === piece)), stages);
    box.checked = done.has(at);
    back.disabled = at === 0;
    next.disabled = at === steps.length - 1;
    count.textContent = `${done.count()} of ${steps.length} done`;
    [...list.children].forEach((item, i) => {
      item.classList.toggle("done", done.has(i));
      item.firstChild.setAttribute("aria-current", i === at ? "step" : "false");
    });
  };
  const go = (to) => {
    if (to < 0 || to >= steps.length) return;
    const held = document.activeElement;
    at = to;
    done.go(at);
    show();
    if (held?.disabled) (held === back ? next : back).focus();
  };
  const set = (isDone) => {
    done.set(at, isDone);
    show();
    say(`Step ${steps[at].number} is ${isDone ? "done" : "not done"}; ${steps.length - done.count()} left`);
  };
  const openProjector = () => {
    const beam = projector(data, { leave: () => { close(); lamp.focus(); } });
    element.append(beam.element);
    const others = alone(beam.element);
    close = () => { beam.end(); beam.element.remove(); others(); close = () => {}; };
    beam.begin();
  };
  const keys = (event) => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || element.querySelector(".beam")) return;
    if (event.target.closest?.("input:not([type=checkbox]), select, textarea, summary, dialog")) return;
    const isWhole = element.classList.contains("whole");
    const isHere = isWhole || element.contains(document.activeElement);
    const acts = {
      ArrowRight: () => go(at + 1), ArrowLeft: () => go(at - 1),
      ...(isHere && { Home: () => go(0), End: () => go(steps.length - 1), x: () => set(!done.has(at)) }),
      ...(isWhole && { PageDown: () => go(at + 1), PageUp: () => go(at - 1) }), // else they turn the page
    };
    if (!acts[event.key]) return;
    acts[event.key]();
    event.preventDefault();
  };
  const left = new AbortController();
  document.addEventListener("keydown", keys, { signal: left.signal });
  connection.addEventListener("offline", () => { lost.textContent = LOST; lost.hidden = false; }, { signal: left.signal });
  connection.addEventListener("online", () => { lost.hidden = true; }, { signal: left.signal });
  const sleep = keepAwake((words) => { awake.textContent = words; });
  show();
  return { element: el("div", { class: "stack" }, element, below), end: () => { close(); left.abort(); sleep(); whole.end(); } };
}

/** What the lines of the drawing are, as far as they are there. */
function keyWords({ chalked: { pattern, cloth, bands, selvedge }, spare }) {
  return [
    bands.some(({ low_edge: low, high_edge: high }) => [low, high].includes("fold")) && "Thick dashed edge: fold.",
    selvedge > 0 && "Grey edge: selvedge.",
    "Line with two heads: grain.",
    (pattern.along.length > 0 || pattern.across.length > 0) && "Dotted lines across the cloth: its pattern.",
    pattern.border && "Dash-dotted line: the border.",
    cloth.nap === true && "Arrow: nap, from the tops to the hems.",
    spare.length > 0 && "Dashed frames: spare cloth.",
  ].filter(Boolean).join(" ");
}

/** A figure with its unit on one line. */
const unbroken = (words) => (/\d/.test(words) ? words.replace(/(?<=\d) (?=\S{1,4}( |$))/g, "\u00a0") : words);

const lines = (all) => el("ul", { class: "remarks" }, all.map((line) => el("li", { text: line })));
