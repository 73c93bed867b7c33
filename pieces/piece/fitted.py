"""Cubics fitted to lines of many points, as to what is a seam allowance away from a curve."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.curve import Cubic, Line

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.piece.curve import Curve, Point

    Floats = NDArray[np.float64]

FIT = 0.01
"""How far a fitted curve may stray from the points that it is fitted to, mm."""

CORNER = 0.1
"""A turn by more than this, radians, from one chord to the next is a corner, and stays one."""

LONG = 4.0
"""A longer chord is a straight line of its own, mm: points nearer to one another tell a curve."""

ROUNDS = 6
"""How often the places of points along a curve are made better before it is cut in two."""


def fit(points: Floats) -> list[Curve]:
    """Lines and cubics through a line of points, shape (n, 2): corners and long chords stay.

    A cubic strays from none of its points by more than `FIT`.
    """
    chords = np.diff(points, axis=0)
    long = np.hypot(*chords.T)
    turn = np.arctan2(
        chords[:-1, 0] * chords[1:, 1] - chords[:-1, 1] * chords[1:, 0], (chords[:-1] * chords[1:]).sum(axis=1)
    )
    is_line = long > LONG
    breaks = (np.abs(turn) > CORNER) | is_line[:-1] | is_line[1:]
    ends = [0, *(np.flatnonzero(breaks) + 1).tolist(), len(points) - 1]
    found: list[Curve] = []
    for start, end in pairwise(ends):
        run = points[start : end + 1]
        if len(run) == 2 or _is_straight(run):
            found.append(Line(_point(run[0]), _point(run[-1])))
        else:
            found += _curves(run, _way(run), -_way(run[::-1]))
    return _merged(found)


def _point(at: Floats) -> Point:
    return float(at[0]), float(at[1])


def _is_straight(run: Floats) -> bool:
    """Whether all points lie on one line; a run that ends where it begins, as round a circle, is none."""
    chord = run[-1] - run[0]
    across = (run - run[0]) @ np.array([-chord[1], chord[0]])
    return bool(np.abs(across).max() <= 1e-3 * np.hypot(*chord) and np.hypot(*chord) > 1e-6)


def _way(run: Floats) -> Floats:
    """The direction in which a run of points begins: that of a parabola through its first three."""
    if len(run) < 3:
        return _unit(run[1] - run[0])
    first, second = run[1] - run[0], run[2] - run[1]
    one, other = np.hypot(*first), np.hypot(*second)
    return _unit(first / one + (first / one - second / other) * one / (one + other))


def _unit(way: Floats) -> Floats:
    """A vector of length 1."""
    unit: Floats = way / np.hypot(*way)
    return unit


def _curves(run: Floats, leaves: Floats, arrives: Floats) -> list[Curve]:
    """One cubic from end to end with those directions or, where none fits, those of two halves."""
    curve = _one(run, leaves, arrives)
    if curve is not None:
        return [curve]
    if len(run) < 5:
        return [Line(_point(a), _point(b)) for a, b in pairwise(run)]
    middle = len(run) // 2
    across = _unit(run[middle + 1] - run[middle - 1])
    return [*_curves(run[: middle + 1], leaves, across), *_curves(run[middle:], across, arrives)]


def _one(run: Floats, leaves: Floats, arrives: Floats) -> Cubic | None:
    """The cubic from end to end in given directions that strays least, if it strays little enough.

    Schneider, An Algorithm for Automatically Fitting Digitized Curves, Graphics Gems, 1990, from memory.
    """
    chords = np.hypot(*np.diff(run, axis=0).T)
    t = np.concatenate(([0.0], np.cumsum(chords))) / chords.sum()
    start, end, reach = run[0], run[-1], float(chords.sum())
    for _ in range(ROUNDS):
        b0, b1, b2, b3 = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
        rest = run - np.outer(b0 + b1, start) - np.outer(b2 + b3, end)
        first, second = np.outer(b1, leaves).ravel(), np.outer(b2, -arrives).ravel()
        system = np.array([[first @ first, first @ second], [first @ second, second @ second]])
        if abs(np.linalg.det(system)) < 1e-12:
            return None
        low, high = np.linalg.solve(system, np.array([first @ rest.ravel(), second @ rest.ravel()]))
        if not (0 < low < 2 * reach and 0 < high < 2 * reach):
            return None
        four = np.array([start, start + low * leaves, end - high * arrives, end])
        at = np.column_stack([b0, b1, b2, b3]) @ four
        off = at - run
        strays = float(np.hypot(*off.T).max())
        if strays <= FIT:
            return Cubic(_point(four[0]), _point(four[1]), _point(four[2]), _point(four[3]))
        if strays > 50 * FIT:
            return None
        speed = 3 * (
            np.outer((1 - t) ** 2, four[1] - four[0])
            + np.outer(2 * (1 - t) * t, four[2] - four[1])
            + np.outer(t**2, four[3] - four[2])
        )
        t = np.clip(t - (off * speed).sum(axis=1) / np.maximum((speed**2).sum(axis=1), 1e-12), 0.0, 1.0)
        t[0], t[-1] = 0.0, 1.0
    return None


def _merged(curves: list[Curve]) -> list[Curve]:
    """Lines that go straight on are one."""
    found: list[Curve] = []
    for curve in curves:
        before = found[-1] if found else None
        if isinstance(before, Line) and isinstance(curve, Line):
            way, on = np.subtract(before.end, before.start), np.subtract(curve.end, curve.start)
            turn = way[0] * on[1] - way[1] * on[0]
            if abs(turn) <= 1e-9 * np.hypot(*way) * np.hypot(*on) and way @ on > 0:
                found[-1] = Line(before.start, curve.end)
                continue
        found.append(curve)
    return found
