/** Form fields with their label, help, and what is wrong with them said beside them. */

import { el, freshId } from "./dom.js";
import { readPrice } from "./price.js";
import { formatField, hasUnit, parseLength, withPoint } from "./units.js";

/**
 * A field. `control` is its input; `note(words)` and `fail(words)` say something below it, "" takes it back;
 * `clear()` takes back what the server said, and leaves what the field itself has to say.
 * `name` is the server's name for it, such as `body.bust`.
 */
function framed(name, label, control, help) {
  const id = freshId("field");
  const said = el("span", { class: "said", id: `${id}-said` });
  const helped = help ? el("span", { class: "help", id: `${id}-help`, text: help }) : null;
  control.id = id;
  control.dataset.field = name;
  control.setAttribute("aria-describedby", [helped && `${id}-help`, `${id}-said`].filter(Boolean).join(" "));
  const element = el("div", { class: control.required ? "field needed" : "field" }, el("label", { for: id, text: label }), control, helped, said);
  const speak = (words, isFault) => {
    said.textContent = words ?? "";
    element.classList.toggle("wrong", Boolean(words) && isFault);
    element.classList.toggle("noted", Boolean(words) && !isFault);
    if (words && isFault) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
  };
  const note = (words) => speak(words, false);
  return { name, element, control, note, fail: (words) => speak(words, true), clear: () => note("") };
}

/**
 * A length. It shows its text as it was written, or in the units that are chosen now; what is typed without a
 * unit is taken to be in those; `asWritten` keeps it as it is, for what a shop says in its own. `check(mm)` may return
 * a note; `store(text)` gets the text, "" if it was emptied.
 */
export function lengthField({ name, label, help, text, units, placeholder, store, check = () => "", needed = false, asWritten = false }) {
  const input = el("input", {
    type: "text", inputmode: units === "cm" ? "decimal" : "text", autocomplete: "off", spellcheck: "false",
    value: asWritten ? text ?? "" : shown(text, units), placeholder: placeholder ?? null, required: needed,
  });
  const field = framed(name, label, input, help);
  /** The text with its unit, or nothing where it cannot be read; says what there is to say. */
  const look = (isLeft) => {
    let written = input.value.trim();
    if (!written) return void field.note("");
    try {
      written = withPoint(written);
      field.note(check(parseLength(written, units)));
      return hasUnit(written) ? written : `${written} ${units}`;
    } catch (error) {
      if (isLeft) field.fail(error.message);
      return undefined;
    }
  };
  const read = (isLeft) => {
    const whole = look(isLeft);
    if (whole && isLeft) input.value = whole;
    if (whole || !input.value.trim()) store(whole ?? "");
  };
  input.addEventListener("input", () => read(false));
  input.addEventListener("change", () => read(true));
  if (text) look(true);
  return { ...field, clear: () => look(document.activeElement !== input) };
}

function shown(text, units) {
  if (!text) return "";
  const isMetric = /\b\d*\.?\d*\s*(mm|cm|m|metres?|meters?)\s*$/i.test(text);
  if (isMetric === (units === "cm")) return text;
  try {
    return formatField(parseLength(text, units), units);
  } catch {
    return text;
  }
}

/** A line of text. */
export function textField({ name, label, help, text, placeholder, store, needed = false, length = 60 }) {
  const input = el("input", {
    type: "text", autocomplete: "off", value: text ?? "", placeholder: placeholder ?? null, maxlength: length, required: needed,
  });
  const field = framed(name, label, input, help);
  input.addEventListener("input", () => { field.note(""); store(input.value.trim()); });
  return field;
}

/**
 * A price. What it says and what is added to it stands in the field once it is left: `12,80` becomes `$12.80 / yd`.
 * `per` and `currency()` say what is added.
 */
export function priceField({ name, label, help, text, per, currency, store }) {
  const input = el("input", { type: "text", autocomplete: "off", spellcheck: "false", value: text ?? "", maxlength: 30 });
  const field = framed(name, label, input, help);
  const read = (isLeft) => {
    field.note("");
    if (!input.value.trim()) return store("");
    try {
      const whole = readPrice(input.value.trim(), { per, currency: currency() });
      if (isLeft) input.value = whole;
      return store(whole);
    } catch (error) {
      return isLeft ? field.fail(error.message) : undefined;
    }
  };
  input.addEventListener("input", () => read(false));
  input.addEventListener("change", () => read(true));
  return field;
}

/** A number; `store` gets null if it was emptied. */
export function numberField({ name, label, help, value, least = 0, most, step = 1, placeholder, store }) {
  const input = el("input", {
    type: "number", inputmode: "decimal", min: least, max: most ?? null, step, value: value ?? "", placeholder: placeholder ?? null,
  });
  const field = framed(name, label, input, help);
  const look = () => (input.validity.valid ? field.note("") : field.fail(input.validationMessage));
  input.addEventListener("input", () => {
    look();
    if (input.validity.valid) store(input.value === "" ? null : Number(input.value));
  });
  return { ...field, clear: look };
}

/** One of several: `choices` are `[value, words]`. */
export function choiceField({ name, label, help, value, choices, store }) {
  const select = el("select", {}, choices.map(([each, words]) =>
    el("option", { value: each, selected: each === value, text: words })));
  const field = framed(name, label, select, help);
  select.addEventListener("change", () => { field.note(""); store(select.value); });
  return field;
}

/** Yes or no. */
export function tickField({ name, label, help, value, store }) {
  const input = el("input", { type: "checkbox", checked: Boolean(value), on: { change: () => store(input.checked) } });
  const field = framed(name, label, input, help);
  field.element.classList.add("tick");
  return field;
}

/** Whether all that is written in the fields can be read. */
export const allRead = (fields) => fields.every(({ control }) => control.getAttribute("aria-invalid") !== "true");

/** Say the server's errors beside the fields they are about; those that are left have no field here. */
export function sayErrors(fields, errors) {
  fields.forEach((field) => field.clear());
  const left = [];
  for (const error of errors) {
    const field = fields.find((each) => error.field && each.name === error.field);
    if (field) field.fail(error.message);
    else left.push(error);
  }
  return left;
}
