/** A ruler laid on a marker: from one point to another, moved by the pointer or by keys. */

import { svg } from "../lib/dom.js";
import { formatField } from "../lib/units.js";

/** `{element, show, from, to, step, said}`; points are in the drawing's own frame. */
export function ruler(units, size) {
  const line = svg("line", { class: "ruler" });
  const ends = [0, 1].map(() => svg("circle", { class: "ruler-end", r: size / 3 }));
  const words = svg("text", { class: "ruler-words", "font-size": size, "text-anchor": "middle" });
  const element = svg("g", { class: "ruled", "aria-hidden": "true" }, line, ends, words);
  const points = [null, null];
  element.setAttribute("visibility", "hidden");

  const draw = () => {
    if (!points[0] || !points[1]) return;
    const [a, b] = points;
    element.setAttribute("visibility", "visible");
    for (const [name, value] of Object.entries({ x1: a.x, y1: a.y, x2: b.x, y2: b.y })) line.setAttribute(name, value);
    ends.forEach((end, i) => { end.setAttribute("cx", points[i].x); end.setAttribute("cy", points[i].y); });
    // Beside the line, and farther off the steeper it is: words are wider than high.
    const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    const [across, up] = [(b.y - a.y) / long, -Math.abs(b.x - a.x) / long];
    const off = size * (0.6 + 1.5 * Math.abs(across));
    words.setAttribute("x", (a.x + b.x) / 2 + Math.sign(b.x - a.x || 1) * across * off);
    words.setAttribute("y", (a.y + b.y) / 2 + up * off);
    words.textContent = said();
  };
  const said = () => (points[0] && points[1] ? formatField(Math.hypot(points[0].x - points[1].x, points[0].y - points[1].y), units) : "");
  return {
    element, said,
    get isLaid() { return Boolean(points[0]); },
    from: (point) => { points[0] = point; points[1] = point; draw(); },
    to: (point) => { points[1] = point; draw(); },
    /** Move the far end. */
    step: (dx, dy) => { points[1] = { x: points[1].x + dx, y: points[1].y + dy }; draw(); },
    show: (isShown) => element.setAttribute("visibility", isShown && points[0] ? "visible" : "hidden"),
  };
}
