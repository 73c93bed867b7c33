"""The joining model: which whole bands and which parts lie in which row, all decided at once (CP-SAT).

Part lengths are whole steps. That loses nothing: with the choice of rows fixed, lengths are a flow from bands to
rows with whole data, and such a flow has a whole solution.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from nesting.rib.task import BandPart, StripRow
from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ortools.sat.python import cp_model

    from nesting.rib.task import RibTask

EVENEST, MOST_PLACES = 1_000, 4
"""Weight of the evenness of joins at places, and places of a band up to which it is looked at."""


@dataclass
class _Joined:
    """A copy that may be joined: whether it is, and for each row whether a part lies there and how long.

    Once joins are placed: for each place, whether there is a join, and for each row whether its part lies before.
    """

    kind: int
    chosen: cp_model.IntVar
    here: list[cp_model.IntVar] = field(default_factory=list)
    length: list[cp_model.IntVar] = field(default_factory=list)
    at: list[cp_model.IntVar] = field(default_factory=list)
    before: list[list[cp_model.IntVar]] = field(default_factory=list)

    @property
    def joins(self) -> cp_model.LinearExprT:
        joins: cp_model.LinearExprT = sum([*self.here, -1 * self.chosen])
        return joins


class RibModel:
    """Rows, whole bands and joined copies as variables.

    Parameters
    ----------
    task
        What is wanted.
    best
        A plan to beat; it bounds the number of rows or strips, and the search starts from it.
    """

    def __init__(self, task: RibTask, best: Sequence[StripRow]) -> None:
        from ortools.sat.python import cp_model

        self.task, self.model = task, cp_model.CpModel()
        self.strips = [0]
        self._lay_rows(best)
        self._place_whole()
        self.joined: list[_Joined] = []
        self._place_joined()
        self._fill_rows()
        self.joins = sum((copy.joins for copy in self.joined), start=0)
        self._hint(best)

    def improve(self, effort: float) -> tuple[list[StripRow] | None, int]:
        """Least stock: the rows, and a bound on the stock."""
        self.model.minimize(self.stock)
        solver, found, _ = self._solve(effort)
        bound = self.task.least_stock()
        if found:
            bound = max(bound, math.ceil(solver.best_objective_bound - 1e-6))
        return (self._rows(solver) if found else None), bound

    def spare_joins(self, stock: int, effort: float) -> tuple[list[StripRow] | None, bool]:
        """Fewest joins with no more than this stock: the rows, and whether that is proved."""
        self.model.add(self.stock <= stock)
        self.model.minimize(self.joins)
        solver, found, proved = self._solve(effort)
        if not found:
            return None, False
        return self._rows(solver), proved

    def place_joins(self, stock: int, joins: int, effort: float) -> tuple[list[StripRow] | None, bool]:
        """Most joins at places, with no more than this stock and these joins: the rows, if any, and whether proved.

        Of the places that may be taken, those are preferred that part the bands most evenly.
        """
        self.model.add(self.stock <= stock)
        self.model.add(self.joins <= joins)
        for copy in self.joined:
            self._place(copy)
        evenness = sum(self._ways(copy) for copy in self.joined)
        placed = sum(at for copy in self.joined for at in copy.at)
        self.model.maximize(placed)
        solver, found, proved = self._solve(effort)
        most = round(solver.objective_value) if found else 0
        if not most:
            return None, proved
        self.model.add(placed >= most)
        self.model.maximize(evenness)
        evener, is_evener, _ = self._solve(effort)
        return self._rows(evener if is_evener else solver), proved

    def _ways(self, copy: _Joined) -> cp_model.LinearExprT:
        """A variable for each choice of places, with the parts it takes; gives the shortest stretch between joins.

        Nothing is done, and 0 given, where there are many places.
        """
        kind, task = self.task.kinds[copy.kind], self.task
        if len(kind.places) > MOST_PLACES or task.width <= task.join:
            return 0
        sewn, ways, terms = kind.length - task.join, [], []
        for number in range(len(kind.places) + 1):
            for chosen in combinations(range(len(kind.places)), number):
                way = self.model.new_bool_var("")
                for index, at in enumerate(copy.at):
                    self.model.add_implication(way, at if index in chosen else ~at)
                ends = [0, *(kind.places[index] for index in chosen), sewn]
                stretches = [after - place for place, after in pairwise(ends)]
                parts = sum(-(-stretch // (task.width - task.join)) for stretch in stretches)
                self.model.add(sum(copy.here) >= parts).only_enforce_if([way, copy.chosen])
                ways.append(way)
                terms.append(EVENEST * min(stretches) // sewn * way)
        self.model.add_exactly_one(ways)
        return sum(terms)

    def _place(self, copy: _Joined) -> None:
        """For each place of a band: where a join is, the parts before it reach just so far."""
        task, model = self.task, self.model
        for place in task.kinds[copy.kind].places:
            at, before, reach = model.new_bool_var(""), [], []
            model.add_implication(at, copy.chosen)
            for row, (here, length) in enumerate(zip(copy.here, copy.length, strict=True)):
                is_before, sewn = model.new_bool_var(""), model.new_int_var(0, task.width, "")
                model.add_implication(is_before, here)
                if copy.before:
                    model.add_implication(copy.before[-1][row], is_before)
                model.add(sewn == length - task.join).only_enforce_if(is_before)
                model.add(sewn == 0).only_enforce_if(~is_before)
                before.append(is_before)
                reach.append(sewn)
            model.add(sum(reach) == place).only_enforce_if(at)
            copy.at.append(at)
            copy.before.append(before)

    def _solve(self, effort: float) -> tuple[cp_model.CpSolver, bool, bool]:
        from ortools.sat.python import cp_model

        solver = repeatable_solver(effort)
        status = solver.solve(self.model)
        found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
        return solver, found, status == cp_model.OPTIMAL

    def _lay_rows(self, best: Sequence[StripRow]) -> None:
        """Rows to choose from, each as deep as `deep` says: deep[row][k] is whether it reaches depth k."""
        task, depths = self.task, self.task.depths
        used, fewest = task.stock_used(best), task.fewest_rows()
        steps = [depth - below for depth, below in zip(depths, (*depths[1:], 0), strict=True)]
        if task.strip_depth is None:
            least = sum(step * count for step, count in zip(steps, fewest, strict=True))
            most = [count + (used - least) // step for step, count in zip(steps, fewest, strict=True)]
            self.strips = [0] * most[-1]
        else:
            each = task.strip_depth // depths[-1]
            self.strips = [strip for strip in range(used) for _ in range(each)]
            most, fewest = [len(self.strips)] * len(depths), [0] * len(depths)
        self.deep = [[self.model.new_bool_var("") for _ in depths] for _ in self.strips]
        self.present = [deep for row in self.deep for deep in row]
        for row, deep in enumerate(self.deep):
            for level in range(len(depths)):
                if row < fewest[level] or row >= most[level]:
                    self.model.add(deep[level] == (row < fewest[level]))
                if level:
                    self.model.add_implication(deep[level - 1], deep[level])
                if row and self.strips[row - 1] == self.strips[row]:
                    self.model.add_implication(deep[level], self.deep[row - 1][level])
        self._count_stock(steps, used)

    def _count_stock(self, steps: list[int], most: int) -> None:
        depth = [sum(step * deep for step, deep in zip(steps, row, strict=True)) for row in self.deep]
        self.stock: cp_model.LinearExprT = sum(depth)
        if self.task.strip_depth is not None:
            taken = [self.model.new_bool_var("") for _ in range(most)]
            for strip, is_taken in enumerate(taken):
                rows = [row for row, at in enumerate(self.strips) if at == strip]
                self.model.add(sum(depth[row] for row in rows) <= self.task.strip_depth * is_taken)
                if strip:
                    self.model.add_implication(is_taken, taken[strip - 1])
            self.stock = sum(taken)
        self.model.add(self.stock >= self.task.least_stock())

    def _reaches(self, row: int, kind: int) -> cp_model.IntVar:
        return self.deep[row][self.task.depths.index(self.task.kinds[kind].depth)]

    def _place_whole(self) -> None:
        self.whole: dict[tuple[int, int], cp_model.IntVar] = {}
        for index, kind in enumerate(self.task.kinds):
            most = min(kind.count, self.task.width // kind.length)
            for row in range(len(self.deep) if most else 0):
                number = self.whole[index, row] = self.model.new_int_var(0, most, "")
                self.model.add(number <= most * self._reaches(row, index))

    def _place_joined(self) -> None:
        rows, kinds = len(self.deep), self.task.kinds
        for index, kind in enumerate(kinds):
            number = kind.count if self.task.may_join(kind) else 0
            copies = [self._join_copy(index) for _ in range(number)]
            for copy, after in pairwise(copies):
                self.model.add_implication(after.chosen, copy.chosen)
            whole = sum(self.whole[index, row] for row in range(rows) if (index, row) in self.whole)
            self.model.add(whole + sum(copy.chosen for copy in copies) == kind.count)
            self.joined += copies

    def _join_copy(self, index: int) -> _Joined:
        kind, task, model = self.task.kinds[index], self.task, self.model
        copy = _Joined(index, model.new_bool_var(""))
        most = min(task.width, kind.length + task.join - task.least)
        for row in range(len(self.deep)):
            here, length = model.new_bool_var(""), model.new_int_var(0, most, "")
            model.add(length >= task.least * here)
            model.add(length <= most * here)
            model.add_implication(here, self._reaches(row, index))
            copy.here.append(here)
            copy.length.append(length)
        model.add(sum(copy.here) >= max(2, task.fewest_parts(kind)) * copy.chosen)
        model.add(sum(copy.here) <= len(self.deep) * copy.chosen)
        model.add(sum(copy.length) == kind.length * copy.chosen + task.join * sum(copy.here) - task.join * copy.chosen)
        return copy

    def _fill_rows(self) -> None:
        for row, deep in enumerate(self.deep):
            parts: list[cp_model.LinearExprT] = [copy.length[row] for copy in self.joined]
            parts += [
                kind.length * self.whole[index, row]
                for index, kind in enumerate(self.task.kinds)
                if (index, row) in self.whole
            ]
            self.model.add(sum(parts) <= self.task.width * deep[-1])

    def _hint(self, best: Sequence[StripRow]) -> None:
        """Start from the plan at hand: its rows in order, each at the first place in its strip."""
        places: dict[int, list[int]] = defaultdict(list)
        for place, strip in enumerate(self.strips):
            places[strip].append(place)
        values: dict[int, int] = defaultdict(int)
        copies: dict[tuple[int, int | None], _Joined] = {}
        free = {index: [copy for copy in self.joined if copy.kind == index] for index in range(len(self.task.kinds))}
        for row in best:
            at = places[row.strip].pop(0)
            for level, depth in enumerate(self.task.depths):
                values[self.deep[at][level].index] = int(self.task.row_depth(row) >= depth)
            for part in row.parts:
                if part.joined is None:
                    values[self.whole[part.kind, at].index] += 1
                    continue
                key = part.kind, part.joined
                copy = copies[key] if key in copies else copies.setdefault(key, free[part.kind].pop(0))
                values[copy.chosen.index] = values[copy.here[at].index] = 1
                values[copy.length[at].index] = part.length
        variables = [*self.present, *self.whole.values()]
        for copy in self.joined:
            variables += [copy.chosen, *copy.here, *copy.length]
        for variable in variables:
            self.model.add_hint(variable, values[variable.index])

    def _rows(self, solver: cp_model.CpSolver) -> list[StripRow]:
        rows = []
        for row, strip in enumerate(self.strips):
            parts = [
                BandPart(index, self.task.kinds[index].length)
                for (index, at), number in self.whole.items()
                if at == row
                for _ in range(solver.value(number))
            ]
            parts += [
                BandPart(copy.kind, solver.value(copy.length[row]), number, self._group(copy, row, solver))
                for number, copy in enumerate(self.joined)
                if solver.value(copy.here[row])
            ]
            if parts:
                rows.append(StripRow(tuple(parts), strip))
        return rows

    def _group(self, copy: _Joined, row: int, solver: cp_model.CpSolver) -> int:
        """How many joins at places come before the part in this row."""
        return sum(
            solver.value(at) and not solver.value(before[row]) for at, before in zip(copy.at, copy.before, strict=True)
        )
