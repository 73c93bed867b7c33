/** A cloth, a rib or a trim on the shelf: changed here, used in any project. */

import { currencyOf } from "../lib/price.js";
import { priceField, textField } from "../lib/field.js";
import { offerCard } from "../steps/offer.js";
import { shelfForm } from "./shelfform.js";

export const goodsPart = (thing, app, again) => shelfForm(thing, again, (kept, redraw) => {
  const store = (name, value) => {
    if (value === "" || value === null || value === false) delete kept.data[name];
    else kept.data[name] = value;
    if (name === "name" && value) kept.name = value;
  };
  if (thing.kind === "trim") return [
    priceField({ name: "price", label: "Price", text: kept.data.price, per: "piece", currency: () => "", store: (value) => store("price", value) }).element,
    textField({ name: "about", label: "Note", text: kept.data.about, length: 200, store: (value) => store("about", value) }).element];
  const kind = thing.kind === "cloth" ? "fabric" : "rib";
  const card = offerCard({ kind, at: 0, offer: kept.data, catalogue: app.catalogue, currency: () => currencyOf(kept.data.price ?? ""), store, tools: [],
    reshape: (edit) => { edit(kept.data); redraw(); } });
  return [card.element];
});
