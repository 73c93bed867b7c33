/** The drawing of a file: each outline numbered, with its colour, its dash and its letter; moved and enlarged by hand. */

import { el, button, svg } from "../lib/dom.js";
import { roleClass, roleLetter } from "./roles.js";
import { innermost, under } from "./shape.js";

const [LEAST_PART, STEP, REACH, WORDS] = [0.02, 1.4, 12, 13]; // of the whole; zoom a step; px: a click beside a line, height of numbers
const [MOST_NUMBERED, CROWDED] = [250, 150];

/**
 * `outlines()` gives them, each with `shown` (paths) and `box`; `role(outline)` its part; `pick(outline)` is run for a click, `place(point)`
 * for the next clicks while a place is asked for. `over` is a group for what is drawn above all.
 */
export function plan({ outlines, role, pick, place, isChosen }) {
  const lines = svg("g", { class: "lines-drawn" });
  const words = svg("g", { class: "numbers", "aria-hidden": "true" });
  const over = svg("g", { class: "over" });
  const drawing = svg("svg", { class: "plan", role: "group", "aria-label": "All outlines of the file, numbered", preserveAspectRatio: "xMidYMid meet" }, lines, words, over);
  let whole = { x: 0, y: 0, w: 100, h: 100 };
  let view = { ...whole };
  let asksPlace = false;
  let cycle = { at: null, turn: 0 };

  const scale = () => Math.min((drawing.clientWidth || 600) / view.w, (drawing.clientHeight || 400) / view.h); // px for a mm
  const look = () => {
    drawing.setAttribute("viewBox", `${view.x} ${view.y} ${view.w} ${view.h}`);
    number();
    drawing.dispatchEvent(new Event("look"));
  };
  const zoom = (by, [x, y] = [view.x + view.w / 2, view.y + view.h / 2]) => {
    const w = Math.min(whole.w, Math.max(LEAST_PART * whole.w, view.w / by));
    const share = w / view.w;
    view = { x: x - (x - view.x) * share, y: y - (y - view.y) * share, w, h: view.h * share };
    if (w === whole.w) view = { ...whole };
    drawing.classList.toggle("enlarged", w < whole.w);
    look();
  };

  /** Numbers beside their lines: none over another; where many are crowded, some wait until it is enlarged. */
  const number = () => {
    const size = WORDS / scale();
    const taken = [];
    const shown = [];
    const order = [...outlines()].sort((a, b) => isChosen(b) - isChosen(a) || extent(b) - extent(a));
    for (const outline of order.slice(0, MOST_NUMBERED)) {
      const text = `${outline.numbers[0]} ${roleLetter(role(outline))}`;
      const [w, h] = [text.length * 0.62 * size, 1.25 * size];
      if (order.length > CROWDED && extent(outline) < 2 * w && !isChosen(outline)) continue; // it waits until it is enlarged
      const spot = spots(outline, order, size).map(([x, y]) => [x, -y]).find(([x, y]) => inView(x, y) && !taken.some(([u, v, uw]) => Math.abs(x - u) < (w + uw) / 2 && Math.abs(y - v) < h));
      if (!spot) continue;
      taken.push([...spot, w]);
      shown.push(svg("text", { class: `${roleClass(role(outline))}${isChosen(outline) ? " chosen" : ""}`, x: spot[0], y: spot[1] + 0.35 * size, "font-size": size, "text-anchor": "middle" }, text));
    }
    words.replaceChildren(...shown);
  };
  const inView = (x, y) => x >= view.x && x <= view.x + view.w && y >= view.y && y <= view.y + view.h;

  const draw = () => {
    const order = [...outlines()].sort((a, b) => isChosen(a) - isChosen(b) || extent(b) - extent(a));
    lines.replaceChildren(...order.map((outline) => svg("path", {
      class: `${roleClass(role(outline))}${isChosen(outline) ? " chosen" : ""}`, d: outline.shown.map((points) => pathOf(points, outline.closed, 3 / scale())).join(""),
    })));
    number();
  };

  const fit = (box = null) => {
    const all = box ?? outlines().reduce((sum, { box: one }) => ({ left: Math.min(sum.left, one.left), low: Math.min(sum.low, one.low), right: Math.max(sum.right, one.right), high: Math.max(sum.high, one.high) }),
      { left: Infinity, low: Infinity, right: -Infinity, high: -Infinity });
    if (!Number.isFinite(all.left)) return;
    const pad = 0.05 * Math.max(all.right - all.left, all.high - all.low, 10);
    view = { x: all.left - pad, y: -all.high - pad, w: all.right - all.left + 2 * pad, h: all.high - all.low + 2 * pad };
    if (!box) whole = { ...view };
    else if (view.w > whole.w) view = { ...whole };
    drawing.classList.toggle("enlarged", view.w < whole.w);
    look();
  };

  /** Where an event is, mm in the file's frame. */
  const placeOf = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
    return [point.x, -point.y];
  };
  const click = (event) => {
    const at = placeOf(event);
    if (asksPlace) return place(at);
    const found = under(outlines(), at, REACH / scale());
    if (!found.length) return pick(null);
    const isSame = cycle.at && Math.hypot(cycle.at[0] - at[0], cycle.at[1] - at[1]) < REACH / scale();
    cycle = { at: isSame ? cycle.at : at, turn: isSame ? (cycle.turn + 1) % found.length : 0 }; // again at one place: what lies under it
    return pick(found[cycle.turn]);
  };

  let from = null;
  drawing.addEventListener("pointerdown", (event) => {
    if (event.target.closest(".handle")) return;
    from = { x: event.clientX, y: event.clientY, view: { ...view }, hasMoved: false };
  });
  drawing.addEventListener("pointermove", (event) => {
    if (!from || !event.buttons) return;
    const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
    if (Math.hypot(dx, dy) < 5 && !from.hasMoved) return;
    from.hasMoved = true;
    if (view.w < whole.w) view = { ...view, x: from.view.x - dx / scale(), y: from.view.y - dy / scale() };
    look();
  });
  drawing.addEventListener("pointerup", (event) => {
    if (from && !from.hasMoved) click(event);
    from = null;
  });
  drawing.addEventListener("pointercancel", () => { from = null; });
  drawing.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return; // the page scrolls on
    event.preventDefault();
    const [x, y] = placeOf(event);
    zoom(event.deltaY < 0 ? STEP : 1 / STEP, [x, -y]);
  }, { passive: false });
  const watched = new ResizeObserver(() => { if (drawing.isConnected) { number(); drawing.dispatchEvent(new Event("look")); } });
  watched.observe(drawing);

  const bar = el("div", { class: "row plan-bar" },
    button("+", () => zoom(STEP), { "aria-label": "Larger" }), button("−", () => zoom(1 / STEP), { "aria-label": "Smaller" }), button("All", () => fit()));
  return {
    drawing, bar, over, draw, fit, scale, placeOf,
    askPlace: (asks) => { asksPlace = asks; drawing.classList.toggle("asks-place", asks); },
    end: () => watched.disconnect(),
  };
}

