"""How little rib any layout takes, by slices: what a straight line across the rib can meet at once.

Wherever a line lies across the rib, the bands and parts that it meets fit the width beside one another. Each band is
met for as long as it is deep. A slice is a length of rib in which the same are met, so a layout is a mix of slices. The
least length of any mix, whole or not, is a bound for bands above one another as well (bar relaxation of strip packing).
It is found by column generation (Gilmore and Gomory, 1961). Of a band that is joined, a slice may hold parts of any
length: together they must be as long as the band and its joins, and as many as it takes at least.

The prices of bands in the best mix are a conservative scale of their lengths (Fekete and Schepers, 2004, from memory).
With one of depths beside it, the sum of all products is a bound on strips.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nesting.rib.bound import scales_of
from nesting.rib.many.fill import CELLS, Fill, Thing
from nesting.rib.many.program import ColumnProgram

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from nesting.rib.task import RibTask

    Prices = NDArray[np.float64]

CLOSE = 1e-3
"""Share by which a mix may be over the bound that its prices prove: then it is near enough."""

MOST_ROUNDS = 400
"""Rounds of column generation, at the most."""

MOST_OFFERED = 40
"""Slices that are offered at a time, at the most."""

MOST_STEPS = 500
"""Cells across the width for scales of lengths."""

ROUNDING = 1e-7
"""Share that sums of numbers with 15 digits may be wrong by, and then some."""


class SlicePrices:
    """The width that each band of a kind takes of its slices at least: prices that prove bounds.

    Parameters
    ----------
    task
        What is wanted.
    most_work
        Cells looked at, at the most.
    """

    def __init__(self, task: RibTask, most_work: int) -> None:
        self.task, self.work, self.most_work = task, 0, most_work
        self.cells = min(CELLS, task.width)
        self.kinds = range(len(task.kinds))
        self.joined = [index for index in self.kinds if task.may_join(task.kinds[index]) and task.least <= task.width]
        self.columns: list[dict[int, float]] = [column for index in self.kinds for column in self._first(index)]

    def _first(self, index: int) -> list[dict[int, float]]:
        """Slices of one kind alone: as many whole as fit; as many longest parts, and as many shortest."""
        kind, width = self.task.kinds[index], self.task.width
        found = []
        if kind.length <= width:
            found.append({index: float(min(kind.count, width // kind.length))})
        if index in self.joined:
            ends = self._longest(index), self.task.least
            found += [self._parts(index, part, width // part) for part in ends]
        return found

    def _parts(self, index: int, length: float, number: int) -> dict[int, float]:
        """What so many parts give: their number, and their length without a join each."""
        n = len(self.task.kinds)
        return {n + index: float(number), 2 * n + index: number * (length - self.task.join) / self._net(index)}

    def _net(self, index: int) -> int:
        return self.task.kinds[index].length - self.task.join

    def _longest(self, index: int) -> int:
        """The longest part that leaves another."""
        return min(self.task.width, self.task.kinds[index].length + self.task.join - self.task.least)

    def of(self, weights: Sequence[float]) -> Prices:
        """Shares of the width for a band of each kind, of which no slice holds more than one: the best found.

        Parameters
        ----------
        weights
            What a share is worth for each kind: its count times its depth, or times that on a scale.
        """
        n = len(self.task.kinds)
        top = max(weights) or 1.0
        wanted = np.zeros(3 * n)
        wanted[:n] = np.array(weights) / top
        program = ColumnProgram(wanted)
        for column in self.columns:
            program.add(1.0, column)
        for index in self.joined:
            needs = max(2, self.task.fewest_parts(self.task.kinds[index]))
            program.add(0.0, {index: 1.0, n + index: -float(needs), 2 * n + index: -1.0})
        best, most = np.zeros(n), 0.0
        for _ in range(MOST_ROUNDS):
            solved = program.solve()
            if solved is None:
                break
            cost, _, prices = solved
            shares = self._shares(prices)
            value, slices = self._dearest(shares, prices)
            proved = float(wanted[:n] @ shares) / value if value > 0 else 0.0
            if proved > most:
                most, best = proved, shares / value
            if most >= cost * (1 - CLOSE) or self.work > self.most_work or not slices:
                break
            for column in slices:
                program.add(1.0, column)
            self.columns += slices
        return best * (1 - ROUNDING)

    def _shares(self, prices: Prices) -> Prices:
        """Prices of bands, none above that of its parts."""
        n = len(self.task.kinds)
        shares = prices[:n].copy()
        for index in self.joined:
            needs = max(2, self.task.fewest_parts(self.task.kinds[index]))
            shares[index] = min(shares[index], needs * prices[n + index] + prices[2 * n + index])
        return shares

    def _dearest(self, shares: Prices, prices: Prices) -> tuple[float, list[dict[int, float]]]:
        """A value that no slice is above, and slices near it.

        Of the parts of a slice at most one is neither the shortest nor the longest it may be: length moves from the
        part of which it is worth less to that of which it is worth more. Lengths are rounded down to cells.
        """
        task, cells, n = self.task, self.cells, len(self.task.kinds)
        things = [
            Thing(self._cells(kind.length), float(shares[index]), kind.count if kind.length <= task.width else 0)
            for index, kind in enumerate(task.kinds)
        ]
        ends = [(index, length) for index in self.joined for length in (task.least, self._longest(index))]
        things += [Thing(self._cells(part), self._worth(index, part, prices), cells) for index, part in ends]
        fill = Fill(cells, things)
        self.work += fill.work + cells * len(self.joined)
        value, found = float(fill.best[cells]), [self._column(fill, ends, cells, None)]
        partial: list[tuple[float, int, int, float]] = []
        for index in self.joined:
            longest, least = self._longest(index), self._cells(task.least)
            free = np.arange(least, cells + 1)  # cells of a part; it may be nearly a cell longer
            parts = np.minimum((free + 1) * task.width / cells, longest)
            slope = prices[2 * n + index] / self._net(index)
            worth = prices[n + index] + slope * (parts - task.join)
            all_worth = fill.best[cells - free] + worth
            at = int(all_worth.argmax())
            if all_worth[at] > 1 + CLOSE / 2:
                partial.append((float(all_worth[at]), index, cells - int(free[at]), float(parts[at])))
            value = max(value, float(all_worth[at]))
        for _, index, room, part in sorted(partial, reverse=True)[:MOST_OFFERED]:
            found.append(self._column(fill, ends, room, (index, part)))
            self.work += len(fill.layers) * 10
        return value, [column for column in found if column and self._sum(column, prices) > 1 + CLOSE / 10]

    def _worth(self, index: int, part: int, prices: Prices) -> float:
        return sum(x * float(prices[row]) for row, x in self._parts(index, part, 1).items())

    def _column(
        self, fill: Fill, ends: list[tuple[int, int]], room: int, part: tuple[int, float] | None
    ) -> dict[int, float]:
        n, found = len(self.task.kinds), dict[int, float]()
        pieces = [self._parts(*part, 1)] if part else []
        for at, number in fill.taken(room).items():
            pieces.append({at: float(number)} if at < n else self._parts(*ends[at - n], number))
        for piece in pieces:
            for row, x in piece.items():
                found[row] = found.get(row, 0.0) + x
        return found

    def _sum(self, column: Mapping[int, float], prices: Prices) -> float:
        return sum(x * float(prices[row]) for row, x in column.items())

    def _cells(self, length: int) -> int:
        """Whole cells in a length."""
        return length * self.cells // self.task.width


def scale_shares(task: RibTask) -> Iterator[Prices]:
    """Shares of the width for a band of each kind, by scales of the lengths of its parts.

    Of parts that a slice holds, the shares on a scale add up to no more than one. A band takes what the cheapest parts
    that are long enough take; lengths are rounded in its favour.
    """
    if task.least > task.width or task.least <= task.join:
        return
    cells = min(MOST_STEPS, task.width)
    lows = np.maximum(np.arange(cells + 1) * task.width // cells, task.least)
    lows = lows[lows <= task.width]
    lows = lows[np.append(np.diff(lows) > 0, True)]
    highs = np.minimum(np.append(lows[1:], task.width), lows + -(-task.width // cells))
    gives = -((-(highs - task.join) * cells) // task.width)  # cells of length less a join, rounded up
    longest = max(1, *(kind.length - task.join for kind in task.kinds)) * cells // task.width
    most = task.width // task.least
    kinds = np.array([(kind.length - task.join) * cells // task.width for kind in task.kinds])
    only = np.array([kind.length if not task.may_join(kind) else 0 for kind in task.kinds])
    for low in {task.least, *(task.width // n + 1 for n in range(2, most + 2))}:
        if low < task.least:
            continue
        hold = task.width // low  # so many parts of this length or more
        wide = max(low, task.width - low + 1)  # beside so wide a part there is none of this length
        scale = np.where(lows >= wide, 1.0, np.where(lows >= low, 1.0 / hold, 0.0))
        least = np.zeros(longest + 1)
        for length in range(1, longest + 1):
            least[length] = (scale + least[np.maximum(0, length - gives)]).min()
        whole = np.where(only >= wide, 1.0, np.where(only >= low, 1.0 / hold, 0.0))
        parts = [
            float((scale + least[np.maximum(1, net - gives)]).min()) if kind.length > task.width else least[max(0, net)]
            for kind, net in zip(task.kinds, kinds.tolist(), strict=True)
        ]  # a band longer than the width is at least two
        yield np.where(only > 0, whole, parts)


def least_within(task: RibTask, prices: SlicePrices, shares: Prices) -> int:
    """Stock that no layout undercuts, by what bands take of slices.

    Parameters
    ----------
    prices
        Where more shares are found for other scales of depth.
    shares
        Of the width, for the depths as they are.
    """
    by_scale = max((_least_of(task, other) for other in scale_shares(task)), default=0)
    if task.strip_depth is None:
        return max(by_scale, _least_of(task, shares))
    most = by_scale
    for scale in scales_of(task.depths, task.strip_depth):
        weights = [kind.count * float(scale[kind.depth]) for kind in task.kinds]
        if sum(share * weight for share, weight in zip(shares, weights, strict=True)) > 0.9 * most:
            shares = prices.of(weights)
        most = max(most, _whole(sum(share * weight for share, weight in zip(shares, weights, strict=True))))
    return most


def _least_of(task: RibTask, shares: Prices) -> int:
    """Stock that no layout undercuts, by these shares."""
    if task.strip_depth is None:
        length = sum(share * kind.count * kind.depth for share, kind in zip(shares, task.kinds, strict=True))
        if len(task.depths) == 1:
            return task.depths[0] * _whole(length / task.depths[0])
        return max(task.depths[0], _whole(length))
    return max(
        _whole(sum(share * k.count * float(scale[k.depth]) for share, k in zip(shares, task.kinds, strict=True)))
        for scale in scales_of(task.depths, task.strip_depth)
    )


def _whole(value: float) -> int:
    """The least whole number that is no less, but for rounding."""
    return math.ceil(value - 1e-6)
