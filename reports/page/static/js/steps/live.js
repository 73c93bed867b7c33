/** A search as it goes on: the best layout so far, how long it is, and how it got there. */

import { el, say, svg } from "../lib/dom.js";
import { formatAlong, formatNeed, formatTime, percent } from "../lib/units.js";
import { units } from "../project/settings.js";
import { drawMarker } from "../table/marker.js";

/** `{element, progress, end}`. */
export function liveView(job) {
  const began = Date.now();
  const length = el("p", { class: "figure-large", text: "…" });
  const about = el("p", { class: "about", text: "Drafting, and trying a first layout" });
  const clock = el("span", { class: "clock", text: "0 s" });
  const drawing = el("div", { class: "marker-frame" });
  const curve = el("div", { class: "curve" });
  const found = new Map();
  let waiting = 0;
  const ticking = setInterval(() => { clock.textContent = formatTime((Date.now() - began) / 1000); }, 1000);

  const paint = (progress) => {
    const points = found.get(progress.fabric) ?? [];
    length.textContent = formatNeed(progress.length_mm, units());
    about.textContent = [formatAlong(progress.length_mm, units()), nameOf(job, progress.fabric), progress.spread?.replaceAll("-", " "),
      progress.density && `${percent(progress.density)} of the cloth used`].filter(Boolean).join(" · ");
    if (progress.layout) drawMarker(drawing, progress.layout, { units: units(), isLive: true });
    curve.replaceChildren(points.length > 1 ? stepCurve(points) : "");
    say(`${formatNeed(progress.length_mm, units())} so far`, { rarely: true });
  };

  return {
    element: el("section", { class: "card live" },
      el("div", { class: "head progress" }, el("div", {}, el("h2", {}, el("span", { class: "pulse", "aria-hidden": "true" }), "Looking for the shortest layout"), length, about),
        el("div", { class: "stack end" }, el("p", { class: "quiet" }, "Looking for ", clock), curve)),
      drawing),
    progress: (progress) => {
      if (!progress.length_mm) return;
      const points = found.get(progress.fabric) ?? [];
      found.set(progress.fabric, [...points, [Date.now() - began, progress.length_mm]]);
      cancelAnimationFrame(waiting);
      waiting = requestAnimationFrame(() => paint(progress));
    },
    end: () => { clearInterval(ticking); cancelAnimationFrame(waiting); },
  };
}

function nameOf(job, fabric) {
  return typeof fabric === "number" ? job.fabric?.[fabric]?.name ?? `cloth ${fabric + 1}` : fabric;
}

/** How the length fell. */
function stepCurve(points) {
  const [wide, high] = [180, 44];
  const end = Math.max(points.at(-1)[0], 1);
  const lengths = points.map(([, mm]) => mm);
  const [low, top] = [Math.min(...lengths), Math.max(...lengths)];
  const x = (ms) => (ms / end) * (wide - 4) + 2;
  const y = (mm) => high - 4 - ((mm - low) / (top - low || 1)) * (high - 8);
  const line = points.map(([ms, mm], i) => (i ? `H${x(ms).toFixed(1)}V${y(mm).toFixed(1)}` : `M${x(ms).toFixed(1)} ${y(mm).toFixed(1)}`)).join("");
  return svg("svg", { viewBox: `0 0 ${wide} ${high}`, width: wide, height: high, "aria-hidden": "true" }, svg("path", { d: line }));
}
