/** Questions that must be answered first. */

import { button, el, freshId } from "./dom.js";

/** Ask; whether the answer was yes. */
export function confirmed(title, words, yes) {
  return asked(title, [el("p", { text: words })], yes, () => true);
}

/** Ask for a name; null if it was not given. */
export function named(title, label, value, yes) {
  const id = freshId("name");
  const input = el("input", { id, value, maxlength: 60, required: true, autocomplete: "off" });
  return asked(title, [el("div", { class: "field" }, el("label", { for: id, text: label }), input)], yes, () => input.value.trim() || null);
}

function asked(title, content, yes, read) {
  return new Promise((resolve) => {
    const heading = freshId("dialog");
    const form = el("form", { method: "dialog" },
      el("h2", { id: heading, text: title }), content,
      el("p", { class: "row" },
        el("button", { class: "button main", value: "yes" }, yes),
        button("Cancel", () => dialog.close("no"))));
    const leave = () => dialog.close("no"); // another view: the question is not of it
    const dialog = el("dialog", { "aria-labelledby": heading, on: { close: () => {
      removeEventListener("hashchange", leave);
      const answer = dialog.returnValue === "yes" ? read() : null;
      dialog.remove();
      resolve(answer);
    } } }, form);
    document.body.append(dialog);
    addEventListener("hashchange", leave);
    dialog.showModal();
  });
}
