/** What can be begun in the notebook itself: a client, and what lies on the shelf. */

import { call } from "../lib/api.js";
import { button, el } from "../lib/dom.js";
import { named } from "../lib/dialog.js";
import { freshFabric, freshRib } from "../project/fresh.js";

export function newThings() {
  const said = el("p", { class: "said wrong", role: "alert" });
  const begin = (title, make) => async () => {
    said.textContent = "";
    const name = await named(title, "Name", "", "Keep");
    if (!name) return;
    try {
      const { kind, id } = await make(name);
      location.hash = `#/notebook/${kind}/${encodeURIComponent(id)}`;
    } catch (error) {
      said.textContent = `Not kept: ${error.message}.`;
    }
  };
  const shelved = (kind, data) => (name) => call("POST", "/api/shelf", { kind, name, data: { ...data(), name } });
  const client = async (name) => ({ kind: "client", id: (await call("POST", "/api/clients", { name, body: {} })).find((one) => one.name === name).id });
  return el("section", { class: "card" }, el("h2", { text: "Keep something new" }), el("p", { class: "row" },
    button("Client", begin("A new client", client)), button("Cloth", begin("A new cloth", shelved("cloth", freshFabric))),
    button("Rib", begin("A new rib", shelved("rib", freshRib))), button("Trim", begin("A new trim", shelved("trim", () => ({}))))), said,
    el("p", { class: "help", text: "How much there is of a cloth stands under On hand. A style of your own is kept at the step Garment." }));
}
