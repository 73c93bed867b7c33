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
    while len(corners) > fewest:
        steps = [step for i in range(len(corners)) if (step := _cheapest_step(corners, i, tolerance, line))]
        if not steps:
            break
        added, i, new = min(steps, key=lambda step: step[:2])
        area -= added / 2
        if area < 0:
            break
        if new is None:
            del corners[i]
        else:
            corners[i] = new
            del corners[(i + 1) % len(corners)]
    return np.array(corners)


def _cheapest_step(
    corners: list[tuple[float, float]], i: int, tolerance: float, line: float
) -> tuple[float, int, tuple[float, float] | None] | None:
    """Area added by dropping inward corner i, or by running the neighbours of edge (i, i + 1) together.

    An outward corner goes only where it is in a line with its neighbours.
    """
    n = len(corners)
    a, b, c, d = (corners[(i + k) % n] for k in (-1, 0, 1, 2))
    turn, span = _cross(a, b, c), math.dist(a, c)
    if span > 0 and -tolerance * span <= turn <= line * span:
        return abs(turn), i, None
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
    return (area, i, tip) if area <= tolerance * math.dist(b, c) else None


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
    parts = _ears(outline)
    joined = True
    while joined:
        joined = False
        for i in range(len(parts)):
            for j in range(i + 1, len(parts)):
                union = _join(outline, parts[i], parts[j])
                if union:
                    parts[i] = union
                    del parts[j]
                    joined = True
                    break
            if joined:
                break
    return parts


def _ears(outline: Points) -> list[list[int]]:
    points = [(float(x), float(y)) for x, y in outline]
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


def _join(outline: Points, one: list[int], other: list[int]) -> list[int] | None:
    """Two parts joined over the side they share, or None where they share none or the result is not convex."""
    shared = set(one) & set(other)
    if len(shared) != 2:
        return None
    for k, first in enumerate(one):
        second = one[(k + 1) % len(one)]
        if first in shared and second in shared:
            start = other.index(first)
            if other[start - 1] != second:
                return None
            union = one[k + 1 :] + one[: k + 1] + [other[(start + i) % len(other)] for i in range(1, len(other) - 1)]
            corners = outline[union]
            side = np.roll(corners, -1, axis=0) - corners
            after = np.roll(side, -1, axis=0)
            turns = side[:, 0] * after[:, 1] - side[:, 1] * after[:, 0]
            return union if (turns >= 0).all() else None
    return None


def polygon_area(outline: NDArray[np.float64]) -> float:
    """Area of a closed outline, shape (n, 2), by the shoelace formula; never negative."""
    x, y = outline[:, 0], outline[:, 1]
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2
