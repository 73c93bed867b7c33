"""Can the pieces lie within a length? Asked with coarse outlines first, with finer ones where an answer overlaps."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Literal, NamedTuple

from nesting.placing.inner import inner
from nesting.placing.model import Lying, LyingWay, PlacingModel, StandingSpot
from nesting.placing.regions import Box, FreeRegion, regions
from nesting.placing.standing import Standing, overlapping, standing_for, zone_standing
from nesting.placing.symmetry import anchor_of
from nesting.problem.tilt import over_all_tilts
from nesting.steps import repeatable_solver
from nesting.tolerance import ALLOWED

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy as np
    from numpy.typing import NDArray
    from ortools.sat.python import cp_model

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

    Answer = list[StandingSpot] | Literal["impossible", "open"]
    Case = tuple[int, bool, bool] | None
    Key = tuple[int, int]
    Points = NDArray[np.float64]

MOST_OUTLINES = 16
"""With more outlines the question is too hard."""

UNITS = 30_000
"""Units across the cloth."""

DEPTHS = ((240.0, 120.0), (80.0, 40.0), (25.0, 12.0), (8.0, 4.0), (2.0, 1.0))
"""How deep outlines, and then no-fit polygons, are cut where they are simplified, in units: coarse first."""

A_TABLE = 4e-4
"""Effort that the regions of two outlines count as."""

SPLIT = 2.0
"""With so much effort a question is asked in cases: together they take half as long, and two are asked at a time."""

CASES = 2
"""Cases that are asked at a time."""

QUARTERS = ((False, False), (False, True), (True, False), (True, True))
"""Where the middle of the largest outline lies: in the second half along, and in the upper one."""

HELD = "the places of all pieces, looked through"


class Placed(NamedTuple):
    """What came of a question.

    Parameters
    ----------
    kind
        ``"impossible"``: proved; ``"found"``: there is a marker no longer; ``"open"``: the effort was spent, or the
        outlines could not be told apart any finer.
    spent
        Effort.
    is_blurred
        Whether it is open because outlines could not be told apart any finer.
    """

    kind: Literal["impossible", "found", "open"]
    spent: float
    is_blurred: bool = False


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
    settle
        Makes a marker of places where outlines that stand for the pieces do not overlap; None if it can not.
    threads
        For cases that are asked at a time; answers do not hang on it.

    Attributes
    ----------
    best
        The shortest marker that came by the way.
    regions
        In the last model.
    """

    def __init__(
        self,
        problem: Problem,
        most: float,
        zones: Sequence[Points] = (),
        settle: Callable[[Sequence[StandingSpot]], Marker | None] = lambda laid: None,
        threads: int = 1,
    ) -> None:
        self.best: Marker | None = None
        self.regions = 0
        self._settle = settle
        self._problem, self._proving, self._most = problem, problem.to_prove, most + ALLOWED
        self.unit = problem.width / UNITS
        self._zones = [placed for zone in zones if (placed := zone_standing(zone))]
        self._standing = standing_for(self._proving)
        self._anchor = None if self._zones else anchor_of(over_all_tilts(self._proving))
        self._drawn: dict[tuple[int, Key], Points] = {}
        self._known: dict[tuple[Key, Key], tuple[FreeRegion, ...] | None] = {}
        self._level: dict[tuple[Key, Key], int] = {}
        self._made = 0
        self._solvers: list[cp_model.CpSolver] = []
        self._threads, self._is_stopped = threads, False

    def stop(self) -> None:
        """End what is asked in another thread: it stays open, and all that is asked from now on."""
        self._is_stopped = True
        for solver in self._solvers:
            solver.stop_search()

    @property
    def is_too_large(self) -> bool:
        """Whether there are too many outlines to be asked about."""
        return self._proving.num_placements > MOST_OUTLINES

    def ask(self, length: float, effort: float) -> Placed:
        """Whether some marker is no longer than a length, mm, with so much effort; one unit is about a second.

        An interrupt from the keyboard is left to the caller.
        """
        assert length + ALLOWED <= self._most
        left, cases = effort, self._cases(effort)
        while left > 0 and cases and not self.is_too_large:
            answers, spent = self._asked(length + ALLOWED, cases[:CASES], left)
            left -= spent
            hard = [case for case, answer in zip(cases, answers, strict=False) if answer != "impossible"]
            cases = [*hard, *cases[len(answers) :]]
            if self._is_stopped or "open" in answers:
                break
            spots = [answer for answer in answers if not isinstance(answer, str)]
            for places in spots:
                self._keep(self._settle(self._laid(places)))
            if self.best is not None and self.best.length <= length:
                return Placed("found", effort - left)
            if spots and not any([self._refine(places) for places in spots]):
                return Placed("open", effort - left, is_blurred=True)
        return Placed("open" if cases or self.is_too_large else "impossible", effort - left)

    def _cases(self, effort: float) -> list[Case]:
        """The cases of a question: one, or where the middle of the largest outline lies."""
        items = self._proving.items
        optional = {item for choice in self._proving.choices for item in (choice.item, *choice.instead)}
        single = [k for k, item in enumerate(items) if item.quantity == 1 and k not in optional]
        if effort < SPLIT or not single:
            return [None]
        largest = max(single, key=lambda k: items[k].area)
        return [(largest, along, upper) for along, upper in QUARTERS]

    def model(self, length: float) -> PlacingModel:
        """The question as CP-SAT is asked it: whether pared outlines can lie within a length, mm."""
        asked = PlacingModel(self._proving, self._standing, length, self.unit)
        for number, (standing, x, y) in enumerate(self._zones):
            asked.add_zone(number, standing, x, y)
        self.regions = asked.keep_apart(self._regions_of)
        return asked

    def _asked(self, length: float, cases: Sequence[Case], effort: float) -> tuple[list[Answer], float]:
        """What comes of some cases, with as much of the effort for each; and what is spent in all."""
        self._made, models = 0, []
        for case in cases:
            models.append(self.model(length))
            if models[-1].is_too_short:
                return ["impossible"] * len(cases), A_TABLE * self._made
            if self._anchor:
                models[-1].hold(self._anchor)
            if case:
                models[-1].confine(*case)
        spent = A_TABLE * self._made
        if self._is_stopped:
            return ["open"] * len(cases), effort  # so that nobody asks on
        each = max(0.0, effort - spent) / len(cases)
        self._solvers = [_solver(each) for _ in cases]
        with ThreadPoolExecutor(self._threads) as threads:
            answers = list(threads.map(_answered, self._solvers, models))
        return answers, spent + sum(solver.response_proto.deterministic_time for solver in self._solvers)

    def _regions_of(self, one: Lying, way: LyingWay, other: Lying, another: LyingWay) -> tuple[FreeRegion, ...] | None:
        first, second = (one.item, way.number), (other.item, another.number)
        key = first, second
        if key not in self._known:
            self._made += 1
            a, b, level = way.standing, another.standing, self._level.get(key, 0)
            right, high = self._most - b.length, b.high - a.low
            box = Box(a.length - self._most - 1, b.low - a.high - 1, right + 1, high + 1)
            if one.item < 0 or other.item < 0:  # a zone needs no gap, and may reach beyond the length
                fixed, moved, box = a.outline, b.outline, self._anywhere()
            else:
                fixed, moved = self._outline(level, first, a), self._outline(level, second, b)
            self._known[key] = regions(fixed, moved, box, self.unit, DEPTHS[level][1] * self.unit)
        return self._known[key]

    def _anywhere(self) -> Box:
        """Offsets from pieces to zones, wherever the zones are."""
        sizes = (abs(x) + abs(y) + one.length + one.height for one, x, y in self._zones)
        bands = self._proving.bands
        across = max(max(abs(band.low), abs(band.high)) for band in bands)
        far = 2 * (self._most + across + max(sizes))
        return Box(-far, -far, far, far)

    def _outline(self, level: int, key: Key, standing: Standing) -> Points:
        if (level, key) not in self._drawn:
            self._drawn[level, key] = inner(standing.grown, DEPTHS[level][0] * self.unit)
        return self._drawn[level, key]

    def _laid(self, spots: list[StandingSpot]) -> list[StandingSpot]:
        """Ways of items of the problem itself, with their places; none where it is laid by more rules."""
        own = self._problem
        if own.loosest or own.repeat or any(v.most_tilt for item in own.items for v in item.variants):
            return []
        return spots

    def _keep(self, marker: Marker | None) -> None:
        if marker is not None and (self.best is None or marker.length < self.best.length):
            self.best = marker

    def _refine(self, spots: list[StandingSpot]) -> bool:
        """Draw those outlines finer that overlap in an answer; whether any could be."""
        laid = [(self._standing[spot.item, spot.way], spot.x, spot.y) for spot in spots]
        finer = False
        for i, j in overlapping(laid, 2 * self.unit):
            key = (spots[i].item, spots[i].way), (spots[j].item, spots[j].way)
            level = self._level.get(key, 0) + 1
            if level < len(DEPTHS):
                self._level[key] = level
                self._known.pop(key, None)
                finer = True
        return finer


def cannot_lie_within(problem: Problem, length: float, zones: Sequence[Points], effort: float) -> bool:
    """Whether it is proved with some effort that no layout is as short, mm; of the zones as of `Placing`."""
    return Placing(problem, length, zones).ask(length, effort).kind == "impossible"


def _solver(effort: float) -> cp_model.CpSolver:
    solver = repeatable_solver(effort)
    solver.parameters.linearization_level = 0  # linear programs cost more here than they cut off
    solver.parameters.cp_model_probing_level = 0
    return solver


def _answered(solver: cp_model.CpSolver, asked: PlacingModel) -> Answer:
    """Places of outlines that stand for the pieces, if there are some."""
    status = solver.status_name(solver.solve(asked.model))
    if status == "INFEASIBLE":
        return "impossible"
    return asked.spots(solver.value) if status in ("OPTIMAL", "FEASIBLE") else "open"
