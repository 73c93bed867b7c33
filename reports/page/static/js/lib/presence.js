/** Tells the server that the page is open: one that was started by an icon ends with it. */

const AGAIN = 3000; // ms

/** Of all tabs of a browser one does so at a time: connections to a server are few. */
export function stay() {
  navigator.locks?.request("ellwand-open", hold);
}

async function hold() {
  for (;;) {
    try {
      const response = await fetch("/api/presence");
      if (response.status !== 200) return;
      const reader = response.body.getReader();
      while (!(await reader.read()).done);
    } catch { /* it may be started again */ }
    await new Promise((resolve) => setTimeout(resolve, AGAIN));
  }
}
