"""Can the pieces lie within a length? Asked with coarse outlines first, with finer ones where an answer overlaps."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from nesting.placing.inner import inner
from nesting.placing.model import Lying, PlacingModel, Spot, Way
from nesting.placing.regions import Box, Region, regions
from nesting.placing.settled import settled
from nesting.placing.standing import Standing, overlapping, standing_for, zone_standing
from nesting.placing.symmetry import anchor_of
from nesting.steps import repeatable_solver
from nesting.tolerance import ALLOWED

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

    Key = tuple[int, int]
    Placed = tuple[Standing, float, float]

MOST_OUTLINES = 16
"""With more outlines the question is too hard."""

UNITS = 10_000
"""Units across the cloth."""

DEPTHS = ((80.0, 40.0), (30.0, 15.0), (10.0, 5.0), (3.0, 1.5))
"""How deep outlines, and then no-fit polygons, are cut where they are simplified, in units: coarse first."""

A_TABLE = 4e-4
"""Effort that the regions of two outlines count as."""

HELD = "the places of all pieces, looked through"


class Answer(NamedTuple):
    """What came of a question.

    Parameters
    ----------
    kind
        ``"impossible"``: proved; ``"found"``: there is a marker no longer; ``"open"``: the effort was spent, or the
        outlines could not be told apart any finer.
    spent
        Effort.
    """

    kind: Literal["impossible", "found", "open"]
    spent: float


class Placing:
    """A problem of which is asked whether its pieces can lie within a length.

    Parameters
    ----------
    problem
        What is to be laid. Proofs are made of `Problem.to_prove`.
    most
        No longer length is asked about, mm.
    zones
        Outlines, shape (n, 2), mm, on which nothing may lie.
    initial
        A marker of the problem; of markers that come by the way those are kept that are shorter.

    Attributes
    ----------
    best
        The shortest marker known.
    regions
        In the last model.
    """

    def __init__(
        self,
        problem: Problem,
        most: float,
        zones: Sequence[NDArray[float]] = (),
        initial: Marker | None = None,
    ) -> None:
        self.best, self.regions = initial, 0
        self._problem, self._proving, self._most = problem, problem.to_prove, most + ALLOWED
        self._unit = problem.width / UNITS
        self._zones = [placed for zone in zones if (placed := zone_standing(zone))]
        self._standing = standing_for(self._proving)
        self._anchor = None if self._zones else anchor_of(self._proving)
        self._drawn: dict[tuple[int, Key], NDArray[float]] = {}
        self._known: dict[tuple[Key, Key], tuple[Region, ...] | None] = {}
        self._level: dict[tuple[Key, Key], int] = {}
        self._made = 0

    @property
    def is_too_large(self) -> bool:
        """Whether there are too many outlines to be asked about."""
        return self._proving.num_placements > MOST_OUTLINES

    def ask(self, length: float, effort: float) -> Answer:
        """Whether some marker is no longer than a length, mm, with so much effort; one unit is about a second.

        An interrupt from the keyboard is left to the caller.
        """
        assert length + ALLOWED <= self._most
        left = effort
        while left > 0 and not self.is_too_large:
            spots, spent = self._asked(length + ALLOWED, left)
            left -= spent
            if spots == "impossible":
                return Answer("impossible", effort - left)
            if spots == "open":
                break
            self._keep(settled(self._problem, spots, self._standing, self.best))
            if self.best is not None and self.best.length <= length:
                return Answer("found", effort - left)
            if not self._refine(spots):
                break
        return Answer("open", effort - left)

    def _asked(self, length: float, effort: float) -> tuple[list[Spot] | Literal["impossible", "open"], float]:
        """Places of outlines that stand for the pieces, if there are some; and the effort spent."""
        self._made = 0
        asked = PlacingModel(self._proving, self._standing, length, self._unit)
        if asked.is_too_short:
            return "impossible", 0.0
        for standing, x, y in self._zones:
            asked.add_zone(standing, x, y)
        self.regions = asked.keep_apart(self._regions_of)
        if self._anchor:
            asked.hold(self._anchor)
        spent = A_TABLE * self._made
        solver = repeatable_solver(max(0.0, effort - spent))
        solver.parameters.linearization_level = 0
        solver.parameters.cp_model_probing_level = 0
        status = solver.status_name(solver.solve(asked.model))
        spent += solver.response_proto.deterministic_time
        if status == "INFEASIBLE":
            return "impossible", spent
        return (asked.spots(solver.value) if status in ("OPTIMAL", "FEASIBLE") else "open"), spent

    def _regions_of(self, one: Lying, way: Way, other: Lying, another: Way) -> tuple[Region, ...] | None:
        first, second = (one.item, way.number), (other.item, another.number)
        key = first, second
        if key not in self._known:
            self._made += 1
            a, b, level = way.standing, another.standing, self._level.get(key, 0)
            right, high = self._most - b.length, b.high - a.low
            box = Box(a.length - self._most - 1, b.low - a.high - 1, right + 1, high + 1)
            outlines = [self._outline(level, part, one) for part, one in ((first, a), (second, b))]
            if one.item < 0 or other.item < 0:
                outlines = [a.outline, b.outline]
            self._known[key] = regions(*outlines, box, self._unit, DEPTHS[level][1] * self._unit)
        return self._known[key]

    def _outline(self, level: int, key: Key, standing: Standing) -> NDArray[float]:
        if (level, key) not in self._drawn:
            self._drawn[level, key] = inner(standing.grown, DEPTHS[level][0] * self._unit)
        return self._drawn[level, key]

    def _keep(self, marker: Marker | None) -> None:
        if marker is not None and (self.best is None or marker.length < self.best.length):
            self.best = marker

    def _refine(self, spots: list[Spot]) -> bool:
        """Draw those outlines finer that overlap in an answer; whether any could be."""
        laid = [(self._standing[spot.item, spot.way], spot.x, spot.y) for spot in spots]
        finer = False
        for i, j in overlapping(laid, 2 * self._unit):
            key = (spots[i].item, spots[i].way), (spots[j].item, spots[j].way)
            level = self._level.get(key, 0) + 1
            if level < len(DEPTHS):
                self._level[key] = level
                self._known.pop(key, None)
                finer = True
        return finer
