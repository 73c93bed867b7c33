/** A part of the page over the whole screen, where the browser allows it; else over the whole window. */

import { button } from "../lib/dom.js";

/** `{button, end}`; `of()` is the part. */
export function wholeScreen(of) {
  const words = (isWhole) => (isWhole ? "Leave the whole screen" : "Whole screen");
  const turn = button(words(false), () => set(!of().classList.contains("whole")), { "aria-pressed": "false" });
  let others = () => {};
  const set = (isWhole) => {
    if (of().classList.contains("whole") === isWhole) return;
    of().classList.toggle("whole", isWhole);
    document.documentElement.classList.toggle("covered", isWhole);
    turn.textContent = words(isWhole);
    turn.setAttribute("aria-pressed", String(isWhole));
    others();
    others = isWhole ? alone(of()) : () => {};
    if (isWhole) of().requestFullscreen?.().catch(() => {}); // over the window is enough
    else if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
  };
  const left = new AbortController();
  document.addEventListener("fullscreenchange", () => { if (!document.fullscreenElement && of().classList.contains("whole")) set(false); }, { signal: left.signal });
  return { button: turn, end: () => { left.abort(); set(false); } };
}

/** What is covered by a part of the page takes no keys, but what is said aloud; a function that gives it back. */
export function alone(part) {
  const covered = [];
  for (let at = part; at !== document.body && at.parentElement; at = at.parentElement) {
    covered.push(...[...at.parentElement.children].filter((one) => one !== at && one.id !== "live" && !one.inert));
  }
  covered.forEach((one) => { one.inert = true; });
  return () => covered.forEach((one) => { one.inert = false; });
}
