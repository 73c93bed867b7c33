"""The whole-number programs of rolls and plies, for CP-SAT.

Cutting stock after Gilmore and Gomory (1961): a pattern says how many plies of each length a roll gives, and so many
rolls are cut by it. Where there are too many patterns, plies are given out roll by roll.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from itertools import islice
from typing import TYPE_CHECKING

from nesting.ribpatterns import row_patterns
from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ortools.sat.python import cp_model

MOST_PATTERNS = 5_000
"""More than these, and plies are given out roll by roll."""


class RollTask:
    """Plies and rolls in whole steps."""

    def __init__(self, plies: list[int], rolls: list[int]) -> None:
        self.plies, self.rolls = plies, rolls
        self.counts = dict(sorted(Counter(plies).items(), reverse=True))
        self.stock = dict(sorted(Counter(rolls).items(), reverse=True))

    def holds_longest(self) -> bool:
        """Whether some roll is as long as the longest ply."""
        return max(self.plies) <= max(self.rolls)

    def fewest(self) -> int:
        """Rolls that hold enough cloth, whatever is cut from which."""
        need, longest = sum(self.plies), sorted(self.rolls, reverse=True)
        return next(number for number in range(1, len(longest) + 1) if sum(longest[:number]) >= need)

    def assign(self, effort: float) -> tuple[list[int] | None, int, bool]:
        """The roll of each ply; the fewest rolls that could do; and whether its longest remnant is proved."""
        fewest = self.fewest()
        for number in range(fewest, len(self.rolls) + 1):
            found, proved, longest = self._assign_to(number, effort)
            if found is not None:
                return found, fewest, longest
            if proved and number == fewest:
                fewest += 1
        return None, fewest, False

    def _assign_to(self, number: int, effort: float) -> tuple[list[int] | None, bool, bool]:
        """The roll of each ply with so many rolls opened; whether failing is proved, and whether the remnant is."""
        waste = sum(sorted(self.rolls, reverse=True)[:number]) - sum(self.plies)
        patterns = self._patterns(waste)
        model = _Patterns(self, patterns, number) if patterns is not None else _Shares(self, number)
        return model.solve(effort)

    def _patterns(self, waste: int) -> list[tuple[int, dict[int, int]]] | None:
        """Ways to cut a roll, as its length and plies by length, that waste no more than so much; None if too many."""
        found: list[tuple[int, dict[int, int]]] = []
        counts = {(1, length): number for length, number in self.counts.items()}
        for roll in self.stock:
            ways = list(islice(row_patterns(counts, roll, waste), MOST_PATTERNS + 1 - len(found)))
            found += [(roll, {length: number for (_, length), number in way.items()}) for way in ways]
            if len(found) > MOST_PATTERNS:
                return None
        return found

    def dealt(self, rolls: Sequence[tuple[int, dict[int, int]]]) -> list[int]:
        """The roll of each ply, from the length and the plies of each roll that is opened."""
        free: dict[int, list[int]] = defaultdict(list)
        for index in reversed(range(len(self.rolls))):
            free[self.rolls[index]].append(index)
        waiting: dict[int, list[int]] = defaultdict(list)
        for index in reversed(range(len(self.plies))):
            waiting[self.plies[index]].append(index)
        given = [0] * len(self.plies)
        for length, plies in rolls:
            roll = free[length].pop()
            for ply, number in plies.items():
                for _ in range(number):
                    given[waiting[ply].pop()] = roll
        return given

    def most_cut(self, effort: float) -> int:
        """Length of the plies that can be cut at the most."""
        return _Shares(self, len(self.rolls), some=True).most(effort)


class _Patterns:
    """Rolls by how they are cut."""

    def __init__(self, task: RollTask, patterns: list[tuple[int, dict[int, int]]], number: int) -> None:
        from ortools.sat.python import cp_model

        self.task, self.patterns, self.model = task, patterns, cp_model.CpModel()
        self.times = [self.model.new_int_var(0, task.stock[roll], "") for roll, _ in patterns]
        of_roll: dict[int, list[cp_model.IntVar]] = defaultdict(list)
        of_ply: dict[int, list[cp_model.LinearExprT]] = defaultdict(list)
        for (roll, plies), times in zip(patterns, self.times, strict=True):
            of_roll[roll].append(times)
            for ply, count in plies.items():
                of_ply[ply].append(count * times)
        for roll, times_of in of_roll.items():
            self.model.add(sum(times_of) <= task.stock[roll])
        for ply, count in task.counts.items():
            self.model.add(sum(of_ply[ply]) == count)
        self.model.add(sum(self.times) == number)
        self.last = [self.model.new_bool_var("") for _ in patterns]
        for last, times in zip(self.last, self.times, strict=True):
            self.model.add(last <= times)
        self.model.add_exactly_one(self.last)
        self.model.maximize(
            sum(_left(roll, plies) * last for (roll, plies), last in zip(patterns, self.last, strict=True))
        )

    def solve(self, effort: float) -> tuple[list[int] | None, bool, bool]:
        solver, found, optimal, failed = _solve(self.model, effort)
        if not found:
            return None, failed, False
        rolls = [
            each for each, times in zip(self.patterns, self.times, strict=True) for _ in range(solver.value(times))
        ]
        return self.task.dealt(rolls), False, optimal


class _Shares:
    """Plies of each length given to each roll; not all of them, where `some` will do."""

    def __init__(self, task: RollTask, number: int, *, some: bool = False) -> None:
        from ortools.sat.python import cp_model

        self.task, self.model = task, cp_model.CpModel()
        self.order = sorted(task.rolls, reverse=True)
        self.opened = [self.model.new_bool_var("") for _ in self.order]
        self.given = [
            {ply: self.model.new_int_var(0, min(count, roll // ply), "") for ply, count in task.counts.items()}
            for roll in self.order
        ]
        loads = [sum(ply * count for ply, count in given.items()) for given in self.given]
        for roll, opened, load in zip(self.order, self.opened, loads, strict=True):
            self.model.add(load <= roll * opened)
        for ply, count in task.counts.items():
            self.model.add_linear_constraint(sum(given[ply] for given in self.given), 0 if some else count, count)
        self.model.add(sum(self.opened) <= number)
        for at in range(1, len(self.order)):
            if self.order[at] == self.order[at - 1]:
                self.model.add(loads[at] <= loads[at - 1])
        self.total = sum(loads)
        if not some:
            self._leave_longest(loads)

    def _leave_longest(self, loads: Sequence[cp_model.LinearExprT]) -> None:
        longest, lasts = self.model.new_int_var(0, self.order[0], ""), []
        for roll, opened, load in zip(self.order, self.opened, loads, strict=True):
            last = self.model.new_bool_var("")
            self.model.add_implication(last, opened)
            self.model.add(longest <= roll - load).only_enforce_if(last)
            lasts.append(last)
        self.model.add_exactly_one(lasts)
        self.model.maximize(longest)

    def solve(self, effort: float) -> tuple[list[int] | None, bool, bool]:
        solver, found, optimal, failed = _solve(self.model, effort)
        if not found:
            return None, failed, False
        rolls = []
        for roll, given in zip(self.order, self.given, strict=True):
            plies = {ply: solver.value(count) for ply, count in given.items() if solver.value(count)}
            if plies:
                rolls.append((roll, plies))
        return self.task.dealt(rolls), False, optimal

    def most(self, effort: float) -> int:
        """The length of the plies that can be cut at the most."""
        self.model.maximize(self.total)
        solver, found, _, _ = _solve(self.model, effort)
        return round(solver.objective_value) if found else 0


def _left(roll: int, plies: dict[int, int]) -> int:
    return roll - sum(ply * count for ply, count in plies.items())


def _solve(model: cp_model.CpModel, effort: float) -> tuple[cp_model.CpSolver, bool, bool, bool]:
    """The solver; whether it found something, whether that is the best, and whether there is nothing to find."""
    from ortools.sat.python import cp_model

    solver = repeatable_solver(effort)
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return solver, found, status == cp_model.OPTIMAL, status == cp_model.INFEASIBLE
