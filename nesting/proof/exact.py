"""Proven shortest markers for a few rectangles: every place decided at once (CP-SAT).

Sizes are rounded down to whole steps, so that the solver's bound holds for the true sizes too. Its answer is then
written in true millimetres: who lies before whom, and who below whom, is kept, and everything is pushed to the start.

What the check's tolerance lets pass is allowed for in one of two ways. Where all sizes are whole steps, and the
tolerance, once for each outline in a row, is less than a step, it makes no other arrangement possible, and a row
shorter by that sum at most. Else sizes are pared before they are rounded.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement, Result
from nesting.marker.opinion import check
from nesting.problem.outline import polygon_area
from nesting.proof.bounds import ROUNDING, lower_bound
from nesting.steps import common_step, floor_steps, repeatable_solver
from nesting.tolerance import ALLOWED

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem

MOST_PLACEMENTS = 30
"""More outlines than these, and a search does better."""

FINEST = 1e-5
"""Finest step, as a share of the cloth's width: 1/100 mm on a metre."""

SEED = 1


@dataclass
class _Box:
    """One outline to place, in steps: its corner, and the size of each way in which it may lie."""

    item: int
    copy: int
    x: cp_model.IntVar
    y: cp_model.IntVar
    ways: dict[int, cp_model.IntVar] = field(default_factory=dict)


@dataclass(frozen=True)
class _Spot:
    """A box as solved, in steps: where it starts and ends."""

    item: int
    copy: int
    variant: int
    x: int
    y: int
    right: int
    top: int


def solve_exact(problem: Problem, *, effort: float = 20.0) -> Result | None:
    """The shortest marker of a small set of rectangles, proved where the effort allows.

    With a gap, outlines are kept that far apart along or across the cloth; corner to corner a little less would
    do, so that only the plain bound of `nesting.proof.bounds` is claimed.

    Parameters
    ----------
    problem
        Rectangles with edges along and across the cloth, 30 at most.
    effort
        Work to spend, in units of 1 to 4 seconds. Equal effort, equal marker.

    Returns
    -------
    Result or None
        ``stopped_by`` is ``"proved"`` where the bound meets the length, but for the check's tolerance;
        else ``"iterations"``. None where the problem is not of this kind, or the effort found nothing.
    """
    if problem.num_placements > MOST_PLACEMENTS or not _is_rectangular(problem):
        return None
    if problem.choices or problem.repeat or problem.faults:
        return None
    if any(variant.most_tilt for item in problem.items for variant in item.variants):
        return None  # between upright and tilted there is more than is decided here
    began = time.monotonic()
    packing = _Packing(problem)
    spots, steps = packing.solve(effort)
    if spots is None:
        return None
    marker = _write_marker(problem, spots)
    try:
        check(marker)
    except CheckError:  # sizes lost to rounding were all that made it fit
        return None
    bound, held = lower_bound(problem)
    least = lower_bound(problem, ROUNDING * problem.width)[0]
    if not problem.gap and not problem.loosest:
        least, proved = max(least, steps * packing.step), steps * packing.step - packing.allowed
        bound, held = (proved, "exact search") if proved > bound else (bound, held)
    # Where sizes are rounded to steps, the bound is lower by that, and no proof that nothing is shorter at all.
    is_proved = marker.length - least <= 1e-9 * marker.length
    return Result(
        marker,
        bound,
        held,
        packing.branches,
        time.monotonic() - began,
        SEED,
        "proved" if is_proved else "iterations",
    )


def _is_rectangular(problem: Problem) -> bool:
    return all(
        polygon_area(variant.outline) >= variant.length * variant.height * (1 - 1e-9)
        for item in problem.items
        for variant in item.variants
    )


