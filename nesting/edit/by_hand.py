"""A piece moved by hand: the place nearest to where it was let go at which it may lie, touching what is there."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.errors import CheckError, NestingError
from nesting.marker.marker import Marker
from nesting.marker.opinion import check
from nesting.search.fill import THIN, crossings
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.marker.marker import Placement
    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem
    from nesting.shape.shapes import Shape

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

SNAP = 12.0
"""A piece let go on free cloth goes on to what lies so near, mm."""

REACH = 60.0
"""A piece let go where it may not lie goes back at most so far, mm."""

PROBLEMS_KEPT = 4

Spot = tuple[float, float]
Place = tuple[float, float, float | None]
"""Lower left corner of a piece's box, mm, and its turn, degrees; None leaves the turn as it is."""


def snap(marker: Marker, number: int, x: float, y: float, turn: float | None = None) -> Placement | None:
    """The placement nearest to a place at which one of a marker's pieces may lie; None if there is none within reach.

    Parameters
    ----------
    number
        Of the piece among the marker's placements.
    x, y
        Where the lower left corner of its box was let go, mm.
    turn
        Degrees it is to be turned by; by default as it lies.

    Raises
    ------
    NestingError
        If the piece may not be turned so.
    """
    shapes, nofit = _made_ready(marker.problem)
    place = marker.placements[number]
    others = [p for i, p in enumerate(marker.placements) if i != number]
    laid = [(shapes.number_of(p.item, p.variant), p.x, p.y) for p in others]
    laid += [(fault, shapes.all[fault].first, shapes.all[fault].low) for fault in shapes.faults]
    most = max((p.x + _way(marker.problem, p).length for p in others), default=0.0)
    best, nearest = None, REACH
    if turn is None and math.dist((place.x, place.y), (x, y)) < REACH and _passes(marker):
        # A piece that others hold fast lies in a place of no size, which rounding may close: it fits all the same.
        best, nearest = place, math.dist((place.x, place.y), (x, y))
    for v in _ways(marker.problem, place, turn):
        shape = shapes.number_of(place.item, v)
        limits = _limits(marker, place.item, v, shapes.all[shape], most)
        spot = _Around(shapes, nofit, shape, laid, limits).nearest((x, y))
        if spot is not None and math.dist(spot, (x, y)) < nearest:
            best, nearest = replace(place, variant=v, x=spot[0], y=spot[1]), math.dist(spot, (x, y))
    return best


def with_places(marker: Marker, places: Sequence[Place]) -> Marker:
    """The marker with its pieces in other places, in the order of its placements; it has not been checked.

    Raises
    ------
    NestingError
        If there are more or fewer places than pieces, one is no number, or a piece may not be turned so.
    """
    if len(places) != len(marker.placements):
        raise NestingError(f"{len(marker.placements)} pieces lie on the cloth, but {len(places)} places were given")
    placements = [put(marker, number, *place) for number, place in enumerate(places)]
    return laid_again(marker, placements)


def put(marker: Marker, number: int, x: float, y: float, turn: float | None = None) -> Placement:
    """One of a marker's pieces in another place, in the way of lying that belongs there; it has not been checked."""
    place, problem = marker.placements[number], marker.problem
    if not (math.isfinite(x) and math.isfinite(y)):
        raise NestingError(f"'{problem.items[place.item].name}' has no finite place")

    def off(v: int) -> float:
        way = problem.items[place.item].variants[v]
        band = problem.bands[way.band]
        along = max(band.start - x, x + way.length - band.end, 0.0)
        return max(way.low - y, y - way.high, 0.0) + along

    return replace(place, variant=min(_ways(problem, place, turn), key=off), x=x, y=y)


def laid_again(marker: Marker, placements: Sequence[Placement]) -> Marker:
    """A marker of the same problem with these placements, as long as they reach."""
    ends = [p.x + _way(marker.problem, p).length for p in placements]
    return Marker(marker.problem, tuple(placements), max(ends))


def _passes(marker: Marker) -> bool:
    try:
        check(marker)
    except CheckError:
        return False
    return True


@lru_cache(maxsize=PROBLEMS_KEPT)
def _made_ready(problem: Problem) -> tuple[Shapes, NoFit]:
    shapes = Shapes(problem)
    return shapes, NoFit(shapes)


def _way(problem: Problem, place: Placement) -> Variant:
    return problem.items[place.item].variants[place.variant]


def _ways(problem: Problem, place: Placement, turn: float | None) -> list[int]:
    """Ways of lying with that turn, the piece's own first; not turned over, unless it may lie so in no other way."""
    item, own = problem.items[place.item], _way(problem, place)
    turn = own.turn if turn is None else turn
    found = [v for v, way in enumerate(item.variants) if abs(math.remainder(way.turn - turn, 360)) < 1e-6]
    if not found:
        turns = sorted({round(way.turn % 360, 6) for way in item.variants})
        allowed = ", ".join(f"{each:g}" for each in turns)
        raise NestingError(
            f"'{item.name}' cannot be turned by {turn:g} degrees on this cloth: allowed turns are {allowed}"
        )
    alike = [v for v in found if item.variants[v].mirrored == own.mirrored]
    return sorted(alike or found, key=lambda v: v != place.variant)


class _Limits(NamedTuple):
    """Least and greatest x and y, mm."""

    first: float
    last: float
    low: float
    high: float


def _limits(marker: Marker, item: int, variant: int, shape: Shape, most: float) -> _Limits:
    """Where a piece may lie as far as the cloth goes; behind all others is the farthest that makes sense."""
    way = marker.problem.items[item].variants[variant]
    band = marker.problem.bands[way.band]
    last = band.end - way.length if math.isfinite(band.end) else most + marker.problem.gap + way.length
    return _Limits(max(shape.first, band.start), last, shape.low, shape.high)


