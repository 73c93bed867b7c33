"""Lines of points: evened out, parted at corners, and how they lie to one another."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CORNER = 35.0
"""Where a line turns by more, degrees, one side ends and the next begins."""

FAR_APART = 12.0
"""Lines that are further apart are told to be so, without how far, mm."""


def even(points: Floats, apart: float, *, is_ring: bool = False) -> Floats:
    """A line with its points so far apart."""
    line = np.vstack([points, points[:1]]) if is_ring else points
    steps = np.hypot(*np.diff(line, axis=0).T)
    line = line[np.concatenate([[True], steps > 1e-9])]
    way = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    count = max(2, round(way[-1] / apart) + 1)
    at = np.linspace(0, way[-1], count, endpoint=True)
    found = np.column_stack([np.interp(at, way, column) for column in line.T])
    return found[:-1] if is_ring else found


def calm(points: Floats, soft: float, *, is_ring: bool = False) -> Floats:
    """A line smoothed by a bell curve of so many points; its ends stay."""
    half = min(int(np.ceil(3 * soft)), len(points) - 1)
    bell = np.exp(-0.5 * (np.arange(-half, half + 1) / soft) ** 2)
    bell /= bell.sum()
    if is_ring:
        padded = np.pad(points, ((half, half), (0, 0)), mode="wrap")
    else:  # turned about its ends, so that they stay
        before, after = 2 * points[0] - points[half:0:-1], 2 * points[-1] - points[-2 : -half - 2 : -1]
        padded = np.vstack([before, points, after])
    return np.column_stack([np.convolve(column, bell, mode="valid") for column in padded.T])


def split(points: Floats) -> list[Floats]:
    """The parts of a line between its corners."""
    line = even(points, 1.0)
    line = calm(line, 0.7) if len(line) > 8 else line
    reach = 5
    if len(line) < 2 * reach + 2:
        return [line]
    turn = np.zeros(len(line))
    for k in range(2, len(line) - 2):
        back, on = line[max(0, k - reach)] - line[k], line[min(len(line) - 1, k + reach)] - line[k]
        turn[k] = 180 - degrees(back, on)
    at, cuts = turn.copy(), []
    while at.max() > CORNER:
        k = int(at.argmax())
        cuts.append(k)
        at[max(0, k - reach - 1) : k + reach + 2] = 0
    edges = [0, *sorted(cuts), len(line) - 1]
    return [line[a : b + 1] for a, b in pairwise(edges) if b > a]


def straight(points: Floats) -> Floats:
    """The two ends of the straight line nearest to points, in their order; what bends at its ends does not count."""
    rim = min(len(points) // 6, 8)
    core = points[rim : len(points) - rim]
    middle = core.mean(axis=0)
    along = np.linalg.svd(core - middle, full_matrices=False)[2][0]
    at = (points - middle) @ along
    ends = np.array([at[0], at[-1]])
    return np.asarray(middle + ends[:, None] * along)


def chord(points: Floats) -> float:
    """From the first point to the last, mm."""
    return float(np.hypot(*(points[-1] - points[0])))


def degrees(one: Floats, other: Floats) -> float:
    """Between two directions."""
    size = float(np.hypot(*one) * np.hypot(*other))
    return float(np.degrees(np.arccos(np.clip(one @ other / max(size, 1e-12), -1, 1))))


def angle(one: Floats, other: Floats, *, is_directed: bool = False) -> float:
    """Between two lines, degrees: at most 90, or of directions at most 180."""
    found = degrees(one[-1] - one[0], other[-1] - other[0])
    return found if is_directed else min(found, 180 - found)


def off_line(points: Floats, line: Floats) -> Floats:
    """How far points lie off a straight line, mm."""
    along = (line[-1] - line[0]) / max(chord(line), 1e-9)
    return np.asarray(np.abs((points - line[0]) @ np.array([-along[1], along[0]])))


def crossing(one: Floats, other: Floats) -> Floats | None:
    """Where two straight lines meet; None if they run alike."""
    u, v = one[-1] - one[0], other[-1] - other[0]
    area = u[0] * v[1] - u[1] * v[0]
    if abs(area) < 1e-9 * max(1.0, float(np.hypot(*u) * np.hypot(*v))):
        return None
    gone = other[0] - one[0]
    return np.asarray(one[0] + (gone[0] * v[1] - gone[1] * v[0]) / area * u)


def joint(one: Floats, after: Floats) -> Floats | None:
    """What lies between the end of a line and the start of the next: nothing, or their corner; None if too far."""
    gap = after[0] - one[-1]
    long = float(np.hypot(*gap))
    if long < 3.0:
        return np.zeros((0, 2))
    ways = [even(line, 1.0) for line in (one[-24:], after[:24])]
    corner = crossing(ways[0][[0, -1]], ways[1][[0, -1]])
    turn = degrees(ways[0][-1] - ways[0][0], ways[1][-1] - ways[1][0])
    if turn < 15.0:
        return np.zeros((0, 2)) if long < 30.0 else None
    if corner is None or max(float(np.hypot(*(corner - end))) for end in (one[-1], after[0])) > 12.0:
        return None
    ahead = (corner - one[-1]) @ (ways[0][-1] - ways[0][0]) > -1.0 * chord(ways[0])
    return corner[None] if ahead else None


def apart(one: Floats, other: Floats) -> float:
    """How near two lines come, mm."""
    import shapely

    if (one.min(axis=0) > other.max(axis=0) + FAR_APART).any() or (
        other.min(axis=0) > one.max(axis=0) + FAR_APART
    ).any():
        return float("inf")
    return float(shapely.distance(shapely.LineString(one), shapely.LineString(other)))
