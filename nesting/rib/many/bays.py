"""Bays: rows of one depth that hang together by joined bands, and the one worth most at given prices.

A bay holds columns: a band, or a part of one, with as many copies of it above one another as its depth has room for.
Bands lie whole beside one another; the last of a row may go on in the next. So bays are chains: the first row ends in a
part of a band, the next begins with the rest of it. They are found row by row, by the length of that rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nesting.rib.fill import part_lengths
from nesting.rib.many.fill import CELLS, Fill, Thing
from nesting.rib.task import BandPart

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.rib.task import RibTask

MOST_ROWS, MOST_DEEP_ROWS = 8, 2
"""Rows of a bay, at the most, and of one that is deeper than a band: large bays leave much over at the end."""

MOST_JOINED = 40
"""Kinds whose bands may be joined, at the most."""

MOST_SINGLE = 40
"""Single rows that are offered at a time, at the most."""

NEVER = -1e9
"""Worth of what cannot be."""


@dataclass(frozen=True)
class Bay:
    """Rows of a depth, and the columns in each; a joined column has a number, the same in all its rows."""

    depth: int
    rows: tuple[tuple[BandPart, ...], ...]

    def above(self, task: RibTask, kind: int) -> int:
        """How many bands of a kind lie above one another in a column."""
        return self.depth // task.kinds[kind].depth

    def columns(self) -> dict[int, int]:
        """How many columns of each kind there are."""
        found: dict[int, int] = {}
        for kind, _ in self.bands():
            found[kind] = found.get(kind, 0) + 1
        return found

    def bands(self) -> set[tuple[int, int]]:
        """Each column: its kind, and a number."""
        ended = {(p.kind, p.joined) for row in self.rows for p in row if p.joined is not None}
        whole = [p.kind for row in self.rows for p in row if p.joined is None]
        return {(kind, -1 - at) for at, kind in enumerate(whole)} | {(k, j) for k, j in ended if j is not None}

    def joins(self, task: RibTask) -> int:
        """Joins in all its bands."""
        parts = sum(self.above(task, part.kind) for row in self.rows for part in row)
        return parts - sum(n * self.above(task, kind) for kind, n in self.columns().items())


def simple_bays(task: RibTask, depths: Sequence[int]) -> Iterator[Bay]:
    """Bays of one kind each, so that every band can be cut: as many whole as fit, or each part in a row of its own."""
    for index, kind in enumerate(task.kinds):
        depth = min(depth for depth in depths if depth >= kind.depth)
        if kind.length <= task.width:
            yield Bay(depth, ((BandPart(index, kind.length),) * (task.width // kind.length),))
            continue
        lengths = part_lengths(task, kind)
        yield Bay(depth, tuple((BandPart(index, length, 0),) for length in lengths))


class BaySearch:
    """The bays of a depth that are worth most.

    Parameters
    ----------
    task
        What is wanted.
    depth
        Of the rows.
    most_ends
        Ways for a row to begin and end that are looked at, at the most.
    """

    def __init__(self, task: RibTask, depth: int, most_ends: int) -> None:
        self.task, self.depth, self.most_ends, self.work = task, depth, most_ends, 0
        self.most_rows = MOST_ROWS if depth <= task.depths[0] else MOST_DEEP_ROWS
        self.cells = cells = min(CELLS, task.width)
        self.kinds = [index for index, kind in enumerate(task.kinds) if kind.depth <= depth]
        self.lengths = [self._up(task.kinds[index].length) for index in self.kinds]
        self.join, self.least = self._up(task.join), self._up(task.least)
        joined = [at for at, index in enumerate(self.kinds) if task.may_join(task.kinds[index])]
        if self.least > cells:
            joined = []
        # Long bands must be joined; of the others those of greater length gain most.
        self.joined = sorted(joined, key=lambda at: -self.lengths[at])[:MOST_JOINED]

    def _up(self, length: int) -> int:
        """Cells that cover a length."""
        return -(-length * self.cells // self.task.width)

    @cached_property
    def rests(self) -> NDArray[np.int64]:
        """Lengths of rests that are looked at, in cells."""
        longest = max((self.lengths[at] for at in self.joined), default=0) + self.join - self.least
        number = max(12, int((self.most_ends / max(1, len(self.joined))) ** 0.5))
        found = set(np.linspace(self.least, max(self.least, longest), number).astype(int).tolist())
        for at in self.joined[: number // 12]:
            kind = self.task.kinds[self.kinds[at]]
            length = self.lengths[at] + self.join
            found |= {length - self.least, length - self.cells}
            for place in kind.places:
                found |= {self._up(kind.length - place), length - self._up(kind.length - place)}
        return np.array(sorted(rest for rest in found if self.least <= rest <= longest), dtype=np.int64)

    @cached_property
    def _begins(self) -> NDArray[np.int64]:
        """(joined, rests, rests): room in a row left by the rest that it begins with and a part that leaves a rest."""
        whole = np.array([self.lengths[at] + self.join for at in self.joined], dtype=np.int64)
        part = whole[:, None] - self.rests[None, :]
        room: NDArray[np.int64] = self.cells - part[:, :, None] - self.rests[None, None, :]
        room[(part < self.least) | (part > self.cells)] = -1
        room[room < -1] = -1
        return room

    @cached_property
    def _first(self) -> NDArray[np.int64]:
        """(joined, rests): room in a first row beside a part that leaves a rest."""
        part = np.array([self.lengths[at] + self.join for at in self.joined])[:, None] - self.rests[None, :]
        return np.where((part < self.least) | (part > self.cells), -1, self.cells - part)

    @cached_property
    def _goes_on(self) -> NDArray[np.int64]:
        """(rests, rests): room in a row beside a part of a rest, the second, that leaves another, the first."""
        part = self.rests[None, :] + self.join - self.rests[:, None]
        return np.where((part < self.least) | (part > self.cells), -1, self.cells - part)

    def best(
        self, prices: Sequence[float], row_cost: float, join_cost: float, left: Sequence[int] | None = None
    ) -> list[tuple[float, Bay]]:
        """The best bay of each number of rows: what it is worth more than it costs, and the bay.

        Parameters
        ----------
        prices
            What a band of each kind is worth.
        row_cost, join_cost
            What a row costs, and a column joined once.
        left
            Bands of each kind that are still wanted, if not all: no row has more of them whole.
        """
        task = self.task
        left = left or [kind.count for kind in task.kinds]
        above = [self.depth // task.kinds[index].depth for index in self.kinds]
        worth = [prices[index] * n for index, n in zip(self.kinds, above, strict=True)]
        fill = Fill(
            self.cells,
            [
                Thing(length, value, -(-left[index] // n))
                for index, length, value, n in zip(self.kinds, self.lengths, worth, above, strict=True)
            ],
        )
        self.work += fill.work
        found = list(self._single(fill, worth, row_cost))
        if self.joined:
            found += self._chains(fill, np.array([worth[at] for at in self.joined]) - join_cost, row_cost, join_cost)
        return [(value, bay) for value, bay in found if bay is not None]

    def _single(self, fill: Fill, worth: Sequence[float], row_cost: float) -> Iterator[tuple[float, Bay | None]]:
        """One row, the best with a band of each kind."""
        gains = [
            (float(fill.best[self.cells - length]) + value - row_cost, index, self.cells - length)
            for index, length, value in zip(self.kinds, self.lengths, worth, strict=True)
            if length <= self.cells and value > 0
        ]
        for gain, index, room in sorted(gains, reverse=True)[:MOST_SINGLE]:
            self.work += len(fill.layers) * 10
            yield gain, self._write(fill, [(room, [])], index)

    def _chains(
        self, fill: Fill, worth: NDArray[np.float64], row_cost: float, join_cost: float
    ) -> Iterator[tuple[float, Bay | None]]:
        room = np.append(fill.best, NEVER)  # the last, for room of -1
        begins, goes_on, first = room[self._begins], room[self._goes_on] - join_cost, room[self._first]
        short = self.rests <= self.cells
        ends = np.where(short, room[np.where(short, self.cells - self.rests, -1)], NEVER)
        states = [(first + worth[:, None]).max(axis=0)]
        self.work += begins.size // 4
        for rows in range(2, self.most_rows + 1):
            before = states[-1]
            total = before + ends
            last = int(total.argmax())
            if total[last] > NEVER / 2:
                value = float(total[last]) - rows * row_cost
                yield value, self._trace(fill, states, last, (begins, goes_on, first, worth)) if value > 0 else None
            if rows < self.most_rows:
                self.work += begins.size // 2
                begun = ((begins + before).max(axis=2) + worth[:, None]).max(axis=0)
                states.append(np.maximum(begun, (goes_on + before).max(axis=1)))

    def _trace(
        self, fill: Fill, states: list[NDArray[np.float64]], last: int, tables: tuple[NDArray[np.float64], ...]
    ) -> Bay | None:
        """Rows of a bay, from the last one back: for each the room for whole bands, and parts as (column, cells)."""
        begins, goes_on, first, worth = tables
        number = len(states)
        rest, column = last, number
        rows: list[tuple[int, list[tuple[int, int]]]] = [
            (self.cells - int(self.rests[rest]), [(column, int(self.rests[rest]))])
        ]
        kinds: dict[int, int] = {}
        for at in range(number - 1, -1, -1):
            if at == 0:
                kind = int((first[:, rest] + worth).argmax())
                kinds[column] = kind
                part = self.lengths[self.joined[kind]] + self.join - int(self.rests[rest])
                rows.append((int(self._first[kind, rest]), [(column, part)]))
                break
            before = states[at - 1]
            begun = (begins[:, rest, :] + before[None, :]).max(axis=1) + worth
            on = goes_on[rest] + before
            if on.max() >= begun.max():
                earlier = int(on.argmax())
                part = int(self.rests[earlier]) + self.join - int(self.rests[rest])
                rows.append((int(self._goes_on[rest, earlier]), [(column, part)]))
            else:
                kind = int(begun.argmax())
                earlier = int((begins[kind, rest] + before).argmax())
                kinds[column] = kind
                part = self.lengths[self.joined[kind]] + self.join - int(self.rests[rest])
                rows.append(
                    (int(self._begins[kind, rest, earlier]), [(column - 1, int(self.rests[earlier])), (column, part)])
                )
                column -= 1
            rest = earlier
        if any(room < 0 for room, _ in rows):
            return None
        return self._write(
            fill,
            [(room, [(c, self.kinds[self.joined[kinds[c]]], n) for c, n in parts]) for room, parts in reversed(rows)],
        )

    def _write(
        self, fill: Fill, rows: list[tuple[int, list[tuple[int, int, int]]]], beside: int | None = None
    ) -> Bay | None:
        """Cells back to steps; None where rounding leaves too little room, or a row stays empty."""
        task = self.task
        whole = [
            [self.kinds[at] for at, number in sorted(fill.taken(room).items()) for _ in range(number)]
            for room, _ in rows
        ]
        if beside is not None:
            whole[0] = sorted([*whole[0], beside])
        spare = [
            task.width - sum(task.kinds[kind].length for kind in own) - sum(self._down(n) for _, _, n in parts)
            for own, (_, parts) in zip(whole, rows, strict=True)
        ]
        where: dict[int, list[tuple[int, int]]] = {}
        kinds: dict[int, int] = {}
        for row, (_, parts) in enumerate(rows):
            for column, kind, n in parts:
                kinds[column] = kind
                where.setdefault(column, []).append((row, self._down(n)))
        written: list[list[BandPart]] = [[BandPart(kind, task.kinds[kind].length) for kind in own] for own in whole]
        for column, own_parts in where.items():
            total = task.kinds[kinds[column]].length + (len(own_parts) - 1) * task.join
            missing = total - sum(length for _, length in own_parts)
            for row, length in own_parts:
                more = max(task.least - length, min(missing, spare[row]))
                missing, spare[row] = missing - more, spare[row] - more
                written[row].append(BandPart(kinds[column], length + more, column))
            if missing:
                return None
        if min(spare) < 0 or not all(written):
            return None
        return Bay(self.depth, tuple(tuple(row) for row in written))

    def _down(self, cells: int) -> int:
        """Whole steps in some cells."""
        return cells * self.task.width // self.cells
