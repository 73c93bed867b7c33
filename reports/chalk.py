"""A marker rounded to the tape: places that can be read off it, and still no two pieces overlap."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace
from math import ceil, floor, inf
from typing import TYPE_CHECKING

from nesting.marker import Marker
from nesting.opinion import check
from pieces.units import INCH, Units
from reports.draw.rows import beyond

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from typing import Literal

    import numpy as np
    from numpy.typing import NDArray
    from shapely import Polygon

    from nesting.band import Band
    from nesting.item import Variant

    Side = Literal["low", "high"]
    Box = tuple[float, float, float, float]

TAPE = {Units.INCHES: INCH / 8, Units.METRIC: 5.0}
"""The steps of the tape, mm."""

BACK, ON = 1, 16
"""How many steps a piece may be moved towards the start, and towards the end; more, if those before it were."""

WAYS = ((0, False), (1, False), (1, True), (2, False), (2, True), (3, False), (3, True))
"""How many steps a piece may be moved across, and whether towards its edge if it can; tried in turn."""

ASIDE = 4
"""A piece that makes others give way is moved on by fewer steps than this."""

LOOSE = 4
"""A piece is put off the tape's steps across only if that saves more than so many steps along."""

MANY = 30
"""With more pieces only the first two ways are tried: they take seconds enough."""

PATIENCE = 3
"""Times each piece may be laid, on average, before it is given up."""

WHOLE = 1e-5
"""A distance so near a whole step, in steps, is one."""


ROUNDING = 1e-6
"""Of numbers, mm."""


@dataclass(frozen=True, eq=False)
class Chalked:
    """A marker as it is chalked.

    Parameters
    ----------
    marker
        Checked like every other; its placements are in the order of the marker it comes from.
    sides
        The edge of its band that each placement is measured from.
    step
        The tape's, mm.
    """

    marker: Marker
    sides: tuple[Side, ...]
    step: float

    @property
    def off(self) -> tuple[int, ...]:
        """Placements, by their index, that lie off the tape's steps: their distances are written to the nearest."""
        places = zip(self.marker.outlines(), self.sides, strict=True)
        return tuple(
            i
            for i, ((place, _, variant, outline), side) in enumerate(places)
            if not self._is_whole(place.x)
            or not self._is_whole(from_edge(self.marker.problem.bands[variant.band], outline, side))
        )

    @property
    def tolerance(self) -> float:
        """How far a written distance may be from the true one, mm: 0 where all lie on whole steps."""
        return self.step / 2 if self.off else 0.0

    def _is_whole(self, mm: float) -> bool:
        return abs(mm / self.step - round(mm / self.step)) <= WHOLE


def chalk(marker: Marker, units: Units) -> Chalked:
    """Move the pieces of a marker to whole steps of the tape, so that none overlap.

    Piece by piece from the start, each goes to the first place near its own, a whole number of steps from the start
    and from its nearest edge, at which it lies clear of those before it, or makes smaller ones give way; the marker may
    grow a little. A piece with no such place nearby keeps its distance across. Pieces matched on a pattern cannot be
    moved, and a marker in which one finds no place at all (some of fifty pieces and more) is left as it is: then what
    is written is rounded, and `Chalked.off` tells which.

    Raises
    ------
    CheckError
        If the result could not be cut: never, unless there is a mistake in here.
    """
    step, bands = TAPE[units], marker.problem.bands
    sides = tuple(nearest_edge(bands[v.band], outline, v.on_fold) for _, _, v, outline in marker.outlines())
    if marker.problem.repeat is not None:
        return Chalked(marker, sides, step)
    ways = WAYS if len(marker.placements) <= MANY else WAYS[:2]
    tries = (_rounded(marker, sides, step, reach, outwards) for reach, outwards in ways)
    found = [Chalked(rounded, sides, step) for rounded in tries if rounded is not None]
    if not found:
        return Chalked(marker, sides, step)
    best = min(found, key=lambda chalked: chalked.marker.length + LOOSE * step * len(chalked.off))
    check(best.marker)
    return best


def from_edge(band: Band, points: NDArray[np.float64], side: Side) -> float:
    """Least distance of points in place, shape (n, 2), from an edge of their band, mm, a selvedge included."""
    if side == "low":
        return float(points[:, 1].min()) - band.low + beyond(band, "low")
    return band.high + beyond(band, "high") - float(points[:, 1].max())


def nearest_edge(band: Band, outline: NDArray[np.float64], on_fold: bool) -> Side:
    """The edge of a band that a piece in place is measured from.

    The nearest one; but a half lies on the fold, and the free edge of a layer is no edge to measure from.
    """
    kinds: dict[Side, str] = {"low": band.low_edge, "high": band.high_edge}
    sides = [side for side, kind in kinds.items() if (kind == "fold" if on_fold else kind != "free")] or list(kinds)
    return min(sides, key=lambda side: from_edge(band, outline, side))


