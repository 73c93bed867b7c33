"""Rows for very many bands: a bound by slices, bays that come near it, and rows out of the bays."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING

from nesting.rib.even import even_parts
from nesting.rib.many.choice import BayChoice, BayProgram
from nesting.rib.many.slices import SlicePrices, least_within
from nesting.rib.task import StripRow

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.rib.many.bays import Bay
    from nesting.rib.task import RibTask

MOST_DEPTHS, DEEPEST = 12, 8
"""Depths of bays that are looked at, and of one, in bands, at the most."""

WORK = 10_000_000
"""Cells looked at for each unit of effort: about a tenth of a second."""

LOOSE = 0, 1, 4
"""How many bays of each kind in the mix are chosen anew, by turns."""

EVEN_EFFORT, MOST_EVENED = 0.05, 60
"""Effort for the lengths of parts in one bay, and how many different bays it is spent on."""


class ManyRows:
    """Rows and a bound; what is found so far can be had at any time.

    Parameters
    ----------
    task
        What is wanted.
    effort
        Work that may be spent, in units of `plan_rib`.

    Attributes
    ----------
    rows
        The rows found; None before.
    bound
        Stock that no layout undercuts, strips or steps of length.
    """

    def __init__(self, task: RibTask, effort: float) -> None:
        self.task, self.effort = task, effort
        self.rows: list[StripRow] | None = None
        self.bound = task.least_stock() if len(task.depths) == 1 else 0

    def look(self) -> None:
        """Prove the bound, then find rows. An interrupt from the keyboard goes on to the caller, after the rows."""
        task = self.task
        prices = SlicePrices(task, round(WORK * self.effort))
        weights = [float(kind.count * kind.depth) for kind in task.kinds]
        shares = prices.of(weights)
        self.bound = max(self.bound, least_within(task, prices, shares))
        program = BayProgram(task, bay_depths(task), round(WORK * self.effort))
        interrupt: KeyboardInterrupt | None = None
        try:
            amounts = program.mix(self.bound / program.whole if task.strip_depth is None else self.bound, shares)
        except KeyboardInterrupt as error:
            interrupt, amounts = error, program.amounts
        for loose in LOOSE:
            choice = program.choose(amounts, loose, self.effort / 80)
            rows = list(_rows(task, choice)) if choice is not None else None
            if rows and (self.rows is None or task.stock_used(rows) < task.stock_used(self.rows)):
                self.rows = rows
            if interrupt is not None or (self.rows and task.stock_used(self.rows) <= self.bound):
                break
        if interrupt is not None:
            raise interrupt


def bay_depths(task: RibTask) -> list[int]:
    """Depths of bays: those of the bands, and of several above one another where the others nearly fill as much."""
    every = -(-len(task.depths) // MOST_DEPTHS)
    depths = list(task.depths[::every])
    if task.strip_depth is not None:
        return sorted({*depths, *([task.strip_depth] if task.strip_depth <= DEEPEST * depths[0] else [])}, reverse=True)
    several = {depth * n for depth in task.depths for n in range(2, DEEPEST + 1) if depth * n <= DEEPEST * depths[0]}
    lost = {deep: max(deep % depth / deep for depth in task.depths) for deep in several if deep > depths[0]}
    for deep in sorted(lost, key=lambda deep: (lost[deep] + deep / depths[0] / 100, deep)):
        if len(depths) < min(MOST_DEPTHS, 2 * len(task.depths)) and len(task.depths) > 1:
            depths.append(deep)
    return sorted(depths, reverse=True)


def _rows(task: RibTask, choice: BayChoice) -> Iterator[StripRow]:
    """Rows of all bays, none with more bands than wanted, in their strips."""
    free: dict[int, list[int]] = defaultdict(list)
    for strip, held in enumerate(choice.strips):
        for depth in held:
            free[depth].append(strip)
    for strips in free.values():
        strips.reverse()
    left, copies = [kind.count for kind in task.kinds], count()
    found = []
    for number, (bay, times) in enumerate(choice.bays):
        rows = [StripRow(row) for row in bay.rows]
        if number < MOST_EVENED and bay.joins(task):
            rows = even_parts(task, rows, EVEN_EFFORT)
        for _ in range(times):
            for row in _bay_rows(task, bay, rows, left, copies):
                if row.parts:
                    strip = free[bay.depth].pop() if choice.strips else 0
                    found.append(replace(row, strip=strip))
    yield from sorted(found, key=lambda row: row.strip)


def _bay_rows(
    task: RibTask, bay: Bay, rows: list[StripRow], left: list[int], copies: Iterator[int]
) -> Iterator[StripRow]:
    """Rows of a bay with as many bands above one another as are left; `left` is lessened."""
    names: dict[tuple[int, int], list[int]] = {}
    for row in rows:
        parts = []
        for part in row.parts:
            key = (part.kind, part.joined) if part.joined is not None else None
            if key is None or key not in names:
                number = min(bay.above(task, part.kind), left[part.kind])
                left[part.kind] -= number
                own = [next(copies) for _ in range(number)]
                if key is not None:
                    names[key] = own
            else:
                own = names[key]
            for level, copy in enumerate(own):
                parts.append(replace(part, joined=copy if key else None, level=level))
        yield StripRow(tuple(parts))
