"""Test data: jigsaws cut from a rectangle, so that the shortest length is known by construction."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.problem.problem import Problem

if TYPE_CHECKING:
    from numpy.typing import NDArray


def jigsaw(width: float, length: float, cuts: int, seed: int) -> Problem:
    """A rectangle cut by lines, a piece at a time, into `cuts` + 1 convex pieces; no turns."""
    pieces = jigsaw_parts(width, length, cuts, seed)
    return Problem.from_outlines(width, pieces, [1] * len(pieces), [[0.0]] * len(pieces))


def jigsaw_parts(width: float, length: float, cuts: int, seed: int) -> list[np.ndarray]:
    """The pieces of a jigsaw where they lie in its rectangle."""
    rng = np.random.default_rng(seed)
    pieces = [np.array([[0, 0], [length, 0], [length, width], [0, width]], dtype=float)]
    for _ in range(cuts):
        pieces.sort(key=lambda p: -_area(p))
        piece = pieces.pop(0)
        angle = rng.uniform(0, np.pi)
        normal = np.array([np.cos(angle), np.sin(angle)])
        pieces += _cut(piece, normal, float(normal @ piece.mean(axis=0)))
    return pieces


def _area(points: NDArray[Any]) -> float:
    x, y = points.T
    return float(abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2)


def _cut(points: NDArray[Any], normal: NDArray[Any], offset: float) -> list[NDArray[Any]]:
    """Both halves of a convex polygon, by Sutherland and Hodgman's clipping."""
    halves = []
    for sign in (1, -1):
        half, side = [], sign * (points @ normal - offset)
        for i in range(len(points)):
            j = (i + 1) % len(points)
            if side[i] >= 0:
                half.append(points[i])
            if side[i] * side[j] < 0:
                half.append(points[i] + (points[j] - points[i]) * side[i] / (side[i] - side[j]))
        halves.append(np.array(half))
    return halves