def _rounded(marker: Marker, sides: tuple[Side, ...], step: float, reach: int, outwards: bool) -> Marker | None:
    """All pieces on whole steps, none moved more than `reach` of them across; None if one finds no place.

    A piece that finds none takes the place nearby in which the smallest lie, and these are laid anew after it.
    """
    problem, places = marker.problem, marker.placements
    variants = [problem.items[place.item].variants[place.variant] for place in places]
    clear = _Clear(problem.faults, problem.gap, problem.width)
    spots: dict[int, tuple[float, float]] = {}
    waiting = deque(sorted(range(len(places)), key=lambda i: (places[i].x, places[i].y)))
    moved, patience = 0.0, PATIENCE * len(places)
    while waiting:
        i, patience = waiting.popleft(), patience - 1
        place, variant = places[i], variants[i]
        away = from_edge(problem.bands[variant.band], variant.outline + (place.x, place.y), sides[i])
        steps = _steps(away, step, reach, outwards)
        heights = _heights(variant, place.y, [k * step - away for k in steps], sides[i])
        near = range(ceil(place.x / step - WHOLE) - BACK, ceil((place.x + moved) / step) + ON + 1)
        xs = [k * step for k in near if k >= 0]
        spot = clear.first(variant, xs, heights)
        as_is = clear.first(variant, xs, [place.y])
        if spot is None or (as_is is not None and as_is[0] < spot[0] - LOOSE * step):
            spot = as_is
        if spot is None:
            spot, others = clear.cheapest(variant, xs[: BACK + ASIDE], heights or [place.y])
            if patience < 0 or min(others) < 0:
                return None
            waiting.extendleft(sorted(others, key=lambda k: -places[k].x))
        spots[i] = spot
        clear.add(i, variant, spot)
        moved = max(moved, spot[0] - place.x)
    placements = tuple(replace(place, x=spots[i][0], y=spots[i][1]) for i, place in enumerate(places))
    ends = (place.x + variant.length for place, variant in zip(placements, variants, strict=True))
    return Marker(problem, placements, max(ends))


def _steps(away: float, step: float, reach: int, outwards: bool) -> list[int]:
    """Whole steps near a distance, those nearest to it first, or those nearest to the edge."""
    first = floor(away / step + WHOLE) - reach + 1
    steps = range(first, first + 2 * reach)
    return list(steps) if outwards else sorted(steps, key=lambda k: abs(k * step - away))


def _heights(variant: Variant, y: float, moves: list[float], side: Side) -> list[float]:
    """Heights at which a piece may lie, moved from its edge by so much; a pinned piece has only its own."""
    if variant.low == variant.high:
        return [y]
    heights = (y + move if side == "low" else y - move for move in moves)
    return [
        min(max(height, variant.low), variant.high)
        for height in heights
        if variant.low - ROUNDING <= height <= variant.high + ROUNDING
    ]


class _Clear:
    """What lies on the cloth already, and where there is room."""

    def __init__(self, faults: Iterable[NDArray[np.float64]], gap: float, width: float) -> None:
        import shapely

        self._gap = gap
        # Half of what the second opinion forgives.
        self._area, self._slack = 0.5e-9 * width**2, 0.5e-6 * width
        shapes = (shapely.Polygon(fault) for fault in faults)
        self._lying: dict[int, tuple[Polygon, Box]] = {-i: (shape, shape.bounds) for i, shape in enumerate(shapes, 1)}

    def add(self, number: int, variant: Variant, spot: tuple[float, float]) -> None:
        """Lay an outline down."""
        import shapely

        shape = shapely.Polygon(variant.outline + spot)
        self._lying[number] = shape, shape.bounds

    def cheapest(
        self, variant: Variant, xs: list[float], heights: list[float]
    ) -> tuple[tuple[float, float], list[int]]:
        """The place in which the smallest outlines lie, and their numbers: they are taken up; a fault never is."""
        met = {(x, y): list(self._met(variant, (x, y), self._lying)) for x in xs for y in heights}
        spot = min(met, key=lambda spot: sum(self._lying[n][0].area if n >= 0 else inf for n in met[spot]))
        for number in met[spot]:
            if number >= 0:
                del self._lying[number]
        return spot, met[spot]

    def first(self, variant: Variant, xs: list[float], heights: list[float]) -> tuple[float, float] | None:
        """The first place, the nearest to the start, at which an outline lies clear."""
        if not heights:
            return None
        near = self._near(variant, xs, heights, self._lying)
        spots = ((x, y) for x in xs for y in heights)
        return next((spot for spot in spots if next(self._met(variant, spot, near), None) is None), None)

    def _met(self, variant: Variant, spot: tuple[float, float], near: Iterable[int]) -> Iterator[int]:
        """Those of some outlines that one in some place would overlap, or come too near to."""
        import shapely

        near = self._near(variant, [spot[0]], [spot[1]], near)
        if not near:
            return
        shape = shapely.Polygon(variant.outline + spot)
        for number in near:
            other = self._lying[number][0]
            if shape.intersection(other).area > self._area or (
                self._gap and shape.distance(other) < self._gap - self._slack
            ):
                yield number

    def _near(self, variant: Variant, xs: list[float], heights: list[float], among: Iterable[int]) -> list[int]:
        """Those whose boxes come within the gap of an outline's box in any of some places."""
        gap = self._gap
        x0, x1 = xs[0] - gap, xs[-1] + variant.length + gap
        y0, y1 = min(heights) - gap, max(heights) + variant.height + gap
        found = []
        for number in among:
            left, low, right, high = self._lying[number][1]
            if left < x1 and right > x0 and low < y1 and high > y0:
                found.append(number)
        return found
