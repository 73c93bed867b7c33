/** A part of the page over the whole screen, where the browser allows it; else over the whole window. */

import { button } from "../lib/dom.js";

/** `{button, end}`; `of()` is the part. */
export function wholeScreen(of) {
  const words = (isWhole) => (isWhole ? "Leave the whole screen" : "Whole screen");
  const turn = button(words(false), () => set(!of().classList.contains("whole")), { "aria-pressed": "false" });
  const set = (isWhole) => {
    of().classList.toggle("whole", isWhole);
    document.documentElement.classList.toggle("covered", isWhole);
    turn.textContent = words(isWhole);
    turn.setAttribute("aria-pressed", String(isWhole));
    if (isWhole) of().requestFullscreen?.().catch(() => {}); // over the window is enough
    else if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
  };
  const left = new AbortController();
  document.addEventListener("fullscreenchange", () => { if (!document.fullscreenElement && of().classList.contains("whole")) set(false); }, { signal: left.signal });
  return { button: turn, end: () => { left.abort(); set(false); } };
}