class _Packing:
    """The packing model: no two boxes share cloth, all end before the marker does."""

    def __init__(self, problem: Problem) -> None:
        from ortools.sat.python import cp_model

        self.problem, self.model, self.branches = problem, cp_model.CpModel(), 0
        self._choose_step()
        longest = [max(self.size(v.length) for v in item.variants) for item in problem.items]
        self.most = sum(size * item.quantity for size, item in zip(longest, problem.items, strict=True))
        least = self.steps(lower_bound(problem, self.pared or ROUNDING * problem.width)[0] + problem.gap)
        self.length = self.model.new_int_var(min(least, self.most), self.most, "length")
        self.x_intervals: list[cp_model.IntervalVar] = []
        self.y_intervals: list[cp_model.IntervalVar] = []
        self.lengths: list[int] = []
        self.heights: list[int] = []
        self.boxes = [box for index in range(len(problem.items)) for box in self._add_copies(index)]
        self.model.add_no_overlap_2d(self.x_intervals, self.y_intervals)
        low = min(band.low for band in problem.bands)
        top = max(band.high for band in problem.bands)
        across = self.steps(top + problem.gap + self.pared) - self.steps(low)
        self.model.add_cumulative(self.x_intervals, self.heights, across)
        self.model.add_cumulative(self.y_intervals, self.lengths, self.length)
        self.model.minimize(self.length)

    def steps(self, size: float) -> int:
        return floor_steps(size, self.step)

    def size(self, size: float) -> int:
        """A length or height with the gap behind it, in steps."""
        return self.steps(size + self.problem.gap - self.pared)

    def solve(self, effort: float) -> tuple[list[_Spot] | None, float]:
        """The boxes in place, and a proven bound on the length, in steps."""
        from ortools.sat.python import cp_model

        solver = repeatable_solver(effort, seed=SEED)
        status = solver.solve(self.model)
        self.branches = solver.num_branches
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None, 0.0
        return [self._spot(box, solver) for box in self.boxes], solver.best_objective_bound

    def _choose_step(self) -> None:
        sizes = [self.problem.gap, *(edge for band in self.problem.bands for edge in (band.low, band.high))]
        for item in self.problem.items:
            for v in item.variants:
                sizes += [v.length, v.height, v.low, v.high]
        finest = FINEST * self.problem.width
        self.step = common_step(sizes, least=finest)
        self.is_rounded = any(abs(size / self.step - round(size / self.step)) > 1e-6 for size in sizes)
        in_a_row = (self.problem.num_placements + 2) * ALLOWED
        is_coarse = not self.is_rounded and in_a_row < self.step
        self.pared, self.allowed = (0.0, in_a_row) if is_coarse else (ALLOWED, ALLOWED)

    def _add_copies(self, index: int) -> list[_Box]:
        item = self.problem.items[index]
        boxes = [self._add_box(index, copy) for copy in range(item.quantity)]
        for box, after in pairwise(boxes):
            self.model.add(box.x <= after.x)
        return boxes

    def _add_box(self, index: int, copy: int) -> _Box:
        model, ways = self.model, self._different(self.problem.items[index].variants)
        low = min(self.steps(variant.low) for variant in ways.values())
        high = max(self.steps(variant.high + 2 * self.pared) for variant in ways.values())
        box = _Box(index, copy, model.new_int_var(0, self.most, ""), model.new_int_var(low, high, ""))
        for number, variant in ways.items():
            length, height = self.size(variant.length), self.size(variant.height)
            here = box.ways[number] = model.new_bool_var("")
            self.x_intervals.append(model.new_optional_fixed_size_interval_var(box.x, length, here, ""))
            self.y_intervals.append(model.new_optional_fixed_size_interval_var(box.y, height, here, ""))
            self.lengths.append(length)
            self.heights.append(height)
            model.add(box.x + length <= self.length).only_enforce_if(here)
            model.add(box.y >= self.steps(variant.low)).only_enforce_if(here)
            model.add(box.y <= self.steps(variant.high + 2 * self.pared)).only_enforce_if(here)
        model.add_exactly_one(box.ways.values())
        return box

    def _different(self, variants: tuple[Variant, ...]) -> dict[int, Variant]:
        """Variants that differ as rectangles: a half turn changes nothing."""
        ways: dict[tuple[float, ...], int] = {}
        for number, v in enumerate(variants):
            ways.setdefault((v.length, v.height, v.low, v.high), number)
        return {number: variants[number] for number in ways.values()}

    def _spot(self, box: _Box, solver: cp_model.CpSolver) -> _Spot:
        number = next(number for number, here in box.ways.items() if solver.value(here))
        variant = self.problem.items[box.item].variants[number]
        x, y = solver.value(box.x), solver.value(box.y)
        right, top = x + self.size(variant.length), y + self.size(variant.height)
        return _Spot(box.item, box.copy, number, x, y, right, top)


def _write_marker(problem: Problem, spots: list[_Spot]) -> Marker:
    """True places: each outline as far to the start, and as low, as those before and below it let it."""
    across: dict[_Spot, float] = {}
    for spot in sorted(spots, key=lambda spot: spot.y):
        variant = problem.items[spot.item].variants[spot.variant]
        below = [other for other in across if other.top <= spot.y and other.x < spot.right and spot.x < other.right]
        tops = [across[other] + _variant(problem, other).height + problem.gap for other in below]
        across[spot] = max([variant.low, *tops])
    along: dict[_Spot, float] = {}
    for spot in sorted(spots, key=lambda spot: spot.x):
        before = [other for other in along if other.right <= spot.x and other.y < spot.top and spot.y < other.top]
        along[spot] = max([0.0, *(along[other] + _variant(problem, other).length + problem.gap for other in before)])
    placements = tuple(Placement(spot.item, spot.copy, spot.variant, along[spot], across[spot]) for spot in spots)
    length = max(along[spot] + _variant(problem, spot).length for spot in spots)
    return Marker(problem, placements, length)


def _variant(problem: Problem, spot: _Spot) -> Variant:
    return problem.items[spot.item].variants[spot.variant]
