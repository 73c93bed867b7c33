/** The shelf: cloths, ribs and own styles that are kept under a name, to be used in any project. */

import { call } from "../lib/api.js";
import { named } from "../lib/dialog.js";
import { button, el, freshId, say } from "../lib/dom.js";

/** What is on the shelf of a kind. */
export async function shelved(kind) {
  return (await call("GET", "/api/shelf")).filter((thing) => thing.kind === kind);
}

/** Put something on the shelf under a name that is asked for; what was kept, or null. */
export async function putOnShelf(kind, title, name, data) {
  const chosen = await named(title, "Name", name, "Keep");
  if (!chosen) return null;
  try {
    const kept = await call("POST", "/api/shelf", { kind, name: chosen, data });
    say(`${chosen} is on the shelf`);
    return kept;
  } catch (error) {
    say(`Not kept: ${error.message}`);
    throw error;
  }
}

/** A choice of what is on the shelf of a kind; `take(thing)` gets what is chosen. Without any it is hidden. */
export function fromShelf(kind, words, take) {
  const id = freshId("shelf");
  const select = el("select", { id });
  const element = el("p", { class: "row from-shelf", hidden: true }, el("label", { for: id, text: words }), select,
    button("Use it", () => { const thing = things.find((one) => one.id === select.value); if (thing) take(thing); }));
  let things = [];
  const fill = async () => {
    things = await shelved(kind);
    select.replaceChildren(...things.map((one) => el("option", { value: one.id, text: one.name })));
    element.hidden = !things.length;
  };
  fill().catch(() => {});
  return { element, fill };
}
