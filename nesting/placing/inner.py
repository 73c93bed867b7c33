"""Outlines with few corners that lie within others: what does not fit with these does not fit with those."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Point = tuple[float, float]

FEWEST = 3
"""No outline has fewer corners."""


class _Step(NamedTuple):
    """A step that takes something off an outline: its area and depth, which corners go, and what comes instead."""

    area: float
    depth: float
    first: int
    gone: int
    instead: tuple[Point, ...]


def inner(outline: Points, depth: float) -> Points:
    """An outline within another that has few corners.

    Steps only ever take something off: an outward corner is cut off, the sides beside an edge between inward corners
    are drawn on until they meet, or a side is drawn on through the outward corner beside it. The cheapest in area
    come first.

    Parameters
    ----------
    outline
        Shape (n, 2), counter-clockwise, simple.
    depth
        How deep a step may cut.
    """
    corners = [(float(x), float(y)) for x, y in outline]
    while len(corners) > FEWEST:
        steps = sorted(step for i in range(len(corners)) for step in _steps_at(corners, i) if step.depth <= depth)
        step = next((step for step in steps if _holds(corners, step)), None)
        if step is None:
            break
        corners = _after(corners, step)
    return np.array(corners)


def _steps_at(corners: list[Point], i: int) -> Iterator[_Step]:
    n = len(corners)
    a, b, c, d = (corners[(i + k) % n] for k in (-1, 0, 1, 2))
    turn, following = _cross(a, b, c), _cross(b, c, d)
    if turn >= 0:
        span = math.dist(a, c)
        if span > 0:
            yield _Step(turn / 2, turn / span, i, 1, ())
    if turn < 0 and following < 0 and (tip := _meet(a, b, d, c)):
        area = abs(_cross(b, tip, c)) / 2
        yield _Step(area, 2 * area / math.dist(b, c), i, 2, (tip,))
    # b goes out, c in: the side d-c is drawn on to the side a-b; and the other way round.
    if turn > 0 > following and (hit := _meet(d, c, b, a)) and _between(hit, a, b):
        area = abs(_cross(hit, b, c)) / 2
        yield _Step(area, 2 * area / max(math.dist(hit, c), 1e-12), i, 2, (hit,))
    if turn < 0 < following and (hit := _meet(a, b, c, d)) and _between(hit, c, d):
        area = abs(_cross(b, c, hit)) / 2
        yield _Step(area, 2 * area / max(math.dist(hit, b), 1e-12), i, 2, (hit,))


def _meet(a: Point, b: Point, d: Point, c: Point) -> Point | None:
    """Where the line from a through b, beyond b, meets the one from d through c, beyond c; None if nowhere."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - d[0], c[1] - d[1]
    spread = ux * vy - uy * vx
    if abs(spread) < 1e-9 * (math.hypot(ux, uy) * math.hypot(vx, vy) + 1e-12):
        return None
    along = ((d[0] - b[0]) * vy - (d[1] - b[1]) * vx) / spread
    other = ((d[0] - b[0]) * uy - (d[1] - b[1]) * ux) / spread
    if along <= 0 or other <= 0:
        return None
    return b[0] + along * ux, b[1] + along * uy


def _between(point: Point, one: Point, other: Point) -> bool:
    ux, uy = other[0] - one[0], other[1] - one[1]
    share = ((point[0] - one[0]) * ux + (point[1] - one[1]) * uy) / max(ux * ux + uy * uy, 1e-12)
    return 0.0 < share < 1.0


def _after(corners: list[Point], step: _Step) -> list[Point]:
    n, end = len(corners), step.first + step.gone
    if end <= n:
        return [*corners[: step.first], *step.instead, *corners[end:]]
    return [*corners[end - n : step.first], *step.instead]


def _holds(corners: list[Point], step: _Step) -> bool:
    """Whether what a step takes off is clear of all other corners and sides."""
    n = len(corners)
    gone = [corners[(step.first + k) % n] for k in range(step.gone)]
    before, after = corners[step.first - 1], corners[(step.first + step.gone) % n]
    rest = [corners[(step.first + step.gone + k) % n] for k in range(n - step.gone)]
    if len(rest) < 2 or len(rest) + len(step.instead) < FEWEST:
        return False
    new = [before, *step.instead, after]
    taken = np.array([*gone, *step.instead[::-1]] if step.instead else [before, *gone, after])
    others = np.array(rest)
    if _any_inside(taken, others[1:-1]):
        return False
    starts, ends = others[:-1], others[1:]
    return not any(_crosses(np.array(p), np.array(q), starts, ends) for p, q in pairwise(new))


def _any_inside(polygon: Points, points: Points) -> bool:
    """Whether a point lies in a triangle, its border included."""
    if not len(points):
        return False
    a, b, c = polygon[:3]
    signs = [_side(p, q, points) for p, q in ((a, b), (b, c), (c, a))]
    inside = np.all([sign >= 0 for sign in signs], axis=0) | np.all([sign <= 0 for sign in signs], axis=0)
    return bool(inside.any())


def _crosses(p: Points, q: Points, starts: Points, ends: Points) -> bool:
    """Whether a new side properly crosses one of the sides that stay."""
    one, two = _side(p, q, starts), _side(p, q, ends)
    three, four = _side(starts, ends, p), _side(starts, ends, q)
    return bool(((one * two < 0) & (three * four < 0)).any())


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _side(a: Points, b: Points, c: Points) -> Points:
    """On which side of the lines from a to b points lie: more than 0 to the left."""
    (ax, ay), (bx, by), (cx, cy) = a.T, b.T, c.T
    return np.asarray((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
