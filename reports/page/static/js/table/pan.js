/** Zoom and pan of a drawing, by its view box. */

const CLOSEST = 24;
const STEP = 1.35;

/** `{zoom, zoomBy, pan, panBy, whole, refit, at}` for an SVG; `told` is called with how many times larger than whole it is shown. */
export function panned(element, box, told = () => {}) {
  let whole = box;
  let shown = { ...box };

  const apply = () => {
    const scale = whole.width / shown.width;
    shown.x = clamp(shown.x, whole.x, whole.x + whole.width - shown.width);
    shown.y = clamp(shown.y, whole.y, whole.y + whole.height - shown.height);
    element.setAttribute("viewBox", `${shown.x} ${shown.y} ${shown.width} ${shown.height}`);
    element.classList.toggle("zoomed", scale > 1.001);
    told(scale);
  };
  const middle = () => ({ x: shown.x + shown.width / 2, y: shown.y + shown.height / 2 });
  const zoom = (times, around = middle()) => {
    const scale = clamp((whole.width / shown.width) * times, 1, CLOSEST);
    const next = whole.width / scale / shown.width;
    shown = { x: around.x - (around.x - shown.x) * next, y: around.y - (around.y - shown.y) * next, width: shown.width * next, height: shown.height * next };
    apply();
  };
  return {
    zoom: (isIn, around) => zoom(isIn ? STEP : 1 / STEP, around),
    zoomBy: zoom,
    /** Move what is shown by parts of its size. */
    pan: (right, down) => { shown.x += right * shown.width; shown.y += down * shown.height; apply(); },
    panBy: (dx, dy) => { shown.x += dx; shown.y += dy; apply(); },
    whole: () => { shown = { ...whole }; apply(); },
    /** The drawing has become longer or shorter. */
    refit: (next) => {
      const wasWhole = whole.width === shown.width;
      whole = next;
      element.style.aspectRatio = `${next.width} / ${next.height}`;
      if (wasWhole) shown = { ...next };
      apply();
    },
    /** Where on the drawing a pointer is. */
    at: ({ clientX, clientY }) => new DOMPoint(clientX, clientY).matrixTransform(element.getScreenCTM().inverse()),
  };
}

const clamp = (value, low, high) => Math.min(Math.max(value, low), Math.max(low, high));
