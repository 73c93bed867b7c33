/** Fingers, pens and the mouse on a drawing: a tap, a drag, two fingers, the wheel. */

const STILL = 6; // px within which a drag is still a tap

/**
 * Listen to a drawing. `acts` has `tap(piece, at)`, `begin(piece, at)` - true if the drag that begins is a tool's, not
 * a pan -, `drag(at)`, `end(at)` and `drop()`, for a drag that came to nothing.
 */
export function pointers(element, view, acts) {
  const down = new Map();
  let first = null;
  let isOurs = false;
  let isDrag = false;
  let spread = null;

  const pieceOf = (target) => {
    const group = target.closest?.("[data-piece]");
    return group ? Number(group.dataset.piece) : null;
  };
  const two = () => {
    const [a, b] = [...down.values()];
    return { apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY), clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 };
  };
  const pinch = () => {
    const now = two();
    const [before, at] = [view.at(spread), view.at(now)];
    view.panBy(before.x - at.x, before.y - at.y);
    view.zoomBy(now.apart / Math.max(1, spread.apart), view.at(now));
    spread = now;
  };

  element.addEventListener("pointerdown", (event) => {
    if (event.button > 0) return;
    down.set(event.pointerId, event);
    if (down.size === 2) {
      if (isDrag && isOurs) acts.drop();
      [spread, first] = [two(), null];
    } else if (down.size === 1) {
      const piece = pieceOf(event.target);
      first = { event, piece, at: view.at(event) };
      isDrag = false;
      isOurs = acts.begin(piece, first.at);
      if (isOurs) event.preventDefault();
    }
  });
  element.addEventListener("pointermove", (event) => {
    if (!down.has(event.pointerId)) return;
    down.set(event.pointerId, event);
    if (spread && down.size === 2) return void pinch();
    if (!first || down.size !== 1) return;
    if (!isDrag && Math.hypot(event.clientX - first.event.clientX, event.clientY - first.event.clientY) < STILL) return;
    if (!isDrag) element.setPointerCapture(event.pointerId);
    isDrag = true;
    const at = view.at(event);
    if (isOurs) acts.drag(at);
    else view.panBy(first.at.x - at.x, first.at.y - at.y);
  });
  const up = (event) => {
    if (!down.delete(event.pointerId)) return;
    if (first && event.type === "pointercancel") { if (isOurs) acts.drop(); }
    else if (first && isDrag) { if (isOurs) acts.end(view.at(event)); }
    else if (first) acts.tap(first.piece, first.at);
    first = null;
    if (down.size < 2) spread = null;
  };
  element.addEventListener("pointerup", up);
  element.addEventListener("pointercancel", up);
  // The wheel scrolls the page, until the drawing is being used.
  element.addEventListener("wheel", (event) => {
    const isUsed = event.ctrlKey || element.closest(".table-top")?.contains(document.activeElement) || element.classList.contains("zoomed");
    if (!isUsed) return;
    event.preventDefault();
    view.zoomBy(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0015)), view.at(event));
  }, { passive: false });
}
