"""The whole-number programs of rolls and plies, for CP-SAT.

Cutting stock after Gilmore and Gomory (1961): a pattern says how many plies of each length a roll gives, and so many
rolls are cut by it. Where there are too many patterns, plies are given out roll by roll.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from nesting.lays.roll_fill import Filling
from nesting.lays.roll_fit import Dealt, count_opened, missing
from nesting.rib.patterns import row_patterns
from nesting.steps import Stop, never, repeatable_solver, solve_until

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ortools.sat.python import cp_model

MOST_PATTERNS = 5_000
"""More than these, and plies are given out roll by roll."""
MOST_SHARES = 1_000
"""Of more numbers of plies by length and roll, each is looked at less."""
REMNANT_SHARE = 0.1
"""Share of the effort that goes into a longer remnant, where rolls are filled already."""


class Assigned(NamedTuple):
    """Plies dealt out.

    Parameters
    ----------
    dealt
        The roll of each ply; None for one that found none.
    fewest
        Rolls that are opened at the least.
    longest
        Whether, with so many rolls, no other way leaves a longer remnant in one piece.
    impossible
        Whether it is proved that the rolls cannot hold all plies whole.
    """

    dealt: Dealt
    fewest: int
    longest: bool
    impossible: bool


class RollTask:
    """Plies and rolls in whole steps; once it is told to stop, what is dealt out by then is the answer."""

    def __init__(self, plies: list[int], rolls: list[int], stop: Stop = never) -> None:
        self.plies, self.rolls, self.stop = plies, rolls, stop
        self.counts = dict(sorted(Counter(plies).items(), reverse=True))
        self.stock = dict(sorted(Counter(rolls).items(), reverse=True))

    def fewest(self) -> int:
        """Rolls that hold enough cloth, whatever is cut from which; one more than there are, if they do not."""
        need, longest = sum(self.plies), sorted(self.rolls, reverse=True)
        enough = (number for number in range(1, len(longest) + 1) if sum(longest[:number]) >= need)
        return next(enough, len(longest) + 1)

    def assign(self, effort: float, dealt: Dealt) -> Assigned:
        """Deal the plies out on as few rolls as the programs find, and no worse than they are dealt out already."""
        fewest = self.fewest()
        if missing(self.plies, dealt):
            found, is_impossible = None, fewest > len(self.rolls)
            if not is_impossible and not self.stop():
                found, is_impossible, _ = self._assign_to(len(self.rolls), effort)
            if found is None:
                return Assigned(self._most(dealt, effort), min(fewest, len(self.rolls)), False, is_impossible)
            dealt = found
        for number in range(fewest, count_opened(dealt) + 1):
            if self.stop():
                break
            found, proved, longest = self._assign_to(number, effort)
            if found is not None:
                return Assigned(list(found), fewest, longest, False)
            if proved and number == fewest:
                fewest += 1
        return Assigned(dealt, fewest, False, False)

    def _assign_to(self, number: int, effort: float) -> tuple[Dealt | None, bool, bool]:
        """The roll of each ply with so many rolls opened; whether failing is proved, and whether the remnant is."""
        waste = sum(sorted(self.rolls, reverse=True)[:number]) - sum(self.plies)
        patterns = self._patterns(waste)
        if patterns is not None:
            found, proved, longest = _Patterns(self, patterns, number).solve(effort)
            if found is not None or proved:
                return found, proved, longest
        filled = self._filled(number, effort)
        if missing(self.plies, filled) == 0:
            found, _, longest = _Shares(self, number, filled).solve(self._affordable(effort * REMNANT_SHARE))
            return found or filled, False, longest
        if patterns is not None:
            return None, False, False
        return _Shares(self, number, filled).solve(self._affordable(effort))

    def _affordable(self, effort: float) -> float:
        """Effort for a program that gives plies out roll by roll: the less, the larger it is."""
        return effort * min(1.0, MOST_SHARES / (len(self.counts) * len(self.rolls))) ** 2

    def _filled(self, number: int | None, effort: float) -> Dealt:
        """Plies dealt out on so many of the longest rolls, or on all, each cut as far as can be."""
        filling = Filling(self.plies, sorted(self.rolls, reverse=True)[:number])
        filling.exchange(effort, self.stop)
        return self.dealt([(roll, dict(given)) for roll, given in zip(filling.rolls, filling.given, strict=True)])

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

    def dealt(self, rolls: Sequence[tuple[int, dict[int, int]]]) -> Dealt:
        """The roll of each ply, from the length and the plies of each roll that is opened; None for those left over."""
        free: dict[int, list[int]] = defaultdict(list)
        for index in reversed(range(len(self.rolls))):
            free[self.rolls[index]].append(index)
        waiting: dict[int, list[int]] = defaultdict(list)
        for index in reversed(range(len(self.plies))):
            waiting[self.plies[index]].append(index)
        given = Dealt([None] * len(self.plies))
        for length, plies in rolls:
            roll = free[length].pop()
            for ply, number in plies.items():
                for _ in range(number):
                    given[waiting[ply].pop()] = roll
        return given

    def _most(self, dealt: Dealt, effort: float) -> Dealt:
        """As much of the plies as is found to be cut, no less than is dealt out already."""
        if not self.rolls or self.stop():
            return dealt
        rolls, proved = _Shares(self, len(self.rolls), dealt, some=True).most(self._affordable(effort))
        ways = [dealt, *([self.dealt(rolls)] if rolls else []), *([] if proved else [self._filled(None, effort)])]
        return min(ways, key=lambda each: missing(self.plies, each))


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
        self.model.add(sum(self.times) <= number)
        self.last = [self.model.new_bool_var("") for _ in patterns]
        for last, times in zip(self.last, self.times, strict=True):
            self.model.add(last <= times)
        self.model.add_exactly_one(self.last)
        self.model.maximize(
            sum(_left(roll, plies) * last for (roll, plies), last in zip(patterns, self.last, strict=True))
        )

    def solve(self, effort: float) -> tuple[Dealt | None, bool, bool]:
        solver, found, optimal, failed = _solve(self.model, effort, self.task.stop)
        if not found:
            return None, failed, False
        rolls = [
            each for each, times in zip(self.patterns, self.times, strict=True) for _ in range(solver.value(times))
        ]
        return self.task.dealt(rolls), False, optimal


class _Shares:
    """Plies of each length given to each roll, begun from a way to deal them out; not all, where `some` will do."""

    def __init__(self, task: RollTask, number: int, begun: Dealt, *, some: bool = False) -> None:
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
        self._begin_from(begun)
        if not some:
            self._leave_longest(loads)

    def _begin_from(self, dealt: Dealt) -> None:
        """Tell the solver what a plan may look like: of rolls of one length those that are cut most come first."""
        cut: dict[int, Counter[int]] = {roll: Counter() for roll in range(len(self.task.rolls))}
        for ply, roll in zip(self.task.plies, dealt, strict=True):
            if roll is not None:
                cut[roll][ply] += 1
        rolls = sorted(cut, key=lambda roll: (self.task.rolls[roll], sum(cut[roll].elements())), reverse=True)
        for roll, opened, given in zip(rolls, self.opened, self.given, strict=True):
            self.model.add_hint(opened, bool(cut[roll]))
            for ply, count in given.items():
                self.model.add_hint(count, cut[roll][ply])

    def _leave_longest(self, loads: Sequence[cp_model.LinearExprT]) -> None:
        longest, lasts = self.model.new_int_var(0, self.order[0], ""), []
        for roll, opened, load in zip(self.order, self.opened, loads, strict=True):
            last = self.model.new_bool_var("")
            self.model.add_implication(last, opened)
            self.model.add(longest <= roll - load).only_enforce_if(last)
            lasts.append(last)
        self.model.add_exactly_one(lasts)
        self.model.maximize(longest)

    def solve(self, effort: float) -> tuple[Dealt | None, bool, bool]:
        solver, found, optimal, failed = _solve(self.model, effort, self.task.stop)
        if not found:
            return None, failed, False
        return self.task.dealt(self._rolls(solver)), False, optimal

    def most(self, effort: float) -> tuple[list[tuple[int, dict[int, int]]], bool]:
        """Length and plies of each roll, as much cut as is found, nothing if nothing is; and whether it is the most."""
        self.model.maximize(self.total)
        solver, found, optimal, _ = _solve(self.model, effort, self.task.stop)
        return self._rolls(solver) if found else [], optimal

    def _rolls(self, solver: cp_model.CpSolver) -> list[tuple[int, dict[int, int]]]:
        """Length of each roll that is cut from, and its plies by length."""
        rolls = []
        for roll, given in zip(self.order, self.given, strict=True):
            plies = {ply: solver.value(count) for ply, count in given.items() if solver.value(count)}
            if plies:
                rolls.append((roll, plies))
        return rolls


def _left(roll: int, plies: dict[int, int]) -> int:
    return roll - sum(ply * count for ply, count in plies.items())


def _solve(model: cp_model.CpModel, effort: float, stop: Stop) -> tuple[cp_model.CpSolver, bool, bool, bool]:
    """The solver; whether it found something, whether that is the best, and whether there is nothing to find."""
    from ortools.sat.python import cp_model

    solver = repeatable_solver(effort)
    status = solve_until(solver, model, stop)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return solver, found, status == cp_model.OPTIMAL, status == cp_model.INFEASIBLE
