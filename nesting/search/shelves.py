"""Shelves across the cloth: boxes of outlines side by side, all of a shelf begun at the same place along."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.search.boxes import HIGH, LOW, SimpleBox
from nesting.search.stacks import Stacks, subsets

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.cloth.band import Band

    Floats = NDArray[np.float64]


class BoxPlace(NamedTuple):
    """A box, and where its lower left corner lies, mm."""

    box: SimpleBox
    x: float
    y: float


class Shelves:
    """The shortest shelves in one band for each set of a few outlines.

    Attributes
    ----------
    least
        (2 ** n,): length of the shelves of each set, and a gap behind each shelf, mm.
    """

    def __init__(self, items: Sequence[int], boxes: Sequence[SimpleBox], band: Band, gap: float, slack: float) -> None:
        self._band, self._gap = band, gap
        self._stacks = Stacks(items, boxes, across=True, gap=gap)
        self._fits = self._stacks.least <= band.high - band.low + gap + slack
        ends: NDArray[np.bool_] = np.any(self._fits, axis=1)
        caps = np.append(self._stacks.caps, np.inf)
        self._cap = np.where(np.any(ends, axis=1), np.argmax(ends, axis=1) if len(caps) > 1 else 0, len(caps) - 1)
        self._shelf = caps[self._cap] + gap
        self.least = np.full(2 ** len(items), np.inf)
        self.least[0] = 0.0
        for some, parts in enumerate(subsets(len(items))):
            if some:
                self.least[some] = (self._shelf[parts] + self.least[some ^ parts]).min()

    def places(self, some: int) -> Iterator[BoxPlace]:
        """The boxes of the shortest shelves of a set."""
        x = 0.0
        while some:
            parts = subsets(len(self._stacks))[some]
            part = int(parts[(self._shelf[parts] + self.least[some ^ parts]).argmin()])
            cap = int(self._cap[part])
            edges = int(self._fits[part, :, cap].argmax())
            yield from across(self._stacks.boxes(part, edges, cap), self._band, self._gap, x)
            x, some = x + float(self._shelf[part]), some ^ part


def across(boxes: Sequence[SimpleBox], band: Band, gap: float, x: float) -> Iterator[BoxPlace]:
    """The boxes of a shelf, from the band's lower edge on; what lies at the upper edge lies there."""
    y = band.low
    for box in sorted(boxes, key=lambda box: box.edge != LOW):
        if box.edge == HIGH:
            yield BoxPlace(box, x, band.high - box.height)
        else:
            yield BoxPlace(box, x, y)
            y += box.height + gap
