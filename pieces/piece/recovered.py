"""The curves that a polyline was flattened from, found again by its points.

Drafted pieces are polylines, and layouts, checks and proofs go on being made of these. Their points lie on the curves
that they were drafted with, at steps of the parameter that are known: those of `Cubic.flatten`, or even ones, as of an
arc. So the curve follows from the points, to the last digits, and it still does once they were turned, mirrored, moved
or cut off. What follows from no such curve stays the chords it is.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.curve import TOLERANCE, Cubic, Line

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.piece.curve import Curve, Point

    Floats = NDArray[np.float64]

EXACT = 1e-5
"""How near all points must lie to the curve that they are samples of, mm."""

LEAST = 7
"""Points of a curve flattened by `Cubic.flatten`, at the least."""

EVEN = 6
"""Points at even steps that tell a curve, at the least: a cubic has four of its own."""

WIDEST_ARC = np.pi / 6
"""An arc is written as cubics of at most so much: by their formula they stray by less than 1e-6 of the radius."""


def recover(points: Floats) -> list[Curve]:
    """The lines and curves of a polyline, shape (n, 2), one after another; none strays from its chords by over 0.2 mm.

    A point is kept where one ends and the next begins.
    """
    even, begins, ends = _hints(points) if len(points) >= EVEN else (None, None, None)
    if even is None or begins is None or ends is None or not (even.any() or begins.any()):
        corners = [(x, y) for x, y in points.tolist()]
        return [Line(a, b) for a, b in pairwise(corners)]
    found: list[Curve] = []
    at, last = 0, len(points) - 1
    while at < last:
        run = (begins[at] and _flattened(points, at, ends)) or (even[at] and _even(points, at, even))
        end, curves = run or (at + 1, [Line(_point(points[at]), _point(points[at + 1]))])
        found += curves
        at = end
    return found


def curves_of(points: Floats) -> tuple[Curve, ...]:
    """The same, if there is a curve among them: none of a polyline that is no more than that."""
    if len(points) < EVEN or not any(hints.any() for hints in _hints(points)[:2]):
        return ()
    found = recover(points)
    return tuple(found) if any(isinstance(curve, Cubic) for curve in found) else ()


def _hints(points: Floats) -> tuple[NDArray[np.bool_], NDArray[np.bool_], NDArray[np.bool_]]:
    """At which points even steps begin, at which a flattened curve may begin, and at which one may end.

    Its chords at each end are as 1 to 2 to 7, or nearly.
    """
    long = np.hypot(*np.diff(points, axis=0).T)
    begins, ends = (
        (1.5 * first < second) & (second < 2.7 * first) & (1.5 * second < third) & (third < 7 * second)
        for first, second, third in ((long[:-2], long[1:-1], long[2:]), (long[2:], long[1:-1], long[:-2]))
    )
    none = np.zeros(3, dtype=bool)
    return _even_runs(points), np.concatenate([begins, none]), np.concatenate([none, ends])


def _point(at: Floats) -> Point:
    return float(at[0]), float(at[1])


@cache
def _steps(count: int) -> tuple[Floats, Floats]:
    """Of a curve flattened into so many points: where these lie, and what gives its four points out of them."""
    steps = count - 5
    t = np.linspace(0.0, 1.0, steps + 1)
    ends = np.array([0.0, 0.1, 0.3]) / steps
    t = np.concatenate((ends, t[1:-1], 1 - ends[::-1]))
    return t, np.asarray(np.linalg.pinv(_basis(t)), dtype=np.float64)


def _basis(t: Floats) -> Floats:
    return np.column_stack([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3])


def _flattened(points: Floats, at: int, ends: NDArray[np.bool_]) -> tuple[int, list[Curve]] | None:
    """Where a curve ends that was flattened from a point on, and the curve."""
    for end in np.flatnonzero(ends[at + LEAST - 1 :]) + at + LEAST - 1:
        run = points[at : end + 1]
        t, solve = _steps(len(run))
        four = solve @ run
        if np.abs(_basis(t) @ four - run).max() < EXACT:
            curves = _checked([_cubic(four, run)], run)
            return (int(end), curves) if curves else None
    return None


def _cubic(four: Floats, run: Floats) -> Cubic:
    return Cubic(_point(run[0]), _point(four[1]), _point(four[2]), _point(run[-1]))


def _even_runs(points: Floats) -> NDArray[np.bool_]:
    """At which points five begin that are even steps along a cubic or an arc."""
    if len(points) < 5:
        return np.zeros(len(points), dtype=bool)
    flat = np.abs(np.diff(points, 4, axis=0)).max(axis=1) < EXACT
    chords = np.diff(points, axis=0)
    long = np.hypot(*chords.T)
    turn = chords[:-1, 0] * chords[1:, 1] - chords[:-1, 1] * chords[1:, 0]
    same = (np.abs(np.diff(long)) < EXACT)[:-2] & (np.abs(np.diff(long)) < EXACT)[1:-1] & (
        np.abs(np.diff(long)) < EXACT
    )[2:]  # fmt: skip
    bent = np.abs(np.diff(turn)) < EXACT * long[1:-1]
    return np.concatenate([flat | (same & bent[:-1] & bent[1:]), np.zeros(4, dtype=bool)])


def _even(points: Floats, at: int, even: NDArray[np.bool_]) -> tuple[int, list[Curve]] | None:
    """Where a curve ends that a point and those after it are even steps of, and the curves it is written as."""
    end = at + 4
    while even[end - 3]:
        end += 1
    run = points[at : end + 1]
    if len(run) < EVEN:
        return None
    chord = run[-1] - run[0]
    long = float(np.hypot(*chord))
    off = np.abs((run - run[0]) @ np.array([-chord[1], chord[0]])).max()
    if long > EXACT and off < EXACT * max(1.0, long):  # a run that ends where it begins goes round
        return end, [Line(_point(run[0]), _point(run[-1]))]
    t = np.linspace(0.0, 1.0, len(run))
    four = np.asarray(np.linalg.lstsq(_basis(t), run, rcond=None)[0], dtype=np.float64)
    if np.abs(_basis(t) @ four - run).max() < EXACT:
        curves = _checked([_cubic(four, run)], run)
    else:
        curves = _checked(_arc(run), run)
    return (end, curves) if curves else None


def _arc(run: Floats) -> list[Curve]:
    """Cubics along the arc that points lie on at even steps; none where they do not."""
    system = np.column_stack([2 * run, np.ones(len(run))])
    x, y, rest = np.linalg.lstsq(system, (run**2).sum(axis=1), rcond=None)[0]
    radius = float(np.sqrt(max(rest + x * x + y * y, 0.0)))
    spokes = run - (x, y)
    if np.abs(np.hypot(*spokes.T) - radius).max() > 10 * EXACT:
        return []
    angles = np.unwrap(np.arctan2(spokes[:, 1], spokes[:, 0]))
    parts = max(1, int(np.ceil(abs(angles[-1] - angles[0]) / WIDEST_ARC)))
    ends = np.linspace(angles[0], angles[-1], parts + 1)
    reach = radius * 4 / 3 * np.tan((ends[1] - ends[0]) / 4)
    spots = np.array([x, y]) + radius * np.column_stack([np.cos(ends), np.sin(ends)])
    spots[0], spots[-1] = run[0], run[-1]
    ways = reach * np.column_stack([-np.sin(ends), np.cos(ends)])
    return [
        Cubic(_point(spots[k]), _point(spots[k] + ways[k]), _point(spots[k + 1] - ways[k + 1]), _point(spots[k + 1]))
        for k in range(parts)
    ]


def _checked(curves: list[Curve], run: Floats) -> list[Curve]:
    """The curves, if no part of them strays from the chords of their points by more than a draft's curves may."""
    import shapely

    if not curves:
        return []
    t = np.linspace(0.0, 1.0, max(8, 4 * len(run) // len(curves)))
    spots = np.vstack([_basis(t) @ np.array([c.start, c.lead, c.trail, c.end]) for c in curves if isinstance(c, Cubic)])
    strays = shapely.distance(shapely.LineString(run), shapely.points(spots)).max()
    return curves if strays <= TOLERANCE + EXACT else []
