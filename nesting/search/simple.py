"""Simple layouts: boxes of outlines, and of pairs that fit together, on shelves or in lanes; what anyone does by hand.

Of few outlines these are the shortest there are, by trying out all sets of them; of more, by first fit.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nesting.search.boxes import SAME, pair_boxes, single_boxes
from nesting.search.first_fit import first_fit_places
from nesting.search.lanes import Lanes
from nesting.search.shelves import Shelves
from nesting.search.stacks import subsets
from nesting.shape.layout import Layout

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.search.boxes import SimpleBox
    from nesting.search.shelves import BoxPlace
    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

    Floats = NDArray[np.float64]

FEW_SHELVED, FEW_IN_LANES = 10, 8
"""With so many outlines all sets of them are tried on shelves, and in lanes."""

MOST_CHOICES = 3
"""With more choices of what others stand in for, only none and all of them are taken."""


def simple_layout(shapes: Shapes, nofit: NoFit) -> Layout | None:
    """The shortest layout of boxes on shelves or in lanes; None where the rules of the cloth allow none."""
    singles = single_boxes(shapes)
    if singles is None:
        return None
    bands = bands_apart(shapes.problem.bands, shapes.problem.gap)
    room = [band.high - band.low + SAME * shapes.problem.width for band in bands]
    singles = {item: [box for box in kind if box.height <= room[box.band]] for item, kind in singles.items()}
    lists = [items for items in _item_lists(shapes) if all(singles[item] for item in items)]
    boxes = [box for kind in singles.values() for box in kind]
    if any(len(items) <= FEW_SHELVED for items in lists):
        boxes += [box for box in pair_boxes(shapes, nofit, singles) if box.height <= room[box.band]]
    found = [
        _layout(shapes, places)
        for items in lists
        for places in _ways(shapes, bands, items, [box for box in boxes if set(box.items) <= set(items)])
    ]
    return min(found, key=lambda layout: layout.length, default=None)


def bands_apart(bands: Sequence[Band], gap: float) -> list[Band]:
    """Bands, narrowed where they lie beside one another: outlines on both sides of that line keep the gap."""
    found = []
    for band in bands:
        below = max((gap - (band.low - other.high) for other in bands if other.high <= band.low), default=0.0)
        above = max((gap - (other.low - band.high) for other in bands if other.low >= band.high), default=0.0)
        low, high = band.low + max(0.0, below) / 2, band.high - max(0.0, above) / 2
        found.append(replace(band, low=low, high=max(low, high)))
    return found


def _item_lists(shapes: Shapes) -> Iterator[list[int]]:
    """The items of all outlines; others stand in for some, all copies of an item alike."""
    choices = [choice for choice in shapes.problem.choices if choice.item in shapes.items]
    count = len(choices)
    each = product((False, True), repeat=count) if count <= MOST_CHOICES else [(False,) * count, (True,) * count]
    for taken in each:
        instead = {choice.item: choice.instead for choice, is_taken in zip(choices, taken, strict=True) if is_taken}
        yield [other for item in shapes.items.tolist() for other in instead.get(item, (item,))]


def _ways(shapes: Shapes, bands: list[Band], items: list[int], boxes: list[SimpleBox]) -> Iterator[list[BoxPlace]]:
    """Places of boxes in each kind of layout that holds all outlines."""
    gap = shapes.problem.gap
    slack = SAME * shapes.problem.width
    if len(items) > FEW_SHELVED:
        yield from first_fit_places(items, boxes, bands, gap, slack)
        return
    of_band = [[box for box in boxes if box.band == band] for band in range(len(bands))]
    shelves = [Shelves(items, some, band, gap, slack) for some, band in zip(of_band, bands, strict=True)]
    whole = 2 ** len(items) - 1
    lengths = [each.least for each in shelves]
    shortest = together(lengths)[-1][whole]
    yield [place for part, each in zip(_parts(lengths), shelves, strict=True) for place in each.places(part)]
    if len(items) > FEW_IN_LANES:
        return
    lanes = [Lanes(items, some, band, gap, slack) for some, band in zip(of_band, bands, strict=True)]
    tries = np.unique(np.concatenate([each.lengths for each in lanes]))
    tries = tries[tries < shortest]
    low, high = 0, len(tries)
    while low < high:
        middle = (low + high) // 2
        is_long_enough = together([each.limit(float(tries[middle])) for each in lanes])[-1][whole] == 0
        low, high = (low, middle) if is_long_enough else (middle + 1, high)
    if low < len(tries):
        parts = _parts([each.limit(float(tries[low])) for each in lanes])
        yield [place for part, each in zip(parts, lanes, strict=True) for place in each.places(part)]


def together(lengths: Sequence[Floats]) -> list[Floats]:
    """Least lengths of all sets of outlines in the first band alone, the first two, and so on: the longest counts."""
    found = [lengths[0]]
    for length in lengths[1:]:
        before, both = found[-1], np.zeros(len(length))
        for some, parts in enumerate(subsets(len(length).bit_length() - 1)):
            if some:
                rest = some ^ parts
                ways = np.maximum(before[parts], length[rest]), np.maximum(length[parts], before[rest])
                both[some] = min(ways[0].min(), ways[1].min())
        found.append(both)
    return found


def _parts(lengths: Sequence[Floats]) -> list[int]:
    """Which outlines lie in which band, so that the longest band is shortest."""
    least = together(lengths)
    some, found = len(lengths[0]) - 1, []
    for k in range(len(lengths) - 1, 0, -1):
        parts = np.append(subsets(len(lengths[0]).bit_length() - 1)[some], 0) if some else np.zeros(1, dtype=np.int64)
        parts = np.concatenate([parts, some ^ parts])
        part = int(parts[np.maximum(lengths[k][parts], least[k - 1][some ^ parts]).argmin()])
        found.append(part)
        some ^= part
    return [some, *found[::-1]]


def _layout(shapes: Shapes, places: Sequence[BoxPlace]) -> Layout:
    laid = [outline for place in places for outline in place.box.laid(place.x, place.y)]
    number, x, y = np.array(sorted(laid, key=lambda outline: shapes.all[outline[0]].item), dtype=np.float64).T
    numbers = number.astype(np.int64)
    low, high = np.array([(shape.low, shape.high) for shape in shapes.all])[numbers].T
    layout = Layout(numbers, x, np.clip(y, low, high), 0.0)
    layout.length = layout.extent(shapes)
    return layout
