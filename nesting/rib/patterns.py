"""Rows chosen from all the ways to fill one: exact for bands in given parts, however many copies there are.

Cutting stock after Gilmore and Gomory (1961): a pattern says how many parts of each size lie in one row; whole
numbers of rows of each pattern must give every part. A plan that uses no more than a target wastes no more
than the target less the parts themselves, so patterns that waste more are left out.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nesting.rib.task import BandPart, StripRow
from nesting.rib.work import RibWork
from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.rib.task import RibTask

MOST_PATTERNS = 5_000
"""More than these, and the patterns are left alone."""

MOST_LOOKED = 300_000
"""Steps of the search for patterns after which they are left alone."""

BandSize = tuple[int, int]
RowPattern = dict[BandSize, int]


def pattern_rows(
    task: RibTask, parts: Sequence[BandPart], target: int, effort: float
) -> tuple[list[StripRow] | None, bool]:
    """Rows that take no more length than `target`, as few as they can be.

    Returns
    -------
    tuple of list of Row or None, and bool
        The rows, None if none were found; and whether that answer is proved, for parts of these very lengths.
    """
    by_size: dict[BandSize, list[BandPart]] = defaultdict(list)
    for part in parts:
        by_size[task.kinds[part.kind].depth, part.length].append(part)
    waste = target * task.width - sum(depth * length * len(same) for (depth, length), same in by_size.items())
    patterns, work = [], RibWork(MOST_LOOKED)
    for pattern in row_patterns(
        {size: len(by_size[size]) for size in sorted(by_size, reverse=True)}, task.width, waste, work
    ):
        patterns.append(pattern)
        if len(patterns) > MOST_PATTERNS:
            return None, False
    if work.is_spent:
        return None, False
    times, proved = _choose(patterns, {size: len(same) for size, same in by_size.items()}, target, effort)
    if times is None:
        return None, proved
    rows = []
    for pattern, count in zip(patterns, times, strict=True):
        rows += [
            StripRow(tuple(by_size[size].pop() for size, number in pattern.items() for _ in range(number)))
            for _ in range(count)
        ]
    return rows, proved


def row_patterns(
    counts: dict[BandSize, int], width: int, waste: int, work: RibWork | None = None
) -> Iterator[RowPattern]:
    """All ways to fill a row of `width` from these sizes, deepest first, that waste no more than `waste`.

    With `work`, those that are found before it is spent: many ways come to nothing only at the last size.
    """
    sizes = list(counts)

    def extend(at: int, room: int, spare: int, chosen: RowPattern) -> Iterator[RowPattern]:
        if work is not None and not work.spend():
            return
        if at == len(sizes):
            if chosen and room * max(depth for depth, _ in chosen) <= spare:
                yield dict(chosen)
            return
        depth, length = sizes[at]
        deepest = max((depth for depth, _ in chosen), default=depth)
        for number in range(min(counts[sizes[at]], room // length), -1, -1):
            lost = number * length * (deepest - depth)
            if lost <= spare:
                more = {**chosen, sizes[at]: number} if number else chosen
                yield from extend(at + 1, room - number * length, spare - lost, more)

    yield from extend(0, width, waste, {})


def _choose(
    patterns: list[RowPattern], counts: dict[BandSize, int], target: int, effort: float
) -> tuple[list[int] | None, bool]:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    rows = [
        model.new_int_var(0, min(counts[size] // number for size, number in pattern.items()), "")
        for pattern in patterns
    ]
    given: dict[BandSize, list[cp_model.LinearExprT]] = defaultdict(list)
    for pattern, row in zip(patterns, rows, strict=True):
        for size, number in pattern.items():
            given[size].append(number * row)
    for size, count in counts.items():
        model.add(sum(given[size]) == count)
    length = sum(max(depth for depth, _ in pattern) * row for pattern, row in zip(patterns, rows, strict=True))
    model.add(length <= target)
    model.minimize(length)
    solver = repeatable_solver(effort)
    solver.parameters.linearization_level = 2  # the model is all sums
    status = solver.solve(model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return [solver.value(row) for row in rows], status == cp_model.OPTIMAL
    return None, status == cp_model.INFEASIBLE
