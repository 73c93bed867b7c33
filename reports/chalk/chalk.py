"""A marker rounded to the tape: places that can be read off it, and still no two pieces overlap."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING

from nesting.edit.give_way import Parting
from nesting.errors import CheckError
from nesting.marker.marker import Marker
from nesting.marker.opinion import check
from nesting.marker.stretches import join_stretches, split_stretches
from reports.chalk.occupied import Occupied
from reports.chalk.tape import TAPE
from reports.rows import beyond

if TYPE_CHECKING:
    from typing import Literal

    import numpy as np
    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from pieces.units import Units
    from reports.chalk.occupied import Spot

    Side = Literal["low", "high"]

BACK, ON = 2, 6
"""How many steps a piece may be laid before where it lies, and how many after."""

REACH = 2
"""How many steps it may be moved across, either way."""

ACROSS = 0.25
"""What a move across counts against one along."""

AT_ONCE = 40
"""One piece in so many is laid at a time, and at least one."""

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


def chalk(marker: Marker, units: Units, tape: float | None = None) -> Chalked:
    """Move the pieces of a marker to whole steps of the tape, so that none overlap.

    Piece by piece from the start, each goes to a place near its own, a whole number of steps from the start and from
    its nearest edge, at which it lies clear of those before it; all that come after give way. The marker may grow a
    little. A piece to which the others cannot give way keeps its distance across, or both: what is written of it is
    rounded, and `Chalked.off` tells which. So are pieces matched on a pattern, which cannot be moved, and all of a
    marker that could not be cut any more once they are moved.

    Parameters
    ----------
    tape
        The step of the tape, mm; by default an eighth of an inch, or 5 mm.
    """
    step = TAPE[units] if tape is None else tape
    rounded = marker if marker.problem.repeat is not None else _round(marker, step)
    try:
        check(rounded)
    except CheckError:
        rounded = marker
    return Chalked(rounded, _sides(rounded), step)


def _round(marker: Marker, step: float) -> Marker:
    """The marker on whole steps; of several stretches each begins on one."""
    problem = marker.problem
    if not problem.stretches:
        return _Rounding(marker, _sides(marker), step).run()
    rounded = []
    for part in split_stretches(marker):
        own = _round(part, step)
        end = ceil((own.length + problem.gap) / step - WHOLE) * step - problem.gap
        rounded.append(Marker(own.problem, own.placements, end))
    rounded[-1] = own
    return join_stretches(problem, rounded)


def _sides(marker: Marker) -> tuple[Side, ...]:
    bands = marker.problem.bands
    return tuple(nearest_edge(bands[v.band], outline, v.on_fold) for _, _, v, outline in marker.outlines())


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


class _Rounding:
    """Pieces laid fast one after another on whole steps."""

    def __init__(self, marker: Marker, sides: tuple[Side, ...], step: float) -> None:
        self._problem, self._sides, self._step = marker.problem, sides, step
        self._variants = [variant for _, _, variant, _ in marker.outlines()]
        self._parting, self._lying = Parting(marker), Occupied(marker.problem)

    def run(self) -> Marker:
        """The marker with all pieces laid fast."""
        most = size = 1 + len(self._variants) // AT_ONCE
        while loose := self._parting.loose:
            if self._lay(loose[:size]):
                size = min(most, 2 * size)
            elif size > 1:
                size //= 2
            else:
                self._lay_elsewhere(loose[0])
        return self._parting.to_marker()

    def _lay(self, numbers: list[int]) -> bool:
        """Lay some pieces in the best place for each, up to the first that has none; whether one or more lie so."""
        spots: dict[int, Spot] = {}
        for i in numbers:
            spot = next(iter(self._choices(i)), None)
            if spot is None:
                break
            spots[i] = spot
            self._lying.add(i, self._variants[i], spot)
        if spots and self._parting.fix(spots):
            return True
        self._lying.take_up(spots)
        return False

    def _lay_elsewhere(self, i: int) -> None:
        """Lay a piece in the next best place to which the others can give way, or else as it lies."""
        fits = (spot for spot in self._choices(i)[1:] if self._parting.fix({i: spot}))
        spot = next(fits, None)
        if spot is None:
            spot = self._parting.spot(i)
            self._parting.keep(i)
        self._lying.add(i, self._variants[i], spot)

    def _choices(self, i: int) -> list[Spot]:
        """Clear places on whole steps near a piece, the nearest first, and after them one with its height as it is."""
        (x, y), step, variant = self._parting.spot(i), self._step, self._variants[i]
        first = floor(x / step + WHOLE)
        xs = [k * step for k in range(max(0, first - BACK), first + ON)]
        found = (self._lying.first_clear(variant, xs, [height]) for height in self._heights(i, y))
        spots = sorted(filter(None, found), key=lambda spot: spot[0] + ACROSS * abs(spot[1] - y))
        as_is = self._lying.first_clear(variant, xs, [y])
        return [*spots, *([as_is] if as_is else [])]

    def _heights(self, i: int, y: float) -> list[float]:
        """Heights near its own at which a piece lies whole steps from its edge; a pinned piece has only its own."""
        step, side, variant = self._step, self._sides[i], self._variants[i]
        if variant.low == variant.high:
            return [y]
        away = from_edge(self._problem.bands[variant.band], variant.outline + (0.0, y), side)
        first = floor(away / step + WHOLE) - REACH + 1
        moves = (k * step - away for k in range(first, first + 2 * REACH))
        heights = (y + move if side == "low" else y - move for move in moves)
        return [
            min(max(height, variant.low), variant.high)
            for height in heights
            if variant.low - ROUNDING <= height <= variant.high + ROUNDING
        ]
