"""Lengths of the parts of joined bands, in rows already chosen: joins at places first, then parts as even as can be.

Two side seams sew better than one seam and a stub.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ortools.sat.python import cp_model

    from nesting.rib.task import RibTask, StripRow

Where = tuple[int, int]
"""A part: its row, and its place in the row."""

Copy = tuple[int, int]
"""A joined band: its kind, and which copy."""


class _Lengths:
    """Lengths as variables, and for parts at an end of a band whether they reach a place.

    Joins at places already stay there: the parts of a group keep their length together.
    """

    def __init__(self, task: RibTask, rows: Sequence[StripRow]) -> None:
        from ortools.sat.python import cp_model

        self.task, self.rows, self.model = task, rows, cp_model.CpModel()
        self.lengths: dict[Where, cp_model.IntVar] = {}
        self.copies: dict[Copy, list[Where]] = defaultdict(list)
        for at, row in enumerate(rows):
            for place, part in enumerate(row.parts):
                if part.joined is not None:
                    self.lengths[at, place] = self.model.new_int_var(task.least, task.width, "")
                    self.model.add_hint(self.lengths[at, place], part.length)
                    self.copies[part.kind, part.joined].append((at, place))
            room = task.width - sum(part.length for part in row.parts if part.joined is None)
            self.model.add(sum(length for (i, _), length in self.lengths.items() if i == at) <= room)
        self.first: dict[Where, list[cp_model.IntVar]] = defaultdict(list)
        self.last: dict[Where, list[cp_model.IntVar]] = defaultdict(list)
        for copy, parts in self.copies.items():
            self._keep(parts)
            if not any(rows[at].parts[place].group for at, place in parts):
                self._reach(copy, parts)

    def _keep(self, parts: list[Where]) -> None:
        together: dict[int, list[Where]] = defaultdict(list)
        for at, place in parts:
            together[self.rows[at].parts[place].group].append((at, place))
        for own in together.values():
            length = sum(self.rows[at].parts[place].length for at, place in own)
            self.model.add(sum(self.lengths[part] for part in own) == length)

    def _reach(self, copy: Copy, parts: list[Where]) -> None:
        """A part may come first and reach to a place, and of three or more another last, from a place on."""
        kind, join = self.task.kinds[copy[0]], self.task.join
        for part in parts:
            for place in kind.places:
                for ends, length in ((self.first, place + join), (self.last, kind.length - place)):
                    if ends is self.last and len(parts) < 3:
                        continue
                    reaches = self.model.new_bool_var("")
                    self.model.add(self.lengths[part] == length).only_enforce_if(reaches)
                    ends[part].append(reaches)
            self.model.add_at_most_one(self.first[part] + self.last[part])
        for ends in (self.first, self.last):
            self.model.add_at_most_one(reaches for part in parts for reaches in ends[part])

    def solve(self, effort: float) -> list[StripRow] | None:
        """Rows with the lengths that reach most places, and of these the most even found."""
        from ortools.sat.python import cp_model

        shortest = []
        for parts in self.copies.values():
            shortest.append(self.model.new_int_var(self.task.least, self.task.width, ""))
            for part in parts:
                self.model.add(shortest[-1] <= self.lengths[part])
        reached = sum(x for ends in (self.first, self.last) for own in ends.values() for x in own)
        self.model.maximize(self.task.width * len(shortest) * reached + sum(shortest))
        solver = repeatable_solver(effort)
        if solver.solve(self.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        groups = self._groups(solver)
        evened = []
        for at, row in enumerate(self.rows):
            own = [
                replace(part, length=solver.value(self.lengths[at, place]), group=groups[at, place])
                if (at, place) in self.lengths
                else part
                for place, part in enumerate(row.parts)
            ]
            evened.append(replace(row, parts=tuple(own)))
        return evened

    def _groups(self, solver: cp_model.CpSolver) -> dict[Where, int]:
        """For each part, how many joins at places come before it."""
        groups = {(at, place): self.rows[at].parts[place].group for at, place in self.lengths}
        for parts in self.copies.values():
            first = [part for part in parts if any(solver.value(x) for x in self.first[part])]
            last = [part for part in parts if any(solver.value(x) for x in self.last[part])]
            for part in parts:
                groups[part] += bool(first) * (part not in first) + (part in last)
        return groups


def even_parts(task: RibTask, rows: Sequence[StripRow], effort: float) -> list[StripRow]:
    """The same parts in the same rows: joins at as many places as can be so, then each shortest part as long."""
    return _Lengths(task, rows).solve(effort) or list(rows)
