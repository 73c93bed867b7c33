/** Saved clients: their measurements, kept for the next garment. */

import { call } from "../lib/api.js";
import { confirmed, named } from "../lib/dialog.js";
import { button, el, say } from "../lib/dom.js";
import { nameAnew } from "../project/naming.js";

/** A card with the clients; `take(body, name)` gets the measurements of the one that is chosen. */
export async function clientShelf(app, take) {
  const card = el("section", { class: "card" });
  const fill = async () => {
    const hadFocus = card.contains(document.activeElement) || document.activeElement === document.body;
    const kept = await call("GET", "/api/clients");
    const keeping = button("Keep these measurements", () => keep(kept, app, fill));
    card.replaceChildren(el("h2", { text: "Clients" }), list(kept, take, fill), el("p", { class: "row" }, keeping));
    if (hadFocus && card.isConnected) keeping.focus();
  };
  await fill();
  return card;
}

function list(kept, take, fill) {
  if (!kept.length) return el("p", { class: "help", text: "No one yet. Measurements you keep are here for the next garment." });
  const remove = async (client) => {
    if (!(await confirmed(`Forget ${client.name}?`, "All measurements and photos of this client are deleted. The measurements in projects stay. A copy or a backup brings them back.", "Forget"))) return;
    await call("DELETE", `/api/clients/${encodeURIComponent(client.id)}`);
    await fill();
  };
  return el("ul", { class: "names" }, kept.map((client) => el("li", {},
    el("button", { type: "button", class: "chip", on: { click: () => take(client.body, client.name, client.id) } }, el("bdi", { text: client.name })),
    button("Forget", () => remove(client), { kind: "quiet", "aria-label": `Forget ${client.name}` }))));
}

async function keep(kept, app, fill) {
  const before = kept.find(({ id }) => id === app.project.data.client)?.name ?? "";
  const name = await named("Whose measurements are these?", "Name", before, "Keep");
  if (!name) return;
  if (kept.some((each) => each.name === name) && !(await confirmed(`${name} is here already`, "Keep these measurements as another set? The sets before stay.", "Keep these"))) return;
  const all = await call("POST", "/api/clients", { name, body: app.project.data.job.body });
  app.change((data) => { data.client = all.find((one) => one.name === name)?.id; });
  nameAnew(app, name);
  await fill();
  say(`The measurements of ${name} are kept`);
}
