/** Outlines in the file's frame, mm: corrected points, lengths between corners, what lies under a place. */

/** How far each point moves: by the points that are moved, and by shares of the way between these and those that stay. */
export function corrected(outline, moved) {
  const [ring] = outline.paths;
  if (!moved.length) return ring;
  const shifts = new Map(outline.handles.map((at) => [at, [0, 0]]));
  for (const [x, y, toX, toY] of moved) shifts.set(nearest(ring, [x, y]), [toX - x, toY - y]);
  const handles = [...shifts.keys()].sort((a, b) => a - b);
  return ring.map((point, at) => {
    if (shifts.has(at)) return add(point, shifts.get(at), 1);
    const after = handles.find((one) => one > at) ?? handles[0];
    const before = handles.findLast((one) => one < at) ?? handles.at(-1);
    const share = along(ring, before, at) / (along(ring, before, after) || 1);
    return add(add(point, shifts.get(before), 1 - share), shifts.get(after), share);
  });
}

const add = ([x, y], [dx, dy], share) => [x + dx * share, y + dy * share];

export const apart = ([x, y], [u, v]) => Math.hypot(x - u, y - v);

function nearest(ring, place) {
  let best = 0;
  ring.forEach((point, at) => { if (apart(point, place) < apart(ring[best], place)) best = at; });
  return best;
}

/** The way along a ring from one point to another. */
function along(ring, from, to) {
  let total = 0;
  for (let at = from; at !== to; at = (at + 1) % ring.length) total += apart(ring[at], ring[(at + 1) % ring.length]);
  return total;
}

/** The lengths of an outline between the points by which it is measured: `{from, to, a, b, long, isStraight}`. */
export function edgesOf(outline, ring) {
  const { handles } = outline;
  return handles.map((from, n) => {
    const to = handles[(n + 1) % handles.length];
    const [a, b] = [ring[from], ring[to]];
    const long = along(ring, from, to);
    return { from, to, a, b, long, isStraight: long - apart(a, b) < 0.2 };
  });
}

const OFF = 2; // degrees: two clicks mean the axis, or the edge, that they are this near to

/** A line by two clicks, turned about its first point to the axis of the file or the straight edge that it nearly follows. */
export function straightened(a, b, edges) {
  const [long, angle] = [apart(a, b), Math.atan2(b[1] - a[1], b[0] - a[0])];
  const straight = edges.filter(({ isStraight, long: own }) => isStraight && own > 20).sort((one, other) => other.long - one.long);
  const ways = [...straight.map((edge) => Math.atan2(edge.b[1] - edge.a[1], edge.b[0] - edge.a[0])), 0, Math.PI / 2];
  for (const way of ways) {
    const off = angle - way - Math.PI * Math.round((angle - way) / Math.PI);
    if (Math.abs(off) <= (OFF * Math.PI) / 180) {
      const [c, s] = [Math.cos(angle - off), Math.sin(angle - off)];
      return [a, [a[0] + long * c, a[1] + long * s].map((value) => Math.round(value * 1000) / 1000)];
    }
  }
  return [a, b];
}

/** `{left, low, right, high}` of points. */
export function boxOf(points) {
  const box = { left: Infinity, low: Infinity, right: -Infinity, high: -Infinity };
  for (const [x, y] of points) {
    box.left = Math.min(box.left, x);
    box.right = Math.max(box.right, x);
    box.low = Math.min(box.low, y);
    box.high = Math.max(box.high, y);
  }
  return box;
}

/** How long an outline, or a set of lines, is in all. */
export function lengthOf(paths, isClosed) {
  const one = (points) => points.reduce((sum, point, at) => sum + (at ? apart(points[at - 1], point) : 0), isClosed ? apart(points.at(-1), points[0]) : 0);
  return paths.reduce((sum, points) => sum + one(points), 0);
}

/** Of outlines, those that a place is on, or in: lines within `reach` first, then the smallest that lies round it. */
export function under(outlines, place, reach) {
  const near = [];
  const around = [];
  for (const outline of outlines) {
    const box = outline.box;
    if (place[0] < box.left - reach || place[0] > box.right + reach || place[1] < box.low - reach || place[1] > box.high + reach) continue;
    const off = Math.min(...outline.shown.map((points) => distance(points, place, outline.closed)));
    if (off <= reach) near.push([off, outline]);
    else if (outline.closed && isInside(outline.shown[0], place)) around.push([(box.right - box.left) * (box.high - box.low), outline]);
  }
  return [...near.sort((a, b) => a[0] - b[0]), ...around.sort((a, b) => a[0] - b[0])].map(([, outline]) => outline);
}

/** The smallest closed outline that a place lies in. */
export const innermost = (outlines, place) => under(outlines.filter(({ closed }) => closed), place, -1)[0];

function distance(points, [x, y], isClosed) {
  let best = Infinity;
  const many = isClosed ? points.length : points.length - 1;
  if (points.length === 1) return apart(points[0], [x, y]);
  for (let at = 0; at < many; at += 1) {
    const [a, b] = [points[at], points[(at + 1) % points.length]];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const share = Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
    best = Math.min(best, Math.hypot(a[0] + share * dx - x, a[1] + share * dy - y));
  }
  return best;
}

function isInside(ring, [x, y]) {
  let inside = false;
  ring.forEach(([ax, ay], at) => {
    const [bx, by] = ring[(at + 1) % ring.length];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  });
  return inside;
}
