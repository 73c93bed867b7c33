/** A view for a tablet beside the cloth, or a projector above it: what is cut, and how, one step at a time. */

import { changesSince, staleNote, standing } from "../ask/question.js";
import { call } from "../lib/api.js";
import { el, freshId } from "../lib/dom.js";
import { bench } from "./bench.js";

export async function show(element, app) {
  const all = await cuttable(app);
  element.append(el("h1", { text: "Cut" }));
  if (!all.length) {
    element.append(el("p", { class: "empty" }, "There is no marker to cut from yet. ", el("a", { href: `#/${encodeURIComponent(app.project.id)}/answer` }, "See what to buy"), ", or plan a run."));
    return null;
  }
  const id = freshId("marker");
  const said = el("p", { class: "wrong", role: "alert" });
  const frame = el("div", { class: "stack" });
  const choice = el("select", { id }, all.map(({ words }, at) => el("option", { value: at, text: words })));
  const wanted = app.project.data.cutting?.chosen;
  choice.value = Math.max(0, all.findIndex((one) => (wanted ? one.kind === wanted.kind && one.marker === wanted.marker : one.isBest)));
  element.append(el("p", { class: "row no-print" }, el("label", { for: id, text: "What is cut" }), choice), said, frame);
  let shown = null;
  let hasLeft = false;
  const open = async () => {
    const one = all[Number(choice.value)];
    said.textContent = "";
    shown?.end();
    shown = null;
    frame.replaceChildren(el("p", { class: "loading", text: "Opening …" })); // nobody cuts by the one before
    try {
      const { kind, search, marker, answer } = one;
      const [data, changes] = await Promise.all([call("GET", `/api/searches/${encodeURIComponent(search)}/cutting/${marker}`), changesSince(app, kind, answer)]);
      if (all[Number(choice.value)] !== one || hasLeft) return;
      shown = bench(app, one, data);
      frame.replaceChildren(staleNote(app, kind, answer, changes) ?? "", shown.element);
    } catch (error) {
      if (all[Number(choice.value)] !== one) return;
      frame.replaceChildren();
      said.textContent = error.message;
    }
  };
  choice.addEventListener("change", () => {
    const { kind, marker } = all[Number(choice.value)];
    app.change((data) => { (data.cutting ??= {}).chosen = { kind, marker }; });
    open();
  });
  await open();
  return () => { hasLeft = true; shown?.end(); };
}

/** Every marker of the answers: those of what to buy, and the lays of a run. */
async function cuttable(app) {
  const [buy, run] = await Promise.all(["buy", "run"].map((kind) => standing(app, kind)));
  const found = [];
  if (buy.told) {
    const { plan, markers } = buy.told.result;
    const best = new Set(plan.best.filter(({ kind }) => kind === "fabric").map(({ number }) => number - 1));
    markers.forEach(({ fabric, cloth }, marker) => found.push({ kind: "buy", answer: buy.answer, search: buy.told.id, marker, isBest: best.has(fabric), words: `${cloth.name}, ${cloth.words}` }));
  }
  if (run.told) {
    run.told.result.tickets.forEach(({ number, part, garments }, marker) => found.push({
      kind: "run", answer: run.answer, search: run.told.id, marker, isBest: false, words: `Lay ${number} of the run: ${part}, ${Object.entries(garments).map(([size, count]) => `${count} × ${size}`).join(", ")}` }));
  }
  return found;
}
