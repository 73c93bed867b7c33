"""The best value of things side by side, in every room up to the width at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

CELLS = 2520
"""Cells across the width, at the most: halves to tenths of the width are whole numbers of them."""


class Thing(NamedTuple):
    """Something that lies in a row: its length in cells, what it is worth, and how often it may lie there."""

    length: int
    value: float
    copies: int


class Fill:
    """The best value for each room, from 0 to so many cells.

    Parameters
    ----------
    cells
        Of the width.
    things
        What may lie there.

    Attributes
    ----------
    best
        (cells + 1,): value for each room.
    work
        Cells looked at.
    """

    def __init__(self, cells: int, things: Iterable[Thing]) -> None:
        self.best: NDArray[np.float64] = np.zeros(cells + 1)
        self.layers: list[tuple[int, int, int, NDArray[np.float64]]] = []
        self.work = 0
        for index, thing in enumerate(things):
            left = min(thing.copies, cells // max(1, thing.length)) if thing.value > 0 else 0
            number = 1
            while left > 0:  # 1, 2, 4 and so on together give every number
                number = min(number, left)
                self._add(index, number, number * thing.length, number * thing.value)
                left, number = left - number, 2 * number

    def _add(self, index: int, number: int, length: int, value: float) -> None:
        before, after = self.best, self.best.copy()
        np.maximum(before[length:], before[: len(before) - length] + value, out=after[length:])
        self.layers.append((index, number, length, before))
        self.best = after
        self.work += len(before)

    def taken(self, room: int) -> dict[int, int]:
        """How many of each thing give the best value of a room."""
        found: dict[int, int] = {}
        after = self.best
        for index, number, length, before in reversed(self.layers):
            if after[room] != before[room]:
                found[index] = found.get(index, 0) + number
                room -= length
            after = before
        return found
