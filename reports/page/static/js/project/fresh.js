/** What a new project holds. */

import { units } from "./settings.js";

/** Data of a new project for a garment: usual cloth to begin from, and rib where it has some. */
export function freshData(garment) {
  const job = { garment: garment.name, units: units(), body: { wearer: "women" }, style: {}, garments: 1, fabric: usualCloths() };
  const data = { schema: 1, job, answers: {}, cut: {} };
  offerRib(data, garment.materials.includes("rib"));
  return data;
}

/** Data of a project with the example's values. */
export function exampleData(catalogue) {
  return { schema: 1, job: { ...structuredClone(catalogue.template_job), units: units() }, answers: {}, cut: {} };
}

const step = () => (units() === "cm" ? "0.1 m" : "1/8 yd");

/** A name that no other offer has: what it stands for with the next number. */
export function freeName(offers, stem) {
  const taken = new Set(offers.map(({ name }) => name));
  let number = 1;
  while (taken.has(`${stem} ${number}`)) number += 1;
  return `${stem} ${number}`;
}

function cloth(name, inches, cm) {
  const isMetric = units() === "cm";
  return { name, width: isMetric ? `${cm} cm` : `${inches} in`, selvedge: isMetric ? "1 cm" : "1/2 in", spread: "best", sold_by: step() };
}

/** The two widths that most shops have: common practice, no source. */
const usualCloths = () => [cloth("narrow cloth", 45, 115), cloth("wide cloth", 60, 150)];

/** A cloth to begin from. */
export const freshFabric = (others = []) => cloth(freeName(others, "cloth"), 60, 150);

/** A rib to begin from. */
export function freshRib(others = []) {
  return { name: freeName(others, "rib"), form: "tube", opened: units() === "cm" ? "90 cm" : "36 in", sold_by: step() };
}

/** Offer rib where it is needed. Where it is not, what was offered is put by until it is. */
export function offerRib(data, isNeeded) {
  const { job } = data;
  if (isNeeded && !job.rib?.length) job.rib = data.rib ?? [freshRib()];
  if (isNeeded) return;
  if (job.rib?.length) data.rib = job.rib;
  delete job.rib;
}
