/** Saved clients: their measurements, kept for the next garment. */

import { call } from "./api.js";
import { confirmed, named } from "./dialog.js";
import { button, el, say } from "./dom.js";
import { CLIENTS } from "./fresh.js";

/** The kept clients with the id and version they are saved under. */
async function read() {
  const kept = (await call("GET", "/api/projects")).find(({ name }) => name === CLIENTS);
  if (!kept) return { id: null, version: 0, clients: [] };
  const { version, data } = await call("GET", `/api/projects/${encodeURIComponent(kept.id)}`);
  return { id: kept.id, version, clients: data.clients ?? [] };
}

async function write({ id, version }, clients) {
  const data = { schema: 1, clients };
  if (id) await call("PUT", `/api/projects/${encodeURIComponent(id)}`, { name: CLIENTS, data, version });
  else await call("POST", "/api/projects", { name: CLIENTS, data });
}

/** A card with the clients; `take(body, name)` gets the measurements of the one that is chosen. */
export async function clientShelf({ project }, take) {
  const card = el("section", { class: "card" });
  const fill = async () => {
    const hadFocus = card.contains(document.activeElement) || document.activeElement === document.body;
    const kept = await read();
    const keeping = button("Keep these measurements", () => keep(kept, project, fill));
    card.replaceChildren(el("h2", { text: "Clients" }), list(kept, take, fill), el("p", { class: "row" }, keeping));
    if (hadFocus && card.isConnected) keeping.focus();
  };
  await fill();
  return card;
}

function list(kept, take, fill) {
  if (!kept.clients.length) return el("p", { class: "help", text: "Nobody yet. Measurements that you keep are here for the next garment." });
  const remove = async (client) => {
    if (!(await confirmed(`Forget ${client.name}?`, "The measurements in your projects stay.", "Forget"))) return;
    await write(kept, kept.clients.filter((each) => each !== client));
    await fill();
  };
  return el("ul", { class: "names" }, kept.clients.map((client) => el("li", {},
    el("button", { type: "button", class: "chip", on: { click: () => take(client.body, client.name) } }, client.name),
    button("Forget", () => remove(client), { kind: "quiet", "aria-label": `Forget ${client.name}` }))));
}

async function keep(kept, project, fill) {
  const name = await named("Whose measurements are these?", "Name", "", "Keep");
  if (!name) return;
  const others = kept.clients.filter((each) => each.name !== name);
  const clients = [...others, { name, body: project.data.job.body }].sort((a, b) => a.name.localeCompare(b.name));
  await write(kept, clients);
  await fill();
  say(`The measurements of ${name} are kept`);
}