const extent = ({ box }) => (box.right - box.left) + (box.high - box.low);

/** Places where the number of an outline may stand: on its line, or in its middle. */
function spots(outline, all, size) {
  const found = [];
  const { box } = outline;
  if (outline.closed && outline.role === "piece") {
    const middles = [0.5, 0.75, 0.25].map((share) => [(box.left + box.right) / 2, box.low + share * (box.high - box.low)]);
    found.push(...(all.length > CROWDED ? middles : middles.filter((at) => innermost(all, at) === outline)));
  }
  for (const points of outline.shown.slice(0, 3)) {
    for (const share of [0.5, 0.25, 0.75, 0.1, 0.9]) {
      const at = Math.min(points.length - 1, Math.floor(share * points.length));
      const next = points[(at + 1) % points.length];
      found.push(points.length > 1 ? [(points[at][0] + next[0]) / 2, (points[at][1] + next[1]) / 2] : [points[0][0], points[0][1] + size]);
    }
  }
  return found;
}

/** A line as a path; a point is a small cross. */
function pathOf(points, isClosed, cross) {
  if (points.length === 1) {
    const [[x, y]] = points;
    return `M${x - cross} ${-y - cross}l${2 * cross} ${2 * cross}m0 ${-2 * cross}l${-2 * cross} ${2 * cross}`;
  }
  return `M${points.map(([x, y]) => `${x.toFixed(2)} ${(-y).toFixed(2)}`).join("L")}${isClosed ? "Z" : ""}`;
}
