"""Parts of a rib plan laid anew as rectangles: shallow ones above one another beside a deep one (CP-SAT, exact).

Rows that hold one part above another are what a plan in rows misses where depths differ.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, NamedTuple

from nesting.rib.plan import RibRow
from nesting.rib.verify import SLACK
from nesting.steps import floor_steps, repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ortools.sat.python import cp_model

    from nesting.rib.plan import RibCut, RibPlan
    from nesting.rib.task import RibTask

Way = Literal["along", "across"]

MOST_PARTS = 40
"""Parts of a plan up to which they are laid anew."""


class _Laid(NamedTuple):
    """A part in its place: which strip (0 on stock sold by length), how far along it and across it, mm."""

    strip: int
    along: float
    across: float
    cut: RibCut

    def span(self, way: Way) -> tuple[float, float]:
        """Where it begins, and how far it reaches from there, mm."""
        return (self.along, self.cut.depth) if way == "along" else (self.across, self.cut.length)

    def moved(self, way: Way, to: float) -> _Laid:
        """The same part, begun elsewhere, mm."""
        return self._replace(along=to) if way == "along" else self._replace(across=to)


def lay_stacked(plan: RibPlan, task: RibTask, bound: int, effort: float) -> tuple[RibPlan, bool]:
    """The parts of a plan with less stock, or the plan; and whether these parts cannot do with less than that.

    Parameters
    ----------
    bound
        Strips, or steps of length, that no layout undercuts.
    """
    from ortools.sat.python import cp_model

    used = plan.count or floor_steps(plan.length, task.depth_step)
    if len(plan.cuts) > MOST_PARTS or used <= bound:
        return plan, used <= bound
    model = _StackModel(plan.cuts, task, bound, used - 1)
    solver = repeatable_solver(effort)
    status = solver.solve(model.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return plan, status == cp_model.INFEASIBLE
    laid = _pushed(_pushed(model.laid(solver), "along", "across"), "across", "along")
    return _write(plan, laid), status == cp_model.OPTIMAL


class _StackModel:
    """Places of rectangles as variables; strips lie one after another along."""

    def __init__(self, cuts: Sequence[RibCut], task: RibTask, least: int, most: int) -> None:
        from ortools.sat.python import cp_model

        self.cuts, self.task, self.model = cuts, task, cp_model.CpModel()
        self.stock = self.model.new_int_var(least, most, "")
        self.across, self.along, self.strips = [], list[cp_model.IntVar](), list[cp_model.IntVar]()
        sides, depths = [], []
        for cut in cuts:
            length, depth = floor_steps(cut.length, task.step), floor_steps(cut.depth, task.depth_step)
            x = self.model.new_int_var(0, task.width - length, "")
            y = self._place_along(depth, most)
            self.across.append(x)
            self.along.append(y)
            sides.append(self.model.new_fixed_size_interval_var(x, length, ""))
            depths.append(self.model.new_fixed_size_interval_var(y, depth, ""))
        self.model.add_no_overlap_2d(sides, depths)
        self.model.add_cumulative(depths, [floor_steps(cut.length, task.step) for cut in cuts], task.width)
        self._order_alike()
        self.model.minimize(self.stock)

    def _place_along(self, depth: int, most: int) -> cp_model.IntVar:
        """How far along a part lies: inside the length, or inside one strip."""
        if self.task.strip_depth is None:
            y = self.model.new_int_var(0, most - depth, "")
            self.model.add(y + depth <= self.stock)
            return y
        whole = self.task.strip_depth
        y = self.model.new_int_var(0, most * whole - depth, "")
        strip, inside = self.model.new_int_var(0, most - 1, ""), self.model.new_int_var(0, whole - depth, "")
        self.model.add(y == whole * strip + inside)
        self.model.add(strip + 1 <= self.stock)
        self.strips.append(strip)
        return y

    def _order_alike(self) -> None:
        """Parts of one size are interchangeable: they lie in their order along."""
        last: dict[tuple[float, float], int] = {}
        for at, cut in enumerate(self.cuts):
            before = last.get((cut.length, cut.depth))
            if before is not None:
                self.model.add(self.along[before] <= self.along[at])
            last[cut.length, cut.depth] = at

    def laid(self, solver: cp_model.CpSolver) -> list[_Laid]:
        """Parts where the solver laid them."""
        laid = []
        for at, cut in enumerate(self.cuts):
            strip, along = 0, solver.value(self.along[at])
            if self.task.strip_depth is not None:
                strip, along = divmod(along, self.task.strip_depth)
            laid.append(_Laid(strip, along * self.task.depth_step, solver.value(self.across[at]) * self.task.step, cut))
        return laid


def _pushed(laid: Iterable[_Laid], way: Way, other: Way) -> list[_Laid]:
    """Parts pushed one way, to the edge of their strip or on to one another, so that no gaps are left between them."""
    pushed: list[_Laid] = []
    for one in sorted(laid, key=lambda one: one.span(way)[0]):
        before = (
            sum(there.span(way))
            for there in pushed
            if there.strip == one.strip and _meet(*one.span(other), *there.span(other))
        )
        pushed.append(one.moved(way, max(before, default=0.0)))
    return pushed


def _meet(first: float, wide: float, second: float, other: float) -> bool:
    """Whether two stretches overlap by more than the check forgives."""
    return min(first + wide, second + other) - max(first, second) > SLACK / 2


def _write(plan: RibPlan, laid: Iterable[_Laid]) -> RibPlan:
    """Rows are what straight cuts all across part from one another."""
    is_strips = plan.stock.depth is not None
    rows: list[RibRow] = []
    cuts: list[RibCut] = []
    names: dict[int, str] = {}
    held: list[_Laid] = []

    def close() -> None:
        start, end = held[0].along, max(one.along + one.cut.depth for one in held)
        source = names.setdefault(held[0].strip, f"strip {len(names) + 1}") if is_strips else f"row {len(rows) + 1}"
        used = max(one.across + one.cut.length for one in held)
        for one in sorted(held, key=lambda one: (one.across, one.along)):
            rise = one.along - start
            cuts.append(replace(one.cut, source=source, row=len(rows), offset=one.across, rise=rise))
        rows.append(RibRow(source, start, end - start, used))
        held.clear()

    for one in sorted(laid, key=lambda one: (one.strip, one.along)):
        if held and (one.strip > held[0].strip or one.along >= max(h.along + h.cut.depth for h in held) - SLACK / 2):
            close()
        held.append(one)
    close()
    length = 0.0 if is_strips else math.fsum(row.depth for row in rows)
    return replace(plan, cuts=tuple(cuts), rows=tuple(rows), length=length, count=len(names))
