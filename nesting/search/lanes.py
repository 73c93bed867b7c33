"""Lanes along the cloth: boxes of outlines one behind another, the lanes beside one another."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.search.boxes import FREE, HIGH, LOW
from nesting.search.shelves import BoxPlace
from nesting.search.stacks import BOTH, Stacks, subsets

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.search.boxes import SimpleBox

    Floats = NDArray[np.float64]


class Lanes:
    """Lanes in one band for each set of a few outlines, none longer than a limit.

    Attributes
    ----------
    lengths
        Lengths that a lane may have, with a gap behind its last box, rising, mm.
    """

    def __init__(self, items: Sequence[int], boxes: Sequence[SimpleBox], band: Band, gap: float, slack: float) -> None:
        self._band, self._gap = band, gap
        self._most = band.high - band.low + gap + slack
        self._stacks = Stacks(items, boxes, across=False, gap=gap)
        self._edges = sorted({FREE, *(box.edge for box in boxes)})
        least = self._stacks.least[:, self._edges]
        self.lengths = np.unique(least[np.isfinite(least)])
        self._lane = self._height = np.zeros((0, 0))

    def limit(self, length: float) -> Floats:
        """For each set of outlines 0 if it goes into lanes of at most some length, gap and all, else infinity."""
        fits = self._stacks.least <= length
        caps = np.append(self._stacks.caps, np.inf)
        first = fits.argmax(axis=2) if len(caps) > 1 else 0
        self._cap = np.where(fits.any(axis=2), first, len(caps) - 1)
        self._lane = caps[self._cap] + self._gap
        count = len(self._lane)
        self._height = np.full((count, 4), np.inf)
        self._height[0, 0] = 0.0
        for some, parts in enumerate(subsets(len(self._stacks))):
            if some:
                for before, edge in self._ways():
                    heights = self._lane[parts, edge] + self._height[some ^ parts, before]
                    both = before | edge
                    self._height[some, both] = min(self._height[some, both], heights.min())
        return np.where((self._height <= self._most).any(axis=1), 0.0, np.inf)

    def places(self, some: int) -> Iterator[BoxPlace]:
        """The boxes of the lanes of a set that goes into them."""
        y, edges = self._band.low, int((self._height[some] <= self._most).argmax())
        lanes: list[tuple[int, int]] = []
        while some:
            parts = subsets(len(self._stacks))[some]
            ways = [(before, edge) for before, edge in self._ways() if before | edge == edges]
            heights = [self._lane[parts, edge] + self._height[some ^ parts, before] for before, edge in ways]
            way = int(np.argmin([each.min() for each in heights]))
            part = int(parts[heights[way].argmin()])
            lanes.append((part, ways[way][1]))
            some, edges = some ^ part, ways[way][0]
        for part, edge in sorted(lanes, key=lambda lane: lane[1] != LOW):
            x, boxes = 0.0, self._stacks.boxes(part, edge, int(self._cap[part, edge]))
            for box in boxes:
                yield BoxPlace(box, x, self._band.high - box.height if edge == HIGH else y)
                x += box.length + self._gap
            y += 0.0 if edge == HIGH else float(self._lane[part, edge])

    def _ways(self) -> Iterator[tuple[int, int]]:
        """Edges of the lanes before, and of one lane more: each edge has one lane at most."""
        for before in range(BOTH + 1):
            for edge in self._edges:
                if not before & edge and not before & ~sum(self._edges):
                    yield before, edge
