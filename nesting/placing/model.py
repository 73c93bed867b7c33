"""The question whether outlines can lie within a length, as CP-SAT is asked it.

The places of all outlines are whole numbers of units. For each two of them, in each two ways to lie, one of some
convex regions holds their offset. Every marker of the problem that is no longer is an answer, once its places are
rounded: so without an answer there is no such marker.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, NamedTuple

from nesting.placing.symmetry import Anchor, AnchoredPair

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from ortools.sat.python import cp_model

    from nesting.placing.regions import FreeRegion
    from nesting.placing.standing import Standing
    from nesting.problem.problem import Problem

ROUNDED = 6
"""How many units two middles, each counted twice, may be off by: of each the place is rounded, and the size."""

FINE = 1000
"""Parts of a unit in which the lines of a pattern are counted."""


class LyingWay(NamedTuple):
    """One way in which an outline may lie: whether it does, which way of the item that is, and what stands for it."""

    chosen: cp_model.IntVar
    number: int
    standing: Standing


@dataclass(frozen=True, eq=False)
class Lying:
    """An outline in the model: its item, its place in units, and the ways it may lie; an item of -1 is a zone."""

    item: int
    x: cp_model.IntVar
    y: cp_model.IntVar
    ways: tuple[LyingWay, ...]


class StandingSpot(NamedTuple):
    """Where an outline lies in an answer, mm: its item, its way, and the corner of what stands for it."""

    item: int
    way: int
    x: float
    y: float


class PlacingModel:
    """A model for one length.

    Parameters
    ----------
    problem
        That proofs are made of; its items are laid.
    standing
        What stands for each way of each item.
    length
        Within which the pared outlines must lie, mm: the tolerance is in it already.
    unit
        mm.
    """

    def __init__(self, problem: Problem, standing: Mapping[tuple[int, int], Standing], length: float, unit: float):
        from ortools.sat.python import cp_model

        self.model = cp_model.CpModel()
        self.lying: list[Lying] = []
        self.is_too_short = False
        self._problem, self._length, self._unit = problem, length, unit
        self._ways = {
            k: [(v, one) for (item, v), one in standing.items() if item == k] for k in range(len(problem.items))
        }
        self._repeat = (
            _Pattern(self.model, problem.repeat.along, length, unit)
            if problem.repeat and problem.repeat.along
            else None
        )
        self._add_items()

    def _add_items(self) -> None:
        instead = {choice.item: choice.instead for choice in self._problem.choices}
        for k, item in enumerate(self._problem.items):
            copies = []
            for _ in range(item.quantity):
                if k not in instead:
                    copies.append(self._add(k, None))
                    continue
                is_there = self.model.new_bool_var("")
                self._add(k, is_there)
                for other in instead[k]:
                    self._add(other, ~is_there)
            for before, after in pairwise(copies):
                self.model.add(before.x <= after.x)

    def _add(self, item: int, is_there: cp_model.LiteralT | None) -> Lying:
        """One outline of an item, laid if a literal holds, or in any case."""
        model, unit = self.model, self._unit
        fitting = [(v, one) for v, one in self._ways[item] if one.length <= self._length]
        if not fitting:
            self.is_too_short = self.is_too_short or is_there is None
            if is_there is not None:
                model.add_bool_and(~is_there)
            return Lying(item, model.new_constant(0), model.new_constant(0), ())
        last = [math.ceil((self._length - one.length) / unit) for _, one in fitting]
        spans = [(math.floor(one.low / unit), math.ceil(one.high / unit)) for _, one in fitting]
        x = model.new_int_var(0, max(last), "")
        y = model.new_int_var(min(low for low, _ in spans), max(high for _, high in spans), "")
        ways = tuple(LyingWay(model.new_bool_var(""), v, one) for v, one in fitting)
        chosen = [way.chosen for way in ways]
        model.add_exactly_one(chosen if is_there is None else [*chosen, ~is_there])
        for way, most, (low, high) in zip(ways, last, spans, strict=True):
            model.add(x <= most).only_enforce_if(way.chosen)
            model.add_linear_constraint(y, low, high).only_enforce_if(way.chosen)
            if self._repeat and way.standing.match:
                self._repeat.bind(x, way)
        self.lying.append(Lying(item, x, y, ways))
        return self.lying[-1]

    def add_zone(self, number: int, standing: Standing, x: float, y: float) -> None:
        """Add a zone, by its number and at a place in mm, on which nothing may lie."""
        constant = self.model.new_constant
        way = LyingWay(constant(1), number, standing)
        self.lying.append(Lying(-1, constant(round(x / self._unit)), constant(round(y / self._unit)), (way,)))

    def keep_apart(self, regions_of: Callable[[Lying, LyingWay, Lying, LyingWay], Sequence[FreeRegion] | None]) -> int:
        """Keep each two outlines in the regions that are given for them; how many regions there are."""
        count = 0
        for one, other in combinations(self.lying, 2):
            if one.item < 0 and other.item < 0:
                continue
            dx, dy = other.x - one.x, other.y - one.y
            for way in one.ways:
                for another in other.ways:
                    found = regions_of(one, way, other, another)
                    if found is None:
                        continue
                    held = [self._held_in(region, dx, dy) for region in found]
                    count += len(held)
                    self.model.add_bool_or([*held, ~way.chosen, ~another.chosen])
        return count

    def _held_in(self, region: FreeRegion, dx: cp_model.LinearExpr, dy: cp_model.LinearExpr) -> cp_model.IntVar:
        """A literal that holds only where an offset is in a region; of a half-plane it says whether it is.

        Said both ways, a half-plane is learned from where an offset is on its other side: on jobs of six outlines
        that halves the work and more (DEVELOPERS.md).
        """
        held = self.model.new_bool_var("")
        for a, b, c in region.rows:
            self.model.add(a * dx + b * dy >= c).only_enforce_if(held)
        if len(region.rows) == 1:
            ((a, b, c),) = region.rows
            self.model.add(a * dx + b * dy < c).only_enforce_if(~held)
        return held

    def hold(self, anchor: Anchor | AnchoredPair) -> None:
        """Let one or two outlines lie only in some ways and halves of the cloth, since all else is an image of that."""
        if isinstance(anchor, AnchoredPair):
            one, other = (self._middle(self._of(item)) for item in anchor.items)
            if anchor.along:
                self._in_half(None, one[0] + other[0], 2 * self._length, beyond=False)
            if anchor.across:
                self._in_half(None, one[1] + other[1], 2 * self._across, beyond=False)
            return
        lying, halves = self._of(anchor.item), []
        for way in lying.ways:
            for number, along, upper in anchor.allowed:
                if number == way.number:
                    halves.append(self.model.new_bool_var(""))
                    self.model.add_implication(halves[-1], way.chosen)
                    self._in_quarter(halves[-1], lying, bool(along), bool(upper))
        self.model.add_exactly_one(halves)

    def confine(self, item: int, along: bool, upper: bool) -> None:
        """Let the middle of an outline lie in one quarter of the cloth: the second half along or not, the upper or not.

        The item has one outline. What lies in none of the four quarters lies nowhere.
        """
        self._in_quarter(None, self._of(item), along, upper)

    def _of(self, item: int) -> Lying:
        return next(one for one in self.lying if one.item == item)

    @property
    def _across(self) -> float:
        """Twice the middle of the cloth, mm."""
        bands = self._problem.bands
        return min(band.low for band in bands) + max(band.high for band in bands)

    def _middle(self, lying: Lying) -> tuple[cp_model.LinearExpr, cp_model.LinearExpr]:
        """Twice where the middle of an outline lies, along and across, in units."""
        unit = self._unit
        along = sum((way.chosen * round(way.standing.length / unit) for way in lying.ways), 2 * lying.x)
        across = sum((way.chosen * round(way.standing.height / unit) for way in lying.ways), 2 * lying.y)
        return along, across

    def _in_quarter(self, if_so: cp_model.IntVar | None, lying: Lying, along: bool, upper: bool) -> None:
        middle = self._middle(lying)
        self._in_half(if_so, middle[0], self._length, beyond=along)
        self._in_half(if_so, middle[1], self._across, beyond=upper)

    def _in_half(
        self, if_so: cp_model.IntVar | None, place: cp_model.LinearExpr, middle: float, *, beyond: bool
    ) -> None:
        """Hold what is twice a place, or the sum of two such, beyond a middle or before it, if a literal holds."""
        at = middle / self._unit
        rule = self.model.add(place >= math.floor(at) - ROUNDED if beyond else place <= math.ceil(at) + ROUNDED)
        if if_so is not None:
            rule.only_enforce_if(if_so)

    def spots(self, value: Callable[[cp_model.IntVar], int]) -> list[StandingSpot]:
        """Where the outlines lie in an answer; zones are left out."""
        return [
            StandingSpot(one.item, way.number, value(one.x) * self._unit, value(one.y) * self._unit)
            for one in self.lying
            for way in one.ways
            if one.item >= 0 and value(way.chosen)
        ]


class _Pattern:
    """Where along the cloth's pattern pieces may lie: whole repeats from a line whose place is free."""

    def __init__(self, model: cp_model.CpModel, repeat: float, length: float, unit: float) -> None:
        self._model, self._repeat, self._length, self._unit = model, repeat, length, unit
        self._start = model.new_int_var(0, math.ceil(repeat / unit), "")

    def bind(self, x: cp_model.IntVar, way: LyingWay) -> None:
        """Keep an outline to the lines of the pattern, if it lies so.

        Its point may be anywhere, within the outline or far from it. The places of the outline and of the line are
        each half a unit off at the most, the repeat is off by half a part for each time, and the point may miss its
        line by the tolerance.
        """
        assert way.standing.match
        point = way.standing.match[0]
        first, last = math.floor(point / self._repeat) - 2, math.ceil((point + self._length) / self._repeat) + 2
        times = self._model.new_int_var(first, last, "")
        off = FINE + max(abs(first), abs(last)) + math.ceil(MISSED / self._unit * FINE) + 2
        repeat, at = round(self._repeat / self._unit * FINE), round(point / self._unit * FINE)
        expression = FINE * x + at - FINE * self._start - repeat * times
        self._model.add_linear_constraint(expression, -off, off).only_enforce_if(way.chosen)


MISSED = 0.03
"""By how much a point may miss its line, mm: more than the tolerance, and what pared outlines move by."""
