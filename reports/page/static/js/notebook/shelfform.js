/** The form of a thing on the shelf: its name and its fields, saved over the version that was read. */

import { call } from "../lib/api.js";
import { button, el, say } from "../lib/dom.js";
import { confirmed } from "../lib/dialog.js";
import { textField } from "../lib/field.js";

/** `fields(kept, redraw)` gives the elements for what was kept; they change `kept.data`, and of cloth and rib `kept.name`. */
export async function shelfForm(thing, again, fields) {
  const path = `/api/shelf/${encodeURIComponent(thing.id)}`;
  const kept = structuredClone((await call("GET", "/api/shelf")).find(({ id }) => id === thing.id));
  const said = el("p", { class: "said", role: "alert" });
  const within = el("div", { class: "stack" });
  const redraw = () => within.replaceChildren(...fields(kept, redraw));
  const save = async (event) => {
    event.preventDefault();
    said.replaceChildren();
    try {
      await call("PUT", path, { name: kept.name, data: kept.data, version: kept.version });
      say("Saved");
      await again();
    } catch (error) {
      said.replaceChildren(`Not saved: ${error.message}. `, error.status === 409 && error.body.current ? button("Show what is saved", again) : "");
    }
  };
  const remove = async () => {
    if (!(await confirmed(`Take ‘${thing.name}’ off the shelf?`, thing.kind === "legend" ? "What it decided in files that were read stays." : "Projects keep what they have of it.", "Take it off"))) return;
    await call("DELETE", path);
    say(`${thing.name} is off the shelf`);
    location.hash = "#/notebook";
  };
  redraw();
  return el("form", { class: "stack", on: { submit: save } },
    ["trim", "style", "legend"].includes(thing.kind) && el("div", { class: "card fields" }, textField({ name: "name", label: "Name", text: kept.name, needed: true, store: (value) => { kept.name = value; } }).element), within,
    el("p", { class: "row" }, el("button", { class: "button main", type: "submit" }, "Save"), button("Take it off the shelf", remove, { kind: "quiet" })), said);
}
