/** Where cloth is folded: that edge of a piece is not cut. */

const NEAR = 0.05; // mm: an edge that lies on the fold

/** How far across the cloth its folds lie, mm. */
export const foldsOf = ({ bands }) => bands.flatMap(({ y0, y1, low_edge: low, high_edge: high }) => [...(low === "fold" ? [y0] : []), ...(high === "fold" ? [y1] : [])]);

/** The lines round a piece, `{ points, isFold }`: all of it, or, of a piece on the fold, what is cut and what is not. */
export function linesRound({ outline, on_fold: isOnFold }, folds) {
  const onFold = (i) => folds.some((y) => [outline[i], outline[(i + 1) % outline.length]].every((point) => Math.abs(point[1] - y) < NEAR));
  const kinds = outline.map((_, i) => Boolean(isOnFold) && onFold(i));
  const first = kinds.findIndex((kind, i) => kind !== kinds.at(i - 1));
  if (first < 0) return [{ points: [...outline, outline[0]], isFold: false }];
  const lines = [];
  for (let step = 0; step < outline.length; step++) {
    const i = (first + step) % outline.length;
    if (step === 0 || kinds[i] !== lines.at(-1).isFold) lines.push({ points: [outline[i]], isFold: kinds[i] });
    lines.at(-1).points.push(outline[(i + 1) % outline.length]);
  }
  return lines;
}
