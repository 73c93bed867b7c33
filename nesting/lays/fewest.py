"""The fewest markers that give an order, whatever they cost: what bounds of plans rest on, and a plan to begin from.

Linear programs see a marker that is used for a few plies as a part of a marker, and so count too few of them. Here
mixes and plies of so many markers are decided on together, by CP-SAT; where none give the order, more are needed.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from nesting.steps import Stop, never, repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ortools.sat.python import cp_model

    from nesting.lays.model import CellRange, MixChoice, PlyProgram
    from nesting.lays.order import Mix

MOST_MARKERS, MOST_TRIES, MOST_LISTED = 16, 4, 1_000
"""Markers that are tried with at the most, numbers of them that may be left open, and mixes that are listed."""


def fewest_markers(program: PlyProgram, effort: float, stop: Stop = never) -> tuple[int, dict[Mix, list[int]] | None]:
    """How many different markers are needed at the least, and steps of plies, by mix and colour, of about so many.

    Parameters
    ----------
    effort
        How long to look with each number of markers.
    stop
        Asked before each number whether to end early.
    """
    least, left_open = 1, 0
    for number in range(1, MOST_MARKERS + 1):
        if stop():
            break
        model = MarkerModel(program, number)
        found, failed = model.solve(effort)
        if found:
            return least, found
        if failed and not left_open:
            least = number + 1
        left_open += not failed
        if left_open > MOST_TRIES:
            break
    return least, None


class MarkerModel:
    """So many markers: how many garments of each size they hold, and the steps of plies of each colour.

    Parameters
    ----------
    program
        What they are to give, of which mixes.
    number
        How many markers there are at the most, beside those that are given.
    given
        Mixes of which the plies alone are decided on; they come first.

    Attributes
    ----------
    heights, cut
        Steps of plies of each marker; and, by size, then colour, then marker, how many garments a step gives.
    spent
        Effort that it took to solve.
    """

    def __init__(self, program: PlyProgram, number: int, given: Sequence[MixChoice] = ()) -> None:
        from ortools.sat.python import cp_model

        self.program, self.model, self.given = program, cp_model.CpModel(), tuple(given)
        most = [max(choice.mix[size] for choice in program.choices) for size in range(len(program.cells[0]))]
        self.mixes = [[self.model.new_int_var(0, high, "") for high in most] for _ in range(number)]
        tallest = [max(choice.most[colour] for choice in program.choices) for colour in range(len(program.cells))]
        highest = [*(choice.most for choice in self.given), *([tallest] * number)]
        self.steps = [[self.model.new_int_var(0, high, "") for high in each] for each in highest]
        heights = [sum(steps) for steps in self.steps]
        for lower, higher in pairwise(reversed(heights[len(self.given) :])):
            self.model.add(lower <= higher)
        self.spent = 0.0
        self.heights, self.cut = heights, list[list[list[cp_model.LinearExprT]]]()
        self._allow_mixes()
        for size, high in enumerate(most):
            self._add_size(size, high)

    def _allow_mixes(self) -> None:
        choices = self.program.choices
        garments = max(sum(choice.mix) for choice in choices)
        sizes = len(choices[0].mix)
        for mix in self.mixes:
            self.model.add(sum(mix) <= garments)
            if len(choices) < min(MOST_LISTED, math.comb(sizes + garments, garments) - 1):
                self.model.add_allowed_assignments(mix, [(0,) * sizes, *(choice.mix for choice in choices)])

    def _add_size(self, size: int, high: int) -> None:
        """Garments of a size, as many times as the plies that lie under each marker."""
        program, model, first = self.program, self.model, len(self.given)
        cut: list[list[cp_model.LinearExprT]] = [
            [choice.mix[size] * steps[colour] for choice, steps in zip(self.given, self.steps, strict=False)]
            for colour in range(len(program.cells))
        ]
        for mix, steps in zip(self.mixes, self.steps[first:], strict=True):
            holds = [model.new_bool_var("") for _ in range(high + 1)]
            model.add_exactly_one(holds)
            model.add(mix[size] == sum(number * here for number, here in enumerate(holds)))
            for colour, given in enumerate(cut):
                times = model.new_int_var(0, program.cells[colour][size].most // program.step, "")
                given.append(times)
                for number, here in enumerate(holds):
                    model.add(times == number * steps[colour]).only_enforce_if(here)
        self.cut.append(cut)
        for given, cells in zip(cut, program.cells, strict=True):
            low = -(-cells[size].least // program.step)
            model.add_linear_constraint(sum(given), low, cells[size].most // program.step)

    def add_lays(self, height: cp_model.LinearExprT) -> tuple[cp_model.IntVar, cp_model.IntVar]:
        """Whether a marker of so many steps of plies is made at all, and in how many lays at the least."""
        program, most = self.program, sum(max(c.most[n] for c in self.program.choices) for n in range(len(self.cut[0])))
        made, lays = self.model.new_bool_var(""), self.model.new_int_var(0, -(-most // program.height), "")
        self.model.add(height <= most * made)
        self.model.add(height <= program.height * lays)
        self.model.add(height >= program.low * lays)
        return made, lays

    def add_beyond(self, given: Sequence[cp_model.LinearExprT], cell: CellRange) -> list[tuple[float, cp_model.IntVar]]:
        """Garments of a colour and size over the number asked for, and under it, with what one costs, where it does."""
        cut, found = sum(given) * self.program.step, []
        for cost, most, sign in ((cell.over, cell.most - cell.asked, 1), (cell.under, cell.asked - cell.least, -1)):
            if cost and most > 0:
                found.append((cost, self.model.new_int_var(0, most, "")))
                self.model.add(found[-1][1] >= sign * (cut - cell.asked))
        return found

    def solve(self, effort: float) -> tuple[dict[Mix, list[int]] | None, bool]:
        """Steps of plies by mix and colour; and whether there are none for sure."""
        from ortools.sat.python import cp_model

        solver = repeatable_solver(effort)
        status = solver.solve(self.model)
        self.spent = float(solver.response_proto.deterministic_time)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None, status == cp_model.INFEASIBLE
        return self._steps(solver), False

    def _steps(self, solver: cp_model.CpSolver) -> dict[Mix, list[int]]:
        found: dict[Mix, list[int]] = {}
        mixes = [choice.mix for choice in self.given] + [tuple(map(solver.value, mix)) for mix in self.mixes]
        for mix, steps in zip(mixes, self.steps, strict=True):
            laid = [solver.value(number) for number in steps]
            if any(mix) and any(laid):
                before = found.get(mix, [0] * len(laid))
                found[mix] = [here + more for here, more in zip(before, laid, strict=True)]
        return found
