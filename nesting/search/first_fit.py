"""Shelves for many outlines: each on the first shelf that has room for it, in several orders."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.search.boxes import FREE
from nesting.search.shelves import BoxPlace, across

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nesting.cloth.band import Band
    from nesting.search.boxes import SimpleBox

KEYS: tuple[Callable[[SimpleBox], float], ...] = (
    lambda box: box.length,
    lambda box: box.length * box.height,
    lambda box: box.height,
)
"""By what boxes are laid, the largest first."""

WAYS: tuple[Callable[[SimpleBox], tuple[float, float]], ...] = (
    lambda box: (box.height, box.length),
    lambda box: (box.length, box.height),
)
"""Which of the boxes of an outline is laid: the lowest, or the shortest."""


class _Shelf:
    """A shelf that is being filled."""

    def __init__(self, band: int, room: float, gap: float) -> None:
        self.boxes: list[SimpleBox] = []
        self.band, self.length = band, 0.0
        self._room, self._gap, self._edges = room + gap, gap, 0

    def takes(self, box: SimpleBox) -> bool:
        """Whether there is room for one more, which then lies on it."""
        if box.band != self.band or self._room < box.height + self._gap or self._edges & box.edge:
            return False
        self.boxes.append(box)
        self.length = max(self.length, box.length)
        self._room, self._edges = self._room - box.height - self._gap, self._edges | box.edge
        return True


def first_fit_places(
    items: Sequence[int], boxes: Sequence[SimpleBox], bands: Sequence[Band], gap: float, slack: float
) -> Iterator[list[BoxPlace]]:
    """Places of the boxes of all outlines, one list for each order and way to lie."""
    alone: dict[int, list[SimpleBox]] = {}
    for box in boxes:
        if len(box.items) == 1:
            alone.setdefault(box.items[0], []).append(box)
    for way in WAYS:
        for key in KEYS:
            order = sorted(items, key=lambda item: -key(min(alone[item], key=way)))
            # What can only lie at an edge comes first: there is one place for it on a shelf.
            order.sort(key=lambda item: any(box.edge == FREE for box in alone[item]))
            shelves: list[_Shelf] = []
            for item in order:
                _lay(sorted(alone[item], key=way), shelves, bands, gap, slack)
            yield list(_places(shelves, bands, gap))


def _lay(boxes: Sequence[SimpleBox], shelves: list[_Shelf], bands: Sequence[Band], gap: float, slack: float) -> None:
    """Lay one outline on the first shelf that takes it, or on a new one in the band that is shortest then."""
    if any(shelf.takes(box) for shelf in shelves for box in boxes if box.length <= shelf.length + slack):
        return
    ends = [sum(shelf.length + gap for shelf in shelves if shelf.band == band) for band in range(len(bands))]
    box = min(boxes, key=lambda box: ends[box.band] + box.length)
    shelves.append(_Shelf(box.band, bands[box.band].high - bands[box.band].low + slack, gap))
    shelves[-1].takes(box)


def _places(shelves: Sequence[_Shelf], bands: Sequence[Band], gap: float) -> Iterator[BoxPlace]:
    ends = [0.0] * len(bands)
    for shelf in shelves:
        yield from across(shelf.boxes, bands[shelf.band], gap, ends[shelf.band])
        ends[shelf.band] += shelf.length + gap
