/** A project names itself by who it is for, what is made and the day it was begun, until a person gives it another name. */

import { spoken } from "../lib/dom.js";
import { change, project, rename } from "./project.js";

/** The name for a garment; `whom` is a client or a size, "" where nobody was chosen. */
export function ownName(garment, whom, day = new Date()) {
  const date = day.toLocaleDateString([], { day: "numeric", month: "short", year: "numeric" });
  return [whom, spoken(garment.title), date].filter(Boolean).join(", ").slice(0, 60);
}

/** What a new project for a garment is called; its data hold the name, to see later whether it is still its own. */
export function namedData(garment, data) {
  const began = new Date().toISOString();
  return { ...data, own_name: ownName(garment, "", new Date(began)), began };
}

/** Name the project anew: its garment is another, or it is made for somebody else, `whom`. */
export function nameAnew({ catalogue }, whom = project.data.whom ?? "") {
  const isOwn = project.name === project.data.own_name;
  const garment = catalogue.garments.find(({ name }) => name === project.data.job.garment);
  change((data) => { data.whom = whom; });
  if (!isOwn || !garment) return;
  const name = ownName(garment, whom, new Date(project.data.began));
  change((data) => { data.own_name = name; });
  rename(name);
}
