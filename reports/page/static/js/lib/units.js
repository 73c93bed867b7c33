/** Lengths as people write them; inside, a length is a number of millimetres. The server's reading is the one that counts. */

export const INCH = 25.4;
export const YARD = 914.4;

const MM = { mm: 1, cm: 10, m: 1000, in: INCH, ft: 12 * INCH, yd: YARD };
const SPELLINGS = {
  ...Object.fromEntries(Object.keys(MM).map((unit) => [unit, unit])),
  '"': "in", "″": "in", "”": "in", "''": "in", inch: "in", inches: "in", ins: "in",
  "'": "ft", "′": "ft", "’": "ft", foot: "ft", feet: "ft", yds: "yd", yard: "yd", yards: "yd",
  millimetre: "mm", millimetres: "mm", centimetre: "cm", centimetres: "cm", metre: "m", metres: "m",
  millimeter: "mm", millimeters: "mm", centimeter: "cm", centimeters: "cm", meter: "m", meters: "m",
};
const VULGAR = { "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
const TERM = /\s*(?:(?:(\d+)(?:\s*-\s*|\s+))?(\d+)\s*\/\s*(\d+)|(\d+(?:\.\d*)?|\.\d+))\s*([a-z]+|''|["″”'′’])?\s*/y;

/** A number with its decimals behind a point, however it is written: `22,5` is 22.5. Throws where a comma could be either. */
export function withPoint(text) {
  const plain = text.replace(/\b(\d{1,3})(?:,(\d{3}))+(\.\d+)/g, (all) => all.replaceAll(",", ""))
    .replace(/\b\d{1,3}(?:\.\d{3})+,(\d{1,2})\b/g, (all) => all.replaceAll(".", "").replace(",", "."))
    .replace(/(\d),(\d{1,2})(?!\d)/g, "$1.$2");
  if (plain.includes(",")) throw new Error("write it without a comma: 1234 or 1.234");
  return plain;
}

/** Millimetres of a length such as `22 1/2 in`; a bare number is in `bare`, where that is given. Throws words a person can act on. */
export function parseLength(text, bare = null) {
  const written = [...String(text)].map((sign) => (VULGAR[sign] ? ` ${VULGAR[sign]}` : sign)).join("").toLowerCase().trim();
  if (!written) throw new Error("write a length, such as 22 1/2 in or 57 cm");
  if (written.includes(",")) throw new Error("use a point, not a comma, for decimals");
  if (written.startsWith("-")) throw new Error("a length cannot be negative");
  let total = 0;
  const seen = new Set();
  TERM.lastIndex = 0;
  while (TERM.lastIndex < written.length) {
    const term = TERM.exec(written);
    if (!term) throw new Error("write a number with in, ft, yd, mm, cm or m, such as 22 1/2 in or 57 cm");
    const [, whole, top, bottom, decimal, spelling] = term;
    if (bottom && Number(bottom) === 0) throw new Error("a fraction cannot be over 0");
    const unit = spelling ? SPELLINGS[spelling] : bare;
    if (!unit) throw new Error(spelling ? `unknown unit ${spelling}` : "add the unit, such as in or cm");
    if (seen.has(unit)) throw new Error("it names one unit twice; write one length");
    seen.add(unit);
    total += (decimal ? Number(decimal) : Number(whole ?? 0) + Number(top) / Number(bottom)) * MM[unit];
  }
  return total;
}

/** Whether a text says its unit itself. */
export function hasUnit(text) {
  return /[a-z"″”'′’]/i.test(text);
}

/** A need over what there is by no more, mm, is met; and what a sum of numbers may be off by. */
const SHORT = 1e-3;
const NOISE = 1e-6;

/** A number as a mixed fraction, to the nearest 1/`parts`, or as `rounded` says. */
export function formatFraction(value, parts = 8, rounded = Math.round) {
  let top = rounded(value * parts);
  let bottom = parts;
  while (top && top % 2 === 0 && bottom > 1) [top, bottom] = [top / 2, bottom / 2];
  if (!top) return "0";
  const whole = Math.floor(top / bottom);
  const rest = top - whole * bottom;
  return [whole ? String(whole) : "", rest ? `${rest}/${bottom}` : ""].filter(Boolean).join(" ");
}

/** A size of a body or a piece: inches to 1/8, or centimetres to 0.5. */
export function formatSize(mm, units) {
  return `${bareSize(mm, units)} ${units}`;
}

/** The same without its unit, for a field that names the unit itself. */
export function bareSize(mm, units) {
  return units === "cm" ? `${Math.floor(mm / 5 + 0.5) / 2}` : formatFraction(mm / INCH);
}

/** A length that must be there, such as a marker's: rounded up, so never too little. */
export function formatNeed(mm, units) {
  return units === "cm" ? `${Math.ceil((mm - SHORT) / 5) / 2} cm` : `${formatFraction((mm - SHORT) / INCH, 8, Math.ceil)} in`;
}

/** A length that nothing undercuts, or that there is: rounded down, so never too much. */
export function formatBound(mm, units) {
  return units === "cm" ? `${Math.floor((mm + NOISE) / 5) / 2} cm` : `${formatFraction((mm + NOISE) / INCH, 8, Math.floor)} in`;
}

/** A share that is reached or proved, as a percentage: rounded down, whether it comes as 0.72 or as 72. */
export function percent(share) {
  return `${(Math.floor((share > 1 ? share : 100 * share) * 10 + NOISE) / 10).toFixed(1)} %`;
}

/** The same, fine enough to stand in a field: inches to 1/16, or centimetres to 0.1. */
export function formatField(mm, units) {
  return units === "cm" ? `${Math.round(mm) / 10} cm` : `${formatFraction(mm / INCH, 16)} in`;
}

/** A length of cloth that must be there, as it is sold: yards or metres to the hundredth, rounded up. */
export function formatAlong(mm, units) {
  const one = units === "cm" ? 1000 : YARD;
  return `${(Math.ceil(((mm - SHORT) / one) * 100) / 100).toFixed(2)} ${units === "cm" ? "m" : "yd"}`;
}

/** Seconds as 8 s, 1 min 20 s. */
export function formatTime(seconds) {
  const whole = Math.round(seconds);
  return whole < 60 ? `${whole} s` : `${Math.floor(whole / 60)} min ${whole % 60} s`;
}
