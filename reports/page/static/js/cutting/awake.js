/** The screen stays on while one cuts, where the browser can do that. */

const CANNOT = "This browser cannot keep the screen on here: set how long it stays on in the tablet’s own settings.";
const NOT_HERE = "The screen is kept on only where this page is opened on the machine itself, or by https: set how long it stays on in the tablet’s own settings.";

/** Ask for it; `told(words)` hears what came of it. A function that gives it up. */
export function keepAwake(told) {
  let lock = null;
  let hasEnded = false;
  const ask = async () => {
    if (!("wakeLock" in navigator)) return void told(window.isSecureContext ? CANNOT : NOT_HERE);
    try {
      lock = await navigator.wakeLock.request("screen");
      if (hasEnded) return void lock.release();
      told("The screen stays on.");
    } catch {
      told(CANNOT);
    }
  };
  // A browser gives it up whenever the page is out of sight.
  const again = () => { if (!document.hidden && !hasEnded) ask(); };
  document.addEventListener("visibilitychange", again);
  ask();
  return () => {
    hasEnded = true;
    document.removeEventListener("visibilitychange", again);
    lock?.release().catch(() => {});
  };
}
