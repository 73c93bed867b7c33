/** Photos of a project or a client: shown, added, deleted. */

import { call, send } from "../lib/api.js";
import { button, el, freshId, say } from "../lib/dom.js";
import { confirmed } from "../lib/dialog.js";
import { dayWords } from "../lib/days.js";

const LARGEST = 15_000_000; // bytes

/** A card with the photos of one owner. */
export async function photosPart(kind, owner) {
  const card = el("section", { class: "card" });
  const fill = async () => {
    const own = (await call("GET", "/api/photos")).filter((photo) => photo.kind === kind && photo.owner === owner);
    card.replaceChildren(...[el("h3", { text: "Photos" }), own.length > 0 && el("ul", { class: "photos" }, own.map((photo) => figure(photo, fill))), adding(kind, owner, fill)].filter(Boolean));
  };
  await fill();
  return card;
}

function figure(photo, fill) {
  const remove = async () => {
    if (!(await confirmed("Delete this photo?", "You can only get it back from a copy or a backup.", "Delete"))) return;
    await call("DELETE", `/api/photos/${encodeURIComponent(photo.id)}`);
    say("The photo is deleted");
    await fill();
  };
  const address = `/api/photos/${encodeURIComponent(photo.id)}`;
  const name = photo.title || `Photo of ${dayWords(photo.made)}`;
  return el("li", {}, el("a", { href: `#/notebook/photo/${encodeURIComponent(photo.id)}` }, el("img", { src: address, alt: name, loading: "lazy" })),
    el("span", {}, el("bdi", { text: name })), button("Delete", remove, { kind: "quiet", "aria-label": `Delete ${name}` }));
}

function adding(kind, owner, fill) {
  const id = freshId("photo");
  const said = el("p", { class: "said", role: "alert" });
  const add = async () => {
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    said.textContent = "";
    try {
      if (file.size > LARGEST) throw new Error(`it has ${(file.size / 1e6).toFixed(1)} MB, and at most 15 MB are taken`);
      const title = file.name.replace(/\.[a-z0-9]+$/i, "").replace(/[\p{Cc}\u2028\u2029]/gu, " ").slice(0, 60);
      await send(`/api/photos?${new URLSearchParams({ kind, owner, title })}`, file);
      say("The photo is kept");
      await fill();
    } catch (error) {
      said.textContent = `Not kept: ${error.message}.`;
    }
  };
  const input = el("input", { type: "file", class: "unseen", id, accept: "image/jpeg,image/png,image/webp", on: { change: add } });
  return el("div", {}, el("p", { class: "row" }, input, el("label", { class: "button plain", for: id }, "Add a photo")),
    el("p", { class: "help", text: "JPEG, PNG or WebP, up to 15 MB. It is made smaller; where it was taken is left out." }), said);
}
