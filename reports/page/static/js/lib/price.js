/** Prices as people write them: `12.80`, `$12.80`, `12,80 per yd`; inside, as the server takes them: `$12.80 / yd`. */

import { withPoint } from "./units.js";

const SIGN = "([^\\d\\s.,/\\\\[\\]-]{1,5})";
const WRITTEN = new RegExp(`^${SIGN}?\\s*(\\d{1,9}(?:\\.\\d{1,9})?)\\s*(.*)$`, "i");
const PER = /^(?:\/|per\b|a\b|an\b|the\b)?\s*([a-z]+)$/i;
const ENDS = new RegExp(`^${SIGN}(?:\\s+|\\s*(?=/)|$)(.*)$`, "i");

/** What a price may be for, as it may be written. */
const UNITS = {
  yd: "yd", yds: "yd", yard: "yd", yards: "yd", m: "m", metre: "m", metres: "m", meter: "m", meters: "m", kg: "kg", kilo: "kg", g: "g", lb: "lb", oz: "oz",
  cm: "cm", in: "in", ft: "ft", strip: "strip", set: "set", piece: "piece", each: "piece", h: "h", hour: "h", min: "min",
};

/**
 * A price as the server takes it. `per` is what it is for where it does not say so, `currency` what is put before it
 * where it names none. Throws words a person can act on.
 */
export function readPrice(text, { per, currency = "" }) {
  const found = WRITTEN.exec(withPoint(text));
  if (!found) throw new Error(`write an amount, such as 12.80 or 12.80 / ${per}`);
  const [, before = "", amount, rest] = found;
  const { after, unit } = ended(rest.trim(), per);
  const sign = before || after ? before : currency;
  const isCode = /^[a-z]+$/i.test(sign);
  return `${sign}${isCode ? " " : ""}${amount}${after ? ` ${after}` : ""} / ${unit}`;
}

/** What follows the amount: a currency, what it is for, both or neither. */
function ended(rest, per) {
  if (!rest) return { after: "", unit: per };
  const unit = UNITS[PER.exec(rest)?.[1].toLowerCase()];
  if (unit) return { after: "", unit };
  const [, after, more] = ENDS.exec(rest) ?? [];
  const named = more ? UNITS[PER.exec(more.trim())?.[1].toLowerCase()] : per;
  if (!after || !named || after.toLowerCase() === "per") throw new Error(`write what it is for as yd, m, kg or lb, such as 12.80 / ${per}`);
  return { after, unit: named };
}

/** The currency of a price as it is written, or nothing. */
export function currencyOf(text) {
  try {
    const written = readPrice(text, { per: "m" });
    const [, before = "", , rest] = WRITTEN.exec(written);
    return before || ended(rest.trim(), "m").after;
  } catch {
    return "";
  }
}
