"""Boxes stacked: how little room the boxes of any some of a few outlines take one beyond another."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from nesting.search.boxes import FREE, HIGH, LOW, SimpleBox

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Subsets = tuple[NDArray[np.int64], ...]

BOTH = LOW | HIGH
"""Edges that a stack lies at are the sum of those of its boxes."""


@lru_cache(maxsize=4)
def subsets(n: int) -> Subsets:
    """For each set of n things, written as bits, its subsets that hold the least of them; of the empty set none."""
    of: list[NDArray[np.int64]] = [np.zeros(0, dtype=np.int64)]
    for whole in range(1, 2**n):
        lowest = whole & -whole
        found, rest = np.array([lowest]), whole ^ lowest
        while rest:
            found, rest = np.concatenate([found, found | (rest & -rest)]), rest & (rest - 1)
        of.append(found)
    return tuple(of)


class Stacks:
    """Stacks of boxes in one band, across it as on a shelf, or along it as in a lane.

    Parameters
    ----------
    items
        Of the outlines.
    boxes
        Those of one outline, and of two, in the band.
    across
        Whether boxes are stacked across the cloth, so that only one can lie at each edge of the band.
    gap
        Left between two boxes, mm.

    Attributes
    ----------
    caps
        Rising, mm: most that a box in a stack may take in the other direction.
    least
        (2 ** n, 4, caps): for each set of outlines, the edges that its stack lies at, and each cap, the room of the
        stack and a gap behind each of its boxes, mm.
    """

    def __init__(self, items: Sequence[int], boxes: Sequence[SimpleBox], *, across: bool, gap: float) -> None:
        self._items, self._across, self._gap = items, across, gap
        self._boxes: dict[tuple[int, ...], list[SimpleBox]] = {}
        for box in boxes:
            self._boxes.setdefault(box.items, []).append(box)
        self.caps = np.unique([self._other(box) for box in boxes])
        n = len(items)
        self._ways: dict[tuple[int, ...], Floats] = {(i,): self._table(self._of((i,))) for i in range(n)}
        self._ways |= {(i, j): self._table(self._of((i, j))) for i in range(n) for j in range(i + 1, n)}
        self.least = np.full((2**n, 4, len(self.caps)), np.inf)
        self.least[0, 0] = 0.0
        for some in range(1, 2**n):
            self.least[some] = self._stacked(some)

    def __len__(self) -> int:
        return len(self._items)

    def boxes(self, some: int, edges: int, cap: int) -> list[SimpleBox]:
        """The boxes of a stack that takes least room."""
        found: list[SimpleBox] = []
        while some:
            wanted = self.least[some, edges, cap]
            some, edges, box = min(
                (
                    (rest, before, box)
                    for rest, which in self._first(some)
                    for box in self._of(which)
                    if self._other(box) <= self.caps[cap]
                    for before in self._before(edges, box.edge)
                ),
                key=lambda way: abs(self.least[way[0], way[1], cap] + self._size(way[2]) - wanted),
            )
            found.append(box)
        return found

    def _stacked(self, some: int) -> Floats:
        """Least room of a set of outlines, by edges and cap: the box of the first of them, and the rest."""
        rests, ways = zip(*((rest, self._ways[which]) for rest, which in self._first(some)), strict=True)
        before, way = self.least[list(rests)], np.stack(ways)
        found = np.full(self.least.shape[1:], np.inf)
        for edge in (FREE, LOW, HIGH):
            if np.isfinite(way[:, edge]).any():
                for edges in range(4):
                    for earlier in self._before(edges, edge):
                        found[edges] = np.minimum(found[edges], (before[:, earlier] + way[:, edge]).min(axis=0))
        return found

    def _before(self, edges: int, edge: int) -> tuple[int, ...]:
        """Edges that a stack may have lain at before a box at one of them was added."""
        if edge == FREE:
            return (edges,)
        if not edges & edge:
            return ()
        return (edges ^ edge,) if self._across else (edges ^ edge, edges)

    def _first(self, some: int) -> list[tuple[int, tuple[int, ...]]]:
        """What may be taken out of a set, its first outline alone or with another: what is left, and those taken."""
        lowest = some & -some
        i, rest = lowest.bit_length() - 1, some ^ lowest
        others = [j for j in range(i + 1, len(self._items)) if rest >> j & 1]
        return [(rest, (i,)), *((rest ^ 1 << j, (i, j)) for j in others)]

    def _of(self, which: tuple[int, ...]) -> list[SimpleBox]:
        return self._boxes.get(tuple(sorted(self._items[i] for i in which)), [])

    def _table(self, boxes: Sequence[SimpleBox]) -> Floats:
        """Least room of one of some boxes, by its edge and the cap."""
        table = np.full((3, len(self.caps)), np.inf)
        for box in boxes:
            row = table[box.edge]
            row[self.caps >= self._other(box)] = np.minimum(row[self.caps >= self._other(box)], self._size(box))
        return table

    def _size(self, box: SimpleBox) -> float:
        return (box.height if self._across else box.length) + self._gap

    def _other(self, box: SimpleBox) -> float:
        return box.length if self._across else box.height
