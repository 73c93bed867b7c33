/** Elements, made without markup in strings: text never becomes HTML. */

const SVG = "http://www.w3.org/2000/svg";

/** An element: `props` are attributes, but for `text`, `on` (listeners) and `value`; false and null are left out. */
export function el(tag, props = {}, ...children) {
  return fill(document.createElement(tag), props, children);
}

/** The same for SVG. */
export function svg(tag, props = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), props, children);
}

function fill(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === "text") element.textContent = value;
    else if (name === "on") for (const [event, run] of Object.entries(value)) element.addEventListener(event, run);
    else if (name === "value") element.value = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(2).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** A button; `kind` is "main", "plain" or "quiet". */
export function button(words, run, { kind = "plain", ...props } = {}) {
  return el("button", { type: "button", class: `button ${kind}`, on: { click: run }, ...props }, words);
}

let count = 0;
/** An id that no other element has. */
export function freshId(stem) {
  count += 1;
  return `${stem}-${count}`;
}

/** "across_shoulder" as people read it. */
export function spoken(name) {
  const words = String(name).replace(/([a-z])_(?=[a-z])/g, "$1 ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

let lastSaid = 0;
/** Tell people who listen rather than look; `rarely` at most every six seconds. */
export function say(words, { rarely = false } = {}) {
  if (rarely && Date.now() - lastSaid < 6000) return;
  lastSaid = Date.now();
  document.getElementById("live").textContent = words;
}

/** Run after nothing has called for a while. */
export function debounced(run, wait) {
  let timer = 0;
  const later = (...values) => {
    clearTimeout(timer);
    timer = setTimeout(run, wait, ...values);
  };
  later.cancel = () => clearTimeout(timer);
  return later;
}
