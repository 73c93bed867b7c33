/** Points of an outline that are taken hold of: dragged, or moved by arrow keys. */

import { say, svg } from "../lib/dom.js";
import { formatField } from "../lib/units.js";
import { apart } from "./shape.js";

const [SIZE, LEAST] = [7, 0.05]; // px; mm: nearer to where it was is where it was
const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** Show the handles of an outline over a plan; `move(moved, mark)` keeps what is corrected. */
export function handlesOf({ plan, outline, moved, shown, move, units }) {
  const [ring] = outline.paths;
  const many = outline.handles.length;
  const size = () => SIZE / plan.scale();
  const group = svg("g", { class: "handles" });

  const put = (at, to, mark) => {
    const [x, y] = ring[at];
    const rest = moved().filter(([fromX, fromY]) => apart([fromX, fromY], [x, y]) > LEAST);
    move(apart([x, y], to) < LEAST ? rest : [...rest, [x, y, round(to[0]), round(to[1])]], mark);
  };

  const handles = outline.handles.map((at, n) => {
    const handle = svg("circle", { class: "handle", tabindex: 0, role: "button" });
    handle.addEventListener("keydown", (event) => {
      if (!KEYS[event.key]) return;
      event.preventDefault();
      const step = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
      const [x, y] = shown()[at];
      const [dx, dy] = KEYS[event.key];
      put(at, [x + dx * step, y + dy * step], `keys ${at}`);
      say(words(), { rarely: false });
    });
    let isHeld = false;
    handle.addEventListener("pointerdown", (event) => { isHeld = true; handle.setPointerCapture(event.pointerId); handle.focus({ preventScroll: true }); event.preventDefault(); });
    handle.addEventListener("pointermove", (event) => { if (isHeld) put(at, plan.placeOf(event), `drag ${at} ${event.pointerId}`); });
    handle.addEventListener("pointerup", () => { isHeld = false; });
    handle.addEventListener("pointercancel", () => { isHeld = false; });
    const words = () => `Point ${n + 1} of ${many}, moved ${formatField(apart(ring[at], shown()[at]), units)}`;
    return { at, handle, words };
  });

  const draw = () => {
    const now = shown();
    for (const { at, handle, words } of handles) {
      const [x, y] = now[at];
      for (const [name, value] of Object.entries({ cx: x, cy: -y, r: size(), "aria-label": words() })) handle.setAttribute(name, value);
      handle.classList.toggle("moved", apart(ring[at], now[at]) >= LEAST);
    }
  };
  group.append(...handles.map(({ handle }) => handle));
  draw();
  return { element: group, draw };
}

const round = (value) => Math.round(value * 100) / 100;
