"""Lines of known shapes: placed by a matrix, made of many points, and their areas by the integral round them.

A line is a list of steps in mm, y upwards: ``("M", x, y)``, ``("L", x, y)``, ``("C", x1, y1, x2, y2, x, y)``,
``("A", cx, cy, r, from, to)`` for an arc of a circle in degrees, and ``("E", cx, cy, rx, ry, turn)`` for an ellipse.
"""

from __future__ import annotations

from math import ceil, cos, degrees, hypot, radians, sin, sqrt
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

Step = tuple[str | float, ...]

Matrix = tuple[float, float, float, float, float, float]
"""As SVG writes it: a point (x, y) comes to (a x + c y + e, b x + d y + f)."""

UNMOVED: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)

FINE = 0.003
"""How far the chords of a curve made of many points stray from it at the most, mm."""


def numbers(step: Step) -> list[float]:
    """The numbers of a step."""
    return [float(value) for value in step[1:]]


def moved(x: float, y: float) -> Matrix:
    """A shift."""
    return (1.0, 0.0, 0.0, 1.0, x, y)


def turned(angle: float) -> Matrix:
    """A turn, counter-clockwise, degrees."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return (c, s, -s, c, 0.0, 0.0)


def scaled(x: float, y: float) -> Matrix:
    """Larger or smaller, or mirrored by a negative number."""
    return (x, 0.0, 0.0, y, 0.0, 0.0)


def product(*matrices: Matrix) -> Matrix:
    """Matrices one after the other: the last is applied first."""
    whole = np.eye(3)
    for a, b, c, d, e, f in matrices:
        whole = whole @ np.array([(a, c, e), (b, d, f), (0, 0, 1)])
    (a, c, e), (b, d, f) = whole[:2].tolist()
    return (a, b, c, d, e, f)


def placed(points: Floats, matrix: Matrix) -> Floats:
    """Points moved by a matrix."""
    a, b, c, d, e, f = matrix
    where: Floats = points @ np.array([(a, b), (c, d)]) + (e, f)
    return where


def steps_placed(steps: Iterable[Step], matrix: Matrix) -> list[Step]:
    """A line moved by a matrix; arcs and ellipses only by one that keeps angles."""
    found: list[Step] = []
    a, b, c, d, *_ = matrix
    size = hypot(a, b)
    flips = a * d - b * c < 0
    turn = degrees(np.arctan2(b, a))
    for step in steps:
        values = numbers(step)
        if step[0] in ("A", "E"):
            assert abs(hypot(c, d) - size) < 1e-9 and abs(a * c + b * d) < 1e-9, "an arc that is no more one"
            x, y = placed(np.array([values[:2]]), matrix)[0].tolist()
            if step[0] == "A":
                r, start, end = values[2:]
                angles = [turn - angle if flips else turn + angle for angle in (start, end)]
                found.append(("A", x, y, r * size, *angles))
            else:
                rx, ry, own = values[2:]
                found.append(("E", x, y, rx * size, ry * size, turn - own if flips else turn + own))
        else:
            points = placed(np.array(values).reshape(-1, 2), matrix)
            found.append((step[0], *points.ravel().tolist()))
    return found


def at_end(step: Step) -> tuple[float, float]:
    """Where a step ends."""
    values = numbers(step)
    if step[0] == "A":
        cx, cy, r, _, end = values
        return cx + r * cos(radians(end)), cy + r * sin(radians(end))
    return values[-2], values[-1]


def many_points(steps: Sequence[Step], many: int = 0) -> Floats:
    """A line as many points: so many along each curve, or as many as it needs."""
    parts: list[Floats] = []
    here = (0.0, 0.0)
    for step in steps:
        values = numbers(step)
        t = np.linspace(0.0, 1.0, (many or _needed(here, step)) + 1)[1:, np.newaxis]
        if step[0] in ("M", "L"):
            parts.append(np.array([values]))
        elif step[0] == "C":
            p0, (p1, p2, p3) = np.array(here), np.array(values).reshape(3, 2)
            parts.append((1 - t) ** 3 * p0 + 3 * (1 - t) ** 2 * t * p1 + 3 * (1 - t) * t**2 * p2 + t**3 * p3)
        elif step[0] == "A":
            cx, cy, r, start, end = values
            angles = np.radians(start + (end - start) * t)
            parts.append(np.hstack([cx + r * np.cos(angles), cy + r * np.sin(angles)]))
        else:
            cx, cy, rx, ry, turn = values
            angles = 2 * np.pi * t
            round_ = np.hstack([rx * np.cos(angles), ry * np.sin(angles)])
            parts.append(placed(round_, product(moved(cx, cy), turned(turn))))
        here = at_end(step)
    return np.vstack(parts)


def _needed(here: tuple[float, float], step: Step) -> int:
    """How many chords keep so near to a curve: a chord over a step h strays by h²/8 of the second derivative."""
    values = numbers(step)
    if step[0] == "C":
        p = np.array([here, *np.array(values).reshape(3, 2)])
        bend = 6 * float(np.hypot(*np.diff(p, n=2, axis=0).T).max())
    elif step[0] == "A":
        bend = values[2] * radians(values[4] - values[3]) ** 2
    else:
        bend = max(values[2:4], default=0.0) * (2 * np.pi) ** 2 if step[0] == "E" else 0.0
    return max(1, ceil(sqrt(bend / 8 / FINE)))


def area_of(steps: Sequence[Step]) -> float:
    """What a closed line encloses, mm²: half the integral of x dy - y dx, exact for each step."""
    total, here = 0.0, (0.0, 0.0)
    first = at_end(steps[0])
    nodes, weights = np.polynomial.legendre.leggauss(6)  # exact up to the degree 11; a cubic's x dy has 5
    t = (nodes + 1) / 2
    for step in steps:
        values = numbers(step)
        if step[0] == "L":
            total += here[0] * values[1] - here[1] * values[0]
        elif step[0] == "C":
            p = np.array([here, *np.array(values).reshape(3, 2)])
            basis = np.array([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3]).T @ p
            slope = 3 * np.array([(1 - t) ** 2, 2 * (1 - t) * t, t**2]).T @ np.diff(p, axis=0)
            total += float(weights @ (basis[:, 0] * slope[:, 1] - basis[:, 1] * slope[:, 0])) / 2
        elif step[0] == "A":
            cx, cy, r, start, end = values
            a, b = radians(start), radians(end)
            total += r * r * (b - a) + cx * r * (sin(b) - sin(a)) - cy * r * (cos(b) - cos(a))
        elif step[0] == "E":
            return float(np.pi * values[2] * values[3])
        here = at_end(step)
    return abs(total + here[0] * first[1] - here[1] * first[0]) / 2
