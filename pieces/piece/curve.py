"""Lines and Bézier curves, what they become when flattened, and lengths along them.

Points are pairs in mm; a *polyline* is an array of shape (n, 2). In a piece's own frame x runs along the
grain, from the top of the garment down, and y across, from the centre outwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, sqrt
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

Point = tuple[float, float]

TOLERANCE = 0.2
"""How far a flattened curve may stray from the true one, mm."""


@dataclass(frozen=True)
class Line:
    """A straight line from one point to another."""

    start: Point
    end: Point

    def flatten(self, tolerance: float = TOLERANCE) -> Floats:
        """Its two ends, shape (2, 2)."""
        return np.array([self.start, self.end], dtype=np.float64)

    @property
    def length(self) -> float:
        """Length, mm."""
        return float(np.hypot(*np.subtract(self.end, self.start)))


@dataclass(frozen=True)
class Cubic:
    """A cubic Bézier curve: it leaves `start` towards `lead` and comes into `end` from `trail`."""

    start: Point
    lead: Point
    trail: Point
    end: Point

    def at(self, t: Floats) -> Floats:
        """Points at shares of its parameter from 0 to 1, shape (n, 2); its ends are exact."""
        points = self._at(t)
        points[0], points[-1] = self.start, self.end
        return points

    def _at(self, t: Floats) -> Floats:
        p0, p1, p2, p3 = np.array([self.start, self.lead, self.trail, self.end])
        t = t[:, np.newaxis]
        points: Floats = (1 - t) ** 3 * p0 + 3 * (1 - t) ** 2 * t * p1 + 3 * (1 - t) * t**2 * p2 + t**3 * p3
        return points

    def flatten(self, tolerance: float = TOLERANCE) -> Floats:
        """Points on the curve, shape (n, 2), whose chords stray from it by no more than `tolerance`.

        A chord over a step h of the parameter strays by at most h²/8 times the largest second derivative,
        which for a cubic is at most six times the larger second difference of its four points.
        """
        p0, p1, p2, p3 = np.array([self.start, self.lead, self.trail, self.end])
        if max(_distance(p1, p0, p3), _distance(p2, p0, p3)) < 1e-9:
            return np.array([p0, p3])
        bend = max(np.hypot(*(p0 - 2 * p1 + p2)), np.hypot(*(p1 - 2 * p2 + p3)))
        steps = max(1, ceil(sqrt(0.75 * bend / tolerance)))
        return self.at(_shares(steps))

    @property
    def length(self) -> float:
        """Arc length, mm, by Gauss-Legendre quadrature with 24 points."""
        p0, p1, p2, p3 = np.array([self.start, self.lead, self.trail, self.end])
        nodes, weights = np.polynomial.legendre.leggauss(24)
        t = ((nodes + 1) / 2)[:, np.newaxis]
        speed = 3 * ((1 - t) ** 2 * (p1 - p0) + 2 * (1 - t) * t * (p2 - p1) + t**2 * (p3 - p2))
        return float(weights @ np.hypot(*speed.T) / 2)


Curve = Line | Cubic


def _distance(point: Floats, start: Floats, end: Floats) -> float:
    """Distance of a point from the straight line that runs from one point to another."""
    chord, across = end - start, point - start
    along = np.clip(across @ chord / max(float(chord @ chord), 1e-12), 0.0, 1.0)
    return float(np.hypot(*(across - along * chord)))


def flatten_each(cubics: Floats, tolerance: float = TOLERANCE) -> list[Floats]:
    """Many cubics, each as `Cubic.flatten` has it, at once; shape (n, 4, 2)."""
    p0, p1, p2, p3 = (cubics[:, k] for k in range(4))
    chord = p3 - p0
    square = np.maximum((chord * chord).sum(axis=1), 1e-12)
    off = [
        np.hypot(*(across - np.clip((across * chord).sum(axis=1) / square, 0.0, 1.0)[:, np.newaxis] * chord).T)
        for across in (p1 - p0, p2 - p0)
    ]
    bend = np.maximum(np.hypot(*(p0 - 2 * p1 + p2).T), np.hypot(*(p1 - 2 * p2 + p3).T))
    steps = np.maximum(1, np.ceil(np.sqrt(0.75 * bend / tolerance))).astype(int)
    steps[np.maximum(*off) < 1e-9] = 0
    found: list[Floats] = [cubic[[0, 3]] for cubic in cubics]
    for many in np.unique(steps[steps > 0]).tolist():
        these = np.flatnonzero(steps == many)
        t = _shares(many)[:, np.newaxis]
        q0, q1, q2, q3 = (p[these, np.newaxis] for p in (p0, p1, p2, p3))
        points = (1 - t) ** 3 * q0 + 3 * (1 - t) ** 2 * t * q1 + 3 * (1 - t) * t**2 * q2 + t**3 * q3
        points[:, 0], points[:, -1] = p0[these], p3[these]
        for at, line in zip(these.tolist(), points, strict=True):
            found[at] = line
    return found


def _shares(steps: int) -> Floats:
    """Where a cubic is cut into chords, by shares of its parameter.

    Short chords at each end keep near its true direction, so that seams meet it squarely.
    """
    t = np.linspace(0.0, 1.0, steps + 1)
    if steps > 1:
        ends = np.array([0.0, 0.1, 0.3]) / steps
        t = np.concatenate((ends, t[1:-1], 1 - ends[::-1]))
    return t


def flatten(curves: Iterable[Curve], tolerance: float = TOLERANCE) -> Floats:
    """Curves one after another as one polyline, without doubled points where they meet."""
    parts = [curve.flatten(tolerance) for curve in curves]
    return np.vstack([parts[0], *(part[1:] for part in parts[1:])])


def polyline_length(points: Floats) -> float:
    """Length of a polyline, mm."""
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def point_along(points: Floats, distance: float) -> Point:
    """The point that lies `distance` mm along a polyline; its ends where that is before or past them."""
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    return float(np.interp(distance, along, points[:, 0])), float(np.interp(distance, along, points[:, 1]))
