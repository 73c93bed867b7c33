/**
 * Flat pictures of a flat table: where a projector's picture puts each point of the cutting mat, and back. A homography is
 * nine numbers, row by row, the last of them 1.
 */

const TINY = 1e-9;

/** The homography that takes four points to four others; throws where three of them lie on one line. */
export function homography(from, to) {
  if (!isConvex(from) || !isConvex(to)) throw new Error("the four points must be the corners of a field, in their order round it");
  const rows = from.flatMap(([x, y], i) => {
    const [u, v] = to[i];
    return [[x, y, 1, 0, 0, 0, -u * x, -u * y, u], [0, 0, 0, x, y, 1, -v * x, -v * y, v]];
  });
  return [...solved(rows), 1];
}

/** Only larger or smaller along and across: `from` point (0, 0) lies at `origin`, y runs upwards. */
export const scaled = (perAlong, perAcross, [x, y]) => [perAlong, 0, x, 0, -perAcross, y, 0, 0, 1];

/** Where a point comes to lie; null where it is beyond the horizon. */
export function mapped([a, b, c, d, e, f, g, h, i], [x, y]) {
  const w = g * x + h * y + i;
  return w > TINY ? [(a * x + b * y + c) / w, (d * x + e * y + f) / w] : null;
}

/** The way back. */
export function inverse([a, b, c, d, e, f, g, h, i]) {
  const [p, q, r] = [e * i - f * h, c * h - b * i, b * f - c * e];
  const det = a * p + d * q + g * r;
  if (Math.abs(det) < TINY * TINY) throw new Error("the picture has no area");
  const all = [p, q, r, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d];
  return all.map((one) => one / all[8]);
}

/** The longest way on the table that a step of 1 in the picture takes, around a point of the picture. */
export function coarsest(back, [x, y]) {
  const here = mapped(back, [x, y]);
  return Math.max(...[[1, 0], [0, 1], [Math.SQRT1_2, Math.SQRT1_2], [Math.SQRT1_2, -Math.SQRT1_2]].map(([dx, dy]) => {
    const there = mapped(back, [x + dx, y + dy]);
    return here && there ? Math.hypot(there[0] - here[0], there[1] - here[1]) : Infinity;
  }));
}

/** Whether points are the corners of a convex field, in their order round it; three on one line are not. */
export function isConvex(points) {
  const size = Math.max(...points.flatMap(([x, y]) => points.map(([u, v]) => Math.hypot(u - x, v - y))));
  const turns = points.map(([x, y], i) => {
    const [[u, v], [s, t]] = [points[(i + 1) % points.length], points[(i + 2) % points.length]];
    return (u - x) * (t - v) - (v - y) * (s - u);
  });
  const least = 1e-6 * size * size;
  return size > 0 && (turns.every((turn) => turn > least) || turns.every((turn) => turn < -least));
}

/** Equations with their right sides, solved by elimination with the largest pivot. */
function solved(rows) {
  const count = rows.length;
  for (let at = 0; at < count; at += 1) {
    let best = at;
    for (let row = at + 1; row < count; row += 1) if (Math.abs(rows[row][at]) > Math.abs(rows[best][at])) best = row;
    [rows[at], rows[best]] = [rows[best], rows[at]];
    for (let row = at + 1; row < count; row += 1) {
      const share = rows[row][at] / rows[at][at];
      for (let column = at; column <= count; column += 1) rows[row][column] -= share * rows[at][column];
    }
  }
  const found = new Array(count).fill(0);
  for (let at = count - 1; at >= 0; at -= 1) {
    const rest = rows[at].slice(at + 1, count).reduce((sum, one, i) => sum + one * found[at + 1 + i], 0);
    found[at] = (rows[at][count] - rest) / rows[at][at];
  }
  return found;
}
