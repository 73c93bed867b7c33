/** What a new project holds. */

import { units } from "./settings.js";

/** Data of a new project: with the example's values, or with nothing but usual cloth to begin from. */
export function freshData(catalogue, { filled = false } = {}) {
  const example = structuredClone(catalogue.template_job);
  const job = filled
    ? { ...example, units: units() }
    : { garment: example.garment, units: units(), body: { wearer: "women" }, style: {}, garments: 1, fabric: [freshFabric()], rib: [freshRib()] };
  return { schema: 1, job, answers: {}, cut: {} };
}

const step = () => (units() === "cm" ? "0.1 m" : "1/8 yd");

/** A name that no other offer has: what it stands for with the next number. */
export function freeName(offers, stem) {
  const taken = new Set(offers.map(({ name }) => name));
  let number = 1;
  while (taken.has(`${stem} ${number}`)) number += 1;
  return `${stem} ${number}`;
}

/** A cloth to begin from. */
export function freshFabric(others = []) {
  const isMetric = units() === "cm";
  return { name: freeName(others, "cloth"), width: isMetric ? "150 cm" : "60 in", selvedge: isMetric ? "1 cm" : "1/2 in", spread: "best", sold_by: step() };
}

/** A rib to begin from. */
export function freshRib(others = []) {
  return { name: freeName(others, "rib"), form: "tube", opened: units() === "cm" ? "90 cm" : "36 in", sold_by: step() };
}
