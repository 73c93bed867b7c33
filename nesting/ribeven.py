"""Joined bands in parts as even as their rows allow: two side seams sew better than one seam and a stub."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ortools.sat.python import cp_model

    from nesting.ribtask import RibTask, Row


def even_parts(task: RibTask, rows: Sequence[Row], effort: float) -> list[Row]:
    """The same parts in the same rows, the shortest part of each joined band made as long as it can be.

    Joins at places stay there: the parts of a group keep their length together.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    lengths: dict[tuple[int, int], cp_model.IntVar] = {}
    copies: dict[tuple[int, int], list[cp_model.IntVar]] = defaultdict(list)
    groups: dict[tuple[int, int, int], list[cp_model.IntVar]] = defaultdict(list)
    together: dict[tuple[int, int, int], int] = defaultdict(int)
    for at, row in enumerate(rows):
        for place, part in enumerate(row.parts):
            if part.joined is not None:
                length = lengths[at, place] = model.new_int_var(task.least, task.width, "")
                model.add_hint(length, part.length)
                copies[part.kind, part.joined].append(length)
                groups[part.kind, part.joined, part.group].append(length)
                together[part.kind, part.joined, part.group] += part.length
        fixed = sum(part.length for part in row.parts if part.joined is None)
        model.add(fixed + sum(lengths[at, p] for p in range(len(row.parts)) if (at, p) in lengths) <= task.width)
    for group, own in groups.items():
        model.add(sum(own) == together[group])
    shortest = []
    for own in copies.values():
        shortest.append(model.new_int_var(task.least, task.width, ""))
        for length in own:
            model.add(shortest[-1] <= length)
    model.maximize(sum(shortest))
    solver = repeatable_solver(effort)
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return list(rows)
    evened = []
    for at, row in enumerate(rows):
        parts = [
            replace(part, length=solver.value(lengths[at, place])) if (at, place) in lengths else part
            for place, part in enumerate(row.parts)
        ]
        evened.append(replace(row, parts=tuple(parts)))
    return evened
