"""Lines, arcs and curves through measured points, each within a tolerance; corners are kept."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.photo.lines import even, split

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

RunKind = Literal["line", "arc", "curve"]

SHARP, BENT = 60.0, 10.0
"""A turn of more than the first is a corner, degrees. One of more than the second is a corner if the sides run on as
straight as they come, else a curve or the side of a corner. Common practice, no source."""

LONGER = 1.4
"""By so much may it grow where it is measured twice as far away."""

ARM, HIDDEN = 14, 3
"""Points on each side of a corner by which its sides run, and how many of them nearest to it are not believed."""

TIP, BLUNT = 105.0, 9
"""A corner that turns by more is a tip, degrees: of its sides so many points next to it are not believed."""

STRAIGHT = 0.04
"""A side that lies nearer to a straight line than this runs straight into its corner, mm, root mean square."""

DRAWN_IN = 0.01
"""How much nearer two sides must come for each point that their corner lies further off from where it was seen."""

FLAT = 0.05
"""How far a curve may lie off the line that is drawn for it, mm."""

MOST_PARTS = 200
"""Curves of one run: more follow the noise."""


@dataclass(frozen=True, eq=False)
class FittedRun:
    """A side of an outline: of which kind it is, its points as drawn, and how far the measured ones lie off it, mm."""

    kind: RunKind
    points: Floats
    off: float


@dataclass(frozen=True, eq=False)
class FittedOutline:
    """A closed outline out of sides that end where the next begin."""

    runs: tuple[FittedRun, ...]

    @property
    def points(self) -> Floats:
        """The outline as short lines, without the repeated first point."""
        return np.vstack([run.points[:-1] for run in self.runs])

    @property
    def off(self) -> float:
        """How far measured points lie off it at the most, mm."""
        return max(run.off for run in self.runs)


def fit_outline(points: Floats, tolerance: float) -> FittedOutline:
    """Sides through the points of a closed outline, a point every millimetre.

    Parameters
    ----------
    tolerance
        How far a side may lie off the points it stands for, mm; they are evened out over some millimetres first.
    """
    at = corners_of(points)
    if len(at) < 2:
        at = sorted({*at, *(int(share * len(points)) for share in (0.0, 0.25, 0.5, 0.75))})
        at = [a for n, a in enumerate(at) if n == 0 or a - at[n - 1] > 2 * ARM]
        ends = [_evened(np.roll(points, ARM - a, axis=0)[: 2 * ARM + 1])[ARM] for a in at]
        return FittedOutline(tuple(_runs(points, at, ends, tolerance, [0] * len(at))))
    turn = _turns(points, 6)
    hidden = [BLUNT if turn[corner] > TIP else HIDDEN for corner in at]
    ends = [_corner(points, corner, away) for corner, away in zip(at, hidden, strict=True)]
    return FittedOutline(tuple(_runs(points, at, ends, tolerance, hidden)))


def fit_line(points: Floats, tolerance: float, *, is_ring: bool = False) -> Floats:
    """Lines, arcs and curves through the points of a line that is drawn, corners kept; drawn as short lines."""
    if is_ring:
        closed = even(points, 1.0, is_ring=True)
        return fit_outline(closed, tolerance).points if len(closed) > 60 else points
    parts = [part for part in split(points) if len(part) > 1]
    runs = [_side(part[0], _evened(part)[1:-1], part[-1], tolerance) for part in parts]
    ends = [runs[0].points[0]]
    for n, (run, after) in enumerate(pairwise(runs)):
        straight = run.kind == "line" and after.kind == "line"
        ends.append(_met(parts[n], parts[n + 1], run.points[-1]) if straight else run.points[-1])
    ends.append(runs[-1].points[-1])
    trued = [_side(a, _evened(part)[1:-1], b, tolerance) for a, part, b in zip(ends, parts, ends[1:], strict=False)]
    return np.vstack([*(run.points[:-1] for run in trued), trued[-1].points[-1:]])


def corners_of(points: Floats) -> list[int]:
    """Numbers of the points at which a closed outline turns sharply."""
    turn, wide = _turns(points, 6), _turns(points, 18)
    turn[(turn < BENT) | ((turn < SHARP) & (wide > LONGER * turn))] = 0.0
    found: list[int] = []
    count = len(points)
    for at in np.argsort(-turn).tolist():
        if turn[at] == 0.0:
            break
        if all(min((at - other) % count, (other - at) % count) > HIDDEN + 4 for other in found):
            found.append(at)
    return sorted(found)


def _turns(points: Floats, reach: int) -> Floats:
    """By how much the outline turns at each point, degrees, by how it runs on both sides, so many points away."""
    ways = []
    for way in (-1, 1):
        near, far = (
            np.mean([np.roll(points, -way * (away + by), axis=0) for by in (-1, 0, 1)], axis=0)
            for away in (HIDDEN, HIDDEN + reach)
        )
        ways.append(way * (far - near))
    before, after = ways
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.abs(np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))))


def _corner(points: Floats, at: int, hidden: int) -> Floats:
    """Where the two sides of a corner meet, as they run before it: straight, or else in a bow."""
    near = np.arange(-1.3 * hidden, hidden + 2, 0.1)
    first, second = (_carried_on(points, at, way, hidden, near) for way in (-1, 1))
    gone = np.hypot(*(first[:, None] - second[None]).transpose(2, 0, 1))
    aside = np.abs(near)[:, None] + np.abs(near)[None]
    a, b = np.unravel_index(int((gone + DRAWN_IN * aside).argmin()), gone.shape)
    return np.asarray((first[a] + second[b]) / 2) if gone[a, b] < hidden / 3 else points[at]


def _carried_on(points: Floats, at: int, way: int, hidden: int, near: Floats) -> Floats:
    """One side of a corner as it runs on to it, by its points a little away; `near` counts points from the corner."""
    steps = np.arange(hidden, hidden + ARM - HIDDEN + 1)
    arm = np.take(points, at + way * steps, axis=0, mode="wrap")
    for power in (1, 2):
        basis = np.vander(steps, power + 1)
        found = np.linalg.lstsq(basis, arm, rcond=None)[0]
        if np.sqrt(np.mean((basis @ found - arm) ** 2)) < STRAIGHT:
            break
    return np.asarray(np.vander(near, power + 1) @ found)


def _met(one: Floats, other: Floats, otherwise: Floats) -> Floats:
    """Where the straight lines along two sides meet; if that is not near to where it was thought, there."""
    (a, u), (b, v) = ((side.mean(axis=0), _along(side)) for side in (one, other))
    area = u[0] * v[1] - u[1] * v[0]
    if abs(area) < np.sin(np.radians(BENT / 2)):
        return otherwise
    gone = (b - a)[0] * v[1] - (b - a)[1] * v[0]
    met = a + gone / area * u
    return met if float(np.hypot(*(met - otherwise))) < 1.0 else otherwise


def _along(points: Floats) -> Floats:
    """The direction of the straight line nearest to points."""
    return np.asarray(np.linalg.svd(points - points.mean(axis=0), full_matrices=False)[2][0])


def _runs(points: Floats, at: list[int], ends: list[Floats], tolerance: float, hidden: list[int]) -> list[FittedRun]:
    """The sides between corners; where straight ones meet, the corner follows from the whole of both."""
    inner = []
    for number, start in enumerate(at):
        after = (number + 1) % len(at)
        count = (at[after] - start) % len(points) or len(points)
        steps = np.arange(hidden[number], count - hidden[after] + 1)
        inner.append(_evened(np.take(points, start + steps, axis=0, mode="wrap")))
    runs = [_side(a, side, b, tolerance) for a, side, b in zip(ends, inner, [*ends[1:], ends[0]], strict=True)]
    straight = [run.kind == "line" and len(side) > ARM for run, side in zip(runs, inner, strict=True)]
    trued = [
        _met(inner[n - 1], inner[n], end) if straight[n - 1] and straight[n] else end for n, end in enumerate(ends)
    ]
    return [_side(a, side, b, tolerance) for a, side, b in zip(trued, inner, [*trued[1:], trued[0]], strict=True)]


def _side(a: Floats, inner: Floats, b: Floats, tolerance: float) -> FittedRun:
    """A side from corner to corner: a line, an arc, or else curves."""
    line = np.vstack([a, b])
    if len(inner) < 3 or (off := _off(inner, line)) <= tolerance:
        return FittedRun("line", line, 0.0 if len(inner) < 3 else off)
    arc = _arc(a, inner, b)
    if arc is not None and (off := _off(inner, arc)) <= tolerance:
        return FittedRun("arc", arc, off)
    curve = _curves(np.vstack([a, inner, b]), tolerance)
    return FittedRun("curve", curve, _off(inner, curve))


def _off(points: Floats, line: Floats) -> float:
    """How far points lie off a line of many at the most, mm."""
    import shapely

    return float(np.max(shapely.distance(shapely.points(points), shapely.LineString(line))))


def _arc(a: Floats, inner: Floats, b: Floats) -> Floats | None:
    """The arc from a to b that points lie nearest to; None where they double back."""
    chord = b - a
    long = float(np.hypot(*chord))
    if long < 1e-6:
        return None
    along = chord / long
    local = (inner - a) @ np.column_stack([along, (-along[1], along[0])])
    x, y = local[:, 0] - long / 2, local[:, 1]
    # On a circle through both ends x² + y² - (long/2)² = 2 m y for a centre (0, m).
    bend = float((x * x + y * y - long**2 / 4) @ y / (2 * (y @ y))) if float(y @ y) > 0 else np.inf
    radius = float(np.hypot(long / 2, bend))
    if not np.isfinite(radius) or radius > 1e6:
        return None
    above = float(np.mean(y)) > 0
    start = np.arctan2(-bend, -long / 2)
    end = np.arctan2(-bend, long / 2)
    if above:
        end, start = end, start
        sweep = -((start - end) % (2 * np.pi))
    else:
        sweep = (end - start) % (2 * np.pi)
    turns = start + sweep * np.linspace(0, 1, _steps(radius, abs(sweep)))
    found = np.column_stack([long / 2 + radius * np.cos(turns), bend + radius * np.sin(turns)])
    placed = a + found @ np.vstack([along, (-along[1], along[0])])
    placed[0], placed[-1] = a, b
    return np.asarray(placed)


def _steps(radius: float, sweep: float) -> int:
    """Points of an arc whose chords lie within FLAT of it."""
    step = 2 * np.arccos(max(0.0, 1 - FLAT / max(radius, FLAT)))
    return max(3, int(np.ceil(sweep / step)) + 1)


def _curves(points: Floats, tolerance: float) -> Floats:
    """Cubic Béziers one after the other, smooth where they meet, drawn as short lines (after Schneider 1990)."""
    ways = [(0, len(points) - 1, _way(points, 0, 1), _way(points, len(points) - 1, -1))]
    done: list[tuple[int, Floats]] = []
    while ways:
        first, last, out, back = ways.pop()
        drawn, off, worst = _bezier(points[first : last + 1], out, back)
        if off <= tolerance or last - first < 6 or len(done) + len(ways) > MOST_PARTS:
            done.append((first, drawn))
            continue
        cut = min(max(first + worst, first + 3), last - 3)
        along = points[min(cut + 3, last)] - points[max(cut - 3, first)]
        along = along / max(float(np.hypot(*along)), 1e-9)
        ways += [(first, cut, out, -along), (cut, last, along, back)]
    done.sort(key=lambda pair: pair[0])
    return np.vstack([*(drawn[:-1] for _, drawn in done), done[-1][1][-1:]])


def _way(points: Floats, at: int, way: int) -> Floats:
    """How a run leaves one of its ends."""
    far = points[at + way * min(8, len(points) - 1)] - points[at]
    return np.asarray(far / max(float(np.hypot(*far)), 1e-9))


def _bezier(points: Floats, out: Floats, back: Floats) -> tuple[Floats, float, int]:
    """The Bézier along points that leaves and arrives as told: drawn, how far off it is, and where the most."""
    way = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    share = way / way[-1]
    a, b = points[0], points[-1]
    third = way[-1] / 3
    handles = (third, third)
    for _ in range(4):
        s, t = share[:, None], 1 - share[:, None]
        known = a * (t**3 + 3 * t**2 * s) + b * (s**3 + 3 * t * s**2)
        columns = np.column_stack([(3 * t**2 * s * out).ravel(), (3 * t * s**2 * back).ravel()])
        found = np.linalg.lstsq(columns, (points - known).ravel(), rcond=None)[0]
        handles = tuple(h if 0.05 * third < h < 4 * third else third for h in found.tolist())
        control = np.array([a, a + handles[0] * out, b + handles[1] * back, b])
        seen = _at(control, share)
        slope = _slope(control, share)
        square = np.maximum((slope * slope).sum(axis=1), 1e-9)
        share = np.clip(share + ((points - seen) * slope).sum(axis=1) / square, 0, 1)
    apart = np.hypot(*(points - _at(control, share)).T)
    bulge = float(np.max(np.hypot(*np.diff(control, 2, axis=0).T)))
    count = max(2, int(np.ceil(np.sqrt(0.75 * bulge / FLAT))) + 1)
    return _at(control, np.linspace(0, 1, count)), float(apart.max()), int(apart.argmax())


def _at(control: Floats, share: Floats) -> Floats:
    s, t = share[:, None], 1 - share[:, None]
    a, b, c, d = control
    return np.asarray(t**3 * a + 3 * t**2 * s * b + 3 * t * s**2 * c + s**3 * d)


def _slope(control: Floats, share: Floats) -> Floats:
    s, t = share[:, None], 1 - share[:, None]
    a, b, c = np.diff(control, axis=0)
    return np.asarray(3 * (t**2 * a + 2 * t * s * b + s**2 * c))


def _evened(run: Floats, soft: float = 2.0) -> Floats:
    """An open run with the noise evened out: a straight line by weights round each point."""
    count = len(run)
    if count < 5:
        return run
    half = 6
    found = np.empty_like(run)
    for at in range(count):
        low, high = max(0, at - half), min(count, at + half + 1)
        x = np.arange(low, high) - at
        weight = np.exp(-0.5 * (x / soft) ** 2 / 2)
        basis = np.column_stack([np.ones(len(x)), x, x * x]) * weight[:, None]
        found[at] = np.linalg.lstsq(basis, run[low:high] * weight[:, None], rcond=None)[0][0]
    return found
