"""All joins at places at once: bands cut into parts that end there, laid in rows by their patterns."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, islice, pairwise, product
from typing import TYPE_CHECKING

from nesting.ribfill import stack_rows
from nesting.ribpatterns import pattern_rows
from nesting.ribtask import Part

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.ribtask import RibTask, Row

MOST_TRIES = 12
"""Combinations of places that are tried, the most even first."""


def placed_rows(task: RibTask, best: Sequence[Row], effort: float) -> list[Row] | None:
    """The bands joined as in a plan, every join at a place, with no more stock: the rows, None if none were found."""
    parts = [part for row in best for part in row.parts]
    whole = [part for part in parts if part.joined is None]
    copies = Counter((part.kind, part.joined) for part in parts if part.joined is not None)
    shapes = sorted({(kind, number) for (kind, _), number in copies.items()})
    target = sum(task.row_depth(row) for row in best)
    for chosen in islice(product(*(_splits(task, kind, number) for kind, number in shapes)), MOST_TRIES):
        split = dict(zip(shapes, chosen, strict=True))
        joined = [
            Part(kind, length, copy, group)
            for (kind, copy), number in copies.items()
            for group, length in enumerate(split[kind, number])
        ]
        rows, _ = pattern_rows(task, whole + joined, target, effort)
        if rows:
            rows = stack_rows(task, rows)
            if task.stock_used(rows) <= task.stock_used(best):
                return rows
    return None


def _splits(task: RibTask, index: int, number: int) -> list[tuple[int, ...]]:
    """Lengths of the parts of a band joined at places alone, by its number of parts; the most even first."""
    kind = task.kinds[index]
    ends = [(0, *chosen, kind.length - task.join) for chosen in combinations(kind.places, number - 1)]
    splits = [tuple(after - place + task.join for place, after in pairwise(at)) for at in ends]
    return sorted((s for s in splits if task.least <= min(s) and max(s) <= task.width), key=min, reverse=True)
