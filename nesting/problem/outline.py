"""Outlines for the search: grown by half the gap, with fewer corners, never smaller than the cut line."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

FEW_CORNERS = 30
"""Outlines with no more corners than this keep them all, unless three lie in a line."""

ADDED = 2e-3
"""Most that dropping corners may add to an outline, as a share of its area."""


def search_outline(outline: Points, gap: float, tolerance: float) -> Points:
    """An outline that holds `outline` grown by half the gap, and has few corners.

    Parameters
    ----------
    outline
        Shape (n, 2), mm, counter-clockwise; the result keeps its place, so it may begin below (0, 0).
    gap
        Least distance between two outlines, mm.
    tolerance
        How far the result may lie outside, mm.
    """
    line = tolerance * 1e-8
    straight = _simplify(outline, line, line, 3, np.inf)
    few = (
        straight
        if len(straight) <= FEW_CORNERS
        else _simplify(straight, tolerance, line, FEW_CORNERS, ADDED * polygon_area(outline))
    )
    if gap == 0 and len(few) == len(straight):
        return few
    import shapely

    grown = shapely.Polygon(few)
    wanted = shapely.Polygon(outline)
    if not grown.is_valid or not grown.buffer(tolerance * 1e-6).covers(wanted):
        grown = wanted
    if gap > 0:
        # Corners that stay sharp out to twice the distance; sharper ones are cut off at least that far out.
        grown = shapely.Polygon(grown.buffer(gap / 2, join_style="mitre", mitre_limit=2.0).exterior)
    points = np.asarray(shapely.geometry.polygon.orient(grown).exterior.coords)[:-1]
    return _simplify(points, line, line, 3, np.inf)


def _simplify(points: Points, tolerance: float, line: float, fewest: int, area: float) -> Points:
    """Drop corners, the cheapest in area first, by steps that only ever add cloth to the outline."""
    corners = [(float(x), float(y)) for x, y in points]
    steps = [_cheapest_step(corners, i, tolerance, line) for i in range(len(corners))]
    while len(corners) > fewest:
        added, i = min((step[0], i) if step else (math.inf, i) for i, step in enumerate(steps))
        step = steps[i]
        area -= added / 2
        if step is None or area < 0:
            break
        if step[1] is None:
            gone = i
        else:
            corners[i] = step[1]
            gone = (i + 1) % len(corners)
        del corners[gone], steps[gone]
        for k in {(gone + near) % len(corners) for near in range(-4, 3)}:  # whose neighbours have changed
            steps[k] = _cheapest_step(corners, k, tolerance, line)
    return np.array(corners)


def _cheapest_step(
    corners: list[tuple[float, float]], i: int, tolerance: float, line: float
) -> tuple[float, tuple[float, float] | None] | None:
    """Area added by dropping inward corner i, or by running the neighbours of edge (i, i + 1) together.

    An outward corner goes only where it is in a line with its neighbours.
    """
    n = len(corners)
    a, b, c, d = (corners[(i + k) % n] for k in (-1, 0, 1, 2))
    turn, span = _cross(a, b, c), math.dist(a, c)
    if span > 0 and -tolerance * span <= turn <= line * span:
        return abs(turn), None
    if turn <= 0 or _cross(b, c, d) <= 0:
        return None
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - d[0], c[1] - d[1]
    spread = ux * vy - uy * vx
    if spread >= 0:
        return None
    along = ((d[0] - b[0]) * vy - (d[1] - b[1]) * vx) / spread
    tip = (b[0] + along * ux, b[1] + along * uy)
    # Not from the tip: where the neighbours are all but parallel it is too far away to reckon with.
    area = abs(along * _cross(a, b, c))
    return (area, tip) if area <= tolerance * math.dist(b, c) else None


def _cross(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def convex_parts(outline: Points) -> list[list[int]]:
    """Cut a simple outline into convex parts along lines between its corners.

    Ears are cut off one at a time, then triangles are joined again as long as the result is convex: at most
    four times the fewest parts possible (Hertel and Mehlhorn 1983, from memory).

    Returns
    -------
    list of lists of int
        Corner indices of each part, counter-clockwise.
    """
    points = [(float(x), float(y)) for x, y in outline]
    parts = dict(enumerate(_ears(points)))
    owner = {side: number for number, part in parts.items() for side in _sides(part)}
    for a, b in [side for side in owner if side < side[::-1] and side[::-1] in owner]:
        # A line that is needed at one of its ends stays so: joining other parts only makes angles wider.
        one, other = owner[a, b], owner[b, a]
        union = _joined(points, parts[one], parts[other], a, b)
        if union:
            owner |= dict.fromkeys(_sides(parts.pop(other)), one)
            parts[one] = union
    return list(parts.values())


def _sides(part: list[int]) -> list[tuple[int, int]]:
    return list(zip(part, [*part[1:], part[0]], strict=True))


def _ears(points: list[tuple[float, float]]) -> list[list[int]]:
    left, ears = list(range(len(points))), []
    while len(left) > 3:
        n = len(left)
        # The fattest ear first keeps slivers away.
        best, best_i = -1.0, -1
        for i in range(n):
            a, b, c = left[i - 1], left[i], left[(i + 1) % n]
            area = _cross(points[a], points[b], points[c])
            if area <= 0:
                continue
            rim = sum(math.dist(points[p], points[q]) for p, q in ((a, b), (b, c), (c, a)))
            if area / rim**2 > best and not any(
                _inside(points[a], points[b], points[c], points[p]) for p in left if p not in (a, b, c)
            ):
                best, best_i = area / rim**2, i
        if best_i < 0:
            # Only corners in a line are left over: they bound no cloth.
            best_i = min(range(n), key=lambda i: abs(_cross(*(points[left[(i + k) % n]] for k in (-1, 0, 1)))))
        else:
            ears.append([left[best_i - 1], left[best_i], left[(best_i + 1) % n]])
        del left[best_i]
    if _cross(*(points[i] for i in left)) > 0:
        ears.append(left)
    return ears


def _inside(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], p: tuple[float, float]) -> bool:
    return _cross(a, b, p) >= 0 and _cross(b, c, p) >= 0 and _cross(c, a, p) >= 0


def _joined(points: list[tuple[float, float]], one: list[int], other: list[int], a: int, b: int) -> list[int] | None:
    """Two parts joined over the side from a to b of the first; None where the result is not convex."""
    k, m = one.index(b), other.index(a)
    # From b round the first to a, then round the other back towards b.
    union = one[k:] + one[:k] + (other[m + 1 :] + other[:m])[:-1]
    n, at_a = len(union), len(one) - 1
    for i in (0, at_a):
        if _cross(points[union[i - 1]], points[union[i]], points[union[(i + 1) % n]]) < 0:
            return None
    return union


def polygon_area(outline: NDArray[np.float64]) -> float:
    """Area of a closed outline, shape (n, 2), by the shoelace formula; never negative."""
    x, y = outline[:, 0], outline[:, 1]
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2
