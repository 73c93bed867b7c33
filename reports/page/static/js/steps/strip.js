/** The strip above the answer, and above all other views: what would be bought now, and what is still looked for. */

import { looking, now } from "../ask/looking.js";
import { button, el, spoken } from "../lib/dom.js";
import { formatTime } from "../lib/units.js";

/** `{element, show, progress, offer}`; `offer(run)` offers to show a newer answer, null takes it back. */
export function lookingStrip({ stop, lookLonger }) {
  const bought = el("div", { class: "bought-now" });
  const doing = el("p", { class: "doing", role: "status" });
  const actions = el("p", { class: "row" });
  const element = el("section", { class: "card strip no-print", "aria-label": "How the search stands" }, el("div", {}, bought, doing), actions);
  let waiting = null;

  const progress = () => { doing.replaceChildren(pulse(), el("span", { text: doingWords() })); };
  const show = () => {
    bought.replaceChildren(...boughtNow());
    element.classList.toggle("wrong", now.state === "faulty");
    if (now.state === "looking") progress();
    else doing.replaceChildren(el("span", { text: restingWords() }));
    actions.replaceChildren(...[
      waiting && button("Show the better answer", waiting, { kind: "main" }),
      now.state === "looking" && button("Stop", async ({ target }) => { target.disabled = true; target.textContent = "Stopping …"; await stop().catch(() => {}); }),
      (now.state === "resting" || now.state === "faulty") && button(now.answer ? "Look longer" : "Try again", () => lookLonger()),
    ].filter(Boolean));
  };
  return { element, show, progress, offer: (run) => { waiting = run; show(); } };
}

/** The same in one line, with a way to the answer: it stands above every other view of a project. */
export function showSmallStrip(element, address, isShown) {
  const paint = () => {
    const lines = now.holds ? boughtNow() : [];
    element.hidden = !isShown() || (!lines.length && now.state !== "looking");
    if (element.hidden) return;
    element.replaceChildren(...(now.state === "looking" ? [pulse()] : []),
      el("a", { href: address() }, lines.length ? lines : el("span", { text: "Laying the pieces for the first time" })));
  };
  looking.addEventListener("stand", paint);
  return paint;
}

const pulse = () => el("span", { class: "pulse", "aria-hidden": "true" });

/** What would be bought of each best cloth, and how much less is still possible, in the steps that it is sold in. */
function boughtNow() {
  if (!now.answer) return [];
  const { plan } = now.told.result;
  return plan.best.filter(({ kind }) => kind === "fabric").map(({ number }) => plan.fabrics[number - 1]).map((cloth) =>
    el("p", {}, el("b", { text: cloth.buy }), ` of ${cloth.name}, laid ${laid(cloth)}: `, isLeast(cloth)
      ? el("span", { class: "proved", text: "less is impossible, proved" })
      : el("span", { class: "open", text: `down to ${cloth.proof.least_buy} still possible` })));
}

/** How a cloth lies, as far as what is proved of it holds: folded over in part, perhaps at one depth alone. */
const laid = ({ spread, proof }) => spread.replaceAll("-", " ") + (proof.fold_depths === "this" ? " at this depth" : "");

/** Whether less cannot be bought; where more than is needed is bought for a lower price, it can. */
const isLeast = ({ buy_mm: buy, proof }) => proof.buys_least && proof.least_buy_mm >= buy - 1e-6;

function doingWords() {
  const { progress, rung, holds } = now;
  if (!holds) return "Laying the pieces for the first time";
  const { cloth, of, left_s: left, proving } = progress?.pace ?? {};
  const where = of > 1 && cloth ? `, cloth ${cloth} of ${of}` : "";
  if (proving) return `Looking for proof that less is impossible${where}`;
  const how = rung === "long" ? "Looking long for less" : "Looking for less";
  return `${how}${where}${left ? `, about ${formatTime(left)} left${rung === "long" ? ", then a proof" : ""}` : ""}`;
}

function restingWords() {
  const { state, missing = [], told, fault = "" } = now;
  if (state === "faulty") return spoken(fault);
  if (state === "lacking") return missing.length ? `Still to measure: ${missing.map(spoken).join(", ").toLowerCase()}.` : "There is no cloth to lay the pieces on yet.";
  if (!told) return "";
  return `Looked for ${formatTime(told.seconds)}${told.state === "stopped" ? " and stopped" : ""}.`;
}
