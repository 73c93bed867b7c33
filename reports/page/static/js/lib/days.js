/** Days and moments as people read them. */

/** "29 Nov 2026" of a day such as 2026-11-29, or of a moment. */
export function dayWords(text) {
  const date = new Date(/^\d{4}-\d\d-\d\d$/.test(text) ? `${text}T12:00` : text);
  return Number.isNaN(date.getTime()) ? String(text ?? "") : date.toLocaleDateString([], { day: "numeric", month: "short", year: "numeric" });
}