class _Around:
    """Where a shape may lie among others that lie fast.

    Parameters
    ----------
    laid
        Number, x and y of each shape that lies fast, mm.
    """

    def __init__(
        self, shapes: Shapes, nofit: NoFit, number: int, laid: Sequence[tuple[int, float, float]], limits: _Limits
    ) -> None:
        self._grid, self._shape, self._limits = shapes.grid, shapes.all[number], limits
        self._taken = [
            [path + self._grid.to_steps([x, y]) for path in nofit.paths(other, number)] for other, x, y in laid
        ]

    def nearest(self, asked: Spot) -> Spot | None:
        """The allowed place nearest to one that was asked for, within reach of it on the cloth; None if there is none.

        On free cloth it is that place itself, unless something to lie against is near.
        """
        if self._limits.last < self._limits.first:
            return None
        lines = any(self._shape.steps) or self._grid.to_steps(self._limits.high - self._limits.low) < THIN
        spots = self._on_lines(asked) if lines else self._in_region(asked)
        return min(spots, key=lambda spot: math.dist(spot, asked), default=None)

    def _in_region(self, asked: Spot) -> Iterator[Spot]:
        import pyclipper

        first, last, low, high = self._limits
        at = np.clip(asked, (first, low), (last, high))
        window = [*np.maximum(at - REACH, (first, low)), *np.minimum(at + REACH, (last, high))]
        left, bottom, right, top = self._grid.to_steps(window).tolist()
        if right - left < THIN:  # a piece as long as its stretch
            left, right = left - THIN, right + THIN
        if top - bottom < THIN:  # or hardly narrower than its band
            bottom, top = bottom - THIN, top + THIN
        clipper = pyclipper.Pyclipper()
        clipper.AddPath([[left, bottom], [right, bottom], [right, top], [left, top]], pyclipper.PT_SUBJECT, True)
        paths = [path.tolist() for paths in self._taken for path in paths if _meets(path, left, bottom, right, top)]
        if paths:
            clipper.AddPaths(paths, pyclipper.PT_CLIP, True)
        free = clipper.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
        target = self._grid.to_steps(at)
        rims = [_foot(np.array(path, dtype=np.int64), target) for path in free]
        spots: list[Spot] = [(float(x), float(y)) for x, y in (self._grid.to_mm(rim) for rim in rims)]
        is_free = sum(pyclipper.PointInPolygon(target.tolist(), path) != 0 for path in free) % 2 == 1
        if is_free:
            yield from [spot for spot in spots if math.dist(spot, at.tolist()) <= SNAP] or [
                (float(at[0]), float(at[1]))
            ]
        else:
            yield from spots

    def _on_lines(self, asked: Spot) -> Iterator[Spot]:
        """Places on the lines that a fold or the cloth's pattern leaves."""
        first, last, low, high = self._limits
        along, across = self._shape.steps
        rows = _near(low, high, across, asked[1]) if across else [(low + high) / 2]
        if not along:
            for y in rows:
                taken = self._crossed(y, flipped=False)
                yield from ((x, y) for x in _along(taken, first, last, asked[0]))
            return
        for x in _near(first, last, along, asked[0]):
            taken = self._crossed(x, flipped=True)
            if across or high - low < float(self._grid.to_mm(THIN)):
                yield from ((x, y) for y in rows if not any(start < y < end for start, end in taken))
            else:
                yield from ((x, y) for y in _along(taken, low, high, asked[1]))

    def _crossed(self, at: float, *, flipped: bool) -> list[Spot]:
        """Stretches of a line along the cloth, or across it, that are taken, mm."""
        line, mm = int(self._grid.to_steps(at)), self._grid.to_mm
        return [
            (float(mm(start)), float(mm(end)))
            for paths in self._taken
            for start, end in crossings([path[:, ::-1] if flipped else path for path in paths], 0, 0, line)
        ]


def _meets(path: Ints, left: int, low: int, right: int, high: int) -> bool:
    (x, y), (far_x, far_y) = path.min(axis=0), path.max(axis=0)
    return bool(x < right and far_x > left and y < high and far_y > low)


def _foot(path: Ints, target: Ints) -> Floats:
    """The point of a closed line that is nearest to another point."""
    start = path.astype(np.float64)
    side = np.roll(start, -1, axis=0) - start
    size = np.maximum((side**2).sum(axis=1), 1.0)
    share = np.clip(((target - start) * side).sum(axis=1) / size, 0, 1)
    feet = start + share[:, None] * side
    nearest: Floats = feet[np.hypot(*(feet - target).T).argmin()]
    return nearest


def _near(first: float, last: float, step: float, asked: float) -> list[float]:
    """Multiples of a step from the first to the last that lie within reach."""
    low = max(0, math.ceil((asked - REACH - first) / step))
    high = math.floor((min(last, asked + REACH) - first) / step + 1e-9)
    return [first + k * step for k in range(low, high + 1)]


def _along(taken: Sequence[Spot], first: float, last: float, asked: float) -> Iterator[float]:
    """Of a line of which stretches are taken: the place asked for, or the ends of what is free."""
    free, at = [], first
    for start, end in sorted(taken):
        if start > at:
            free.append((at, min(start, last)))
        at = max(at, end)
        if at > last:
            break
    if at <= last:
        free.append((at, last))
    inside = [(start, end) for start, end in free if start <= asked <= end]
    ends = [end for stretch in inside or free for end in stretch]
    near = [end for end in ends if abs(end - asked) <= SNAP]
    yield from (near or [asked]) if inside else ends
