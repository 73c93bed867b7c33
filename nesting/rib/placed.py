"""All joins at places at once: bands cut into parts that end there, laid in rows by their patterns."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import combinations, islice, pairwise
from typing import TYPE_CHECKING

from nesting.rib.fill import stack_rows
from nesting.rib.patterns import MOST_LOOKED, MOST_PATTERNS, row_patterns
from nesting.rib.task import BandPart, StripRow
from nesting.rib.work import RibWork
from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.rib.patterns import BandSize, RowPattern
    from nesting.rib.task import RibTask

MOST_SPLITS = (1, 20)
"""Ways to part a band in so many parts that are looked at: the most even alone, then these."""


@dataclass(frozen=True)
class _Way:
    """Lengths of the parts of one kind of band, from its start."""

    kind: int
    lengths: tuple[int, ...]


def placed_rows(task: RibTask, best: Sequence[StripRow], effort: float) -> list[StripRow] | None:
    """Rows with every join at a place, and with no more stock and joins than a plan; None if none were found."""
    target = sum(task.row_depth(row) for row in best)
    joins = sum(len(row.parts) for row in best) - sum(kind.count for kind in task.kinds)
    waste = target * task.width - sum(task.cut_length(kind) * kind.depth for kind in task.kinds)
    for most in MOST_SPLITS:
        ways = [way for index in range(len(task.kinds)) for way in _ways(task, index, most)]
        most_parts: dict[BandSize, int] = defaultdict(int)
        for way in ways:
            for length in way.lengths:
                most_parts[task.kinds[way.kind].depth, length] += task.kinds[way.kind].count
        counts = {size: most_parts[size] for size in sorted(most_parts, reverse=True)}
        work = RibWork(MOST_LOOKED)
        patterns = list(islice(row_patterns(counts, task.width, waste, work), MOST_PATTERNS + 1))
        if len(patterns) > MOST_PATTERNS or work.is_spent:
            return None
        rows = _choose(task, ways, patterns, (target, joins), effort)
        if rows:
            stacked = stack_rows(task, rows)
            if task.stock_used(stacked) <= task.stock_used(best):
                return stacked
    return None


def _ways(task: RibTask, index: int, most: int) -> Iterator[_Way]:
    """A band whole where it fits, and joined at places alone; the most even parts first."""
    kind = task.kinds[index]
    fewest = task.fewest_parts(kind)
    if fewest == 1:
        yield _Way(index, (kind.length,))
    ends = [(0, *chosen, kind.length - task.join) for chosen in combinations(kind.places, max(2, fewest) - 1)]
    splits = [tuple(after - place + task.join for place, after in pairwise(at)) for at in ends]
    fit = (split for split in splits if task.least <= min(split) and max(split) <= task.width)
    yield from (_Way(index, split) for split in sorted(fit, key=min, reverse=True)[:most])


def _choose(
    task: RibTask, ways: list[_Way], patterns: list[RowPattern], most: tuple[int, int], effort: float
) -> list[StripRow] | None:
    """Rows of patterns that give the parts of every band: the fewest joins, in the most even ways found."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    cut = [model.new_int_var(0, task.kinds[way.kind].count, "") for way in ways]
    rows = [model.new_int_var(0, sum(kind.count for kind in task.kinds) + most[1], "") for _ in patterns]
    for index, kind in enumerate(task.kinds):
        model.add(sum(x for way, x in zip(ways, cut, strict=True) if way.kind == index) == kind.count)
    wanted: dict[BandSize, list[cp_model.LinearExprT]] = defaultdict(list)
    for way, x in zip(ways, cut, strict=True):
        for length in way.lengths:
            wanted[task.kinds[way.kind].depth, length].append(x)
    for size, bands in wanted.items():
        model.add(sum(p[size] * x for p, x in zip(patterns, rows, strict=True) if size in p) == sum(bands))
    model.add(sum(max(d for d, _ in p) * x for p, x in zip(patterns, rows, strict=True)) <= most[0])
    model.add(sum((len(way.lengths) - 1) * x for way, x in zip(ways, cut, strict=True)) <= most[1])
    model.maximize(
        sum((min(way.lengths) - task.width) * x for way, x in zip(ways, cut, strict=True) if len(way.lengths) > 1)
    )
    solver = repeatable_solver(effort)
    solver.parameters.linearization_level = 2
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    parts: dict[BandSize, list[BandPart]] = defaultdict(list)
    copies = 0
    for way, x in zip(ways, cut, strict=True):
        for _ in range(solver.value(x)):
            joined, copies = (copies, copies + 1) if len(way.lengths) > 1 else (None, copies)
            for group, length in enumerate(way.lengths):
                parts[task.kinds[way.kind].depth, length].append(BandPart(way.kind, length, joined, group))
    chosen = [pattern for pattern, x in zip(patterns, rows, strict=True) for _ in range(solver.value(x))]
    return [StripRow(tuple(parts[size].pop() for size, n in pattern.items() for _ in range(n))) for pattern in chosen]
