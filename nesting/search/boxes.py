"""Boxes of one outline, or of two that fit together: what simple layouts are made of."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import TYPE_CHECKING, Literal

import numpy as np

from nesting.search.fill import crossings

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

    Floats = NDArray[np.float64]

BoxEdge = Literal[0, 1, 2]
"""The edge of its band that a box lies at."""

FREE: BoxEdge = 0
LOW: BoxEdge = 1
HIGH: BoxEdge = 2

MOST_SHAPES = 48
"""With more shapes no pairs are made: their no-fit polygons would take longer than they are worth here."""

KEPT = 6
"""Boxes that are kept of two items in a band, at each edge: the longer, the lower."""

SAME = 1e-9
"""Lengths this close, as a share of the cloth's width, are one."""


@dataclass(frozen=True)
class SimpleBox:
    """The box round one outline, or two, in one band.

    Parameters
    ----------
    items
        Of its outlines.
    numbers
        Of their shapes.
    places
        Where each lies in the box: x and y, mm.
    length, height
        Of the box, mm.
    band
        Index of the band.
    edge
        The edge of the band that it must lie at.
    """

    items: tuple[int, ...]
    numbers: tuple[int, ...]
    places: tuple[tuple[float, float], ...]
    length: float
    height: float
    band: int
    edge: BoxEdge

    def laid(self, x: float, y: float) -> Iterator[tuple[int, float, float]]:
        """Shape, x and y of its outlines, with the box's lower left corner at a place."""
        for number, (dx, dy) in zip(self.numbers, self.places, strict=True):
            yield number, x + dx, y + dy


def single_boxes(shapes: Shapes) -> dict[int, list[SimpleBox]] | None:
    """For each item that may have to be laid, the boxes of its ways to lie; None where some cannot lie in a box.

    That is so on a pattern, beside faults, and where an outline is kept at a height that is no edge of its band.
    """
    problem = shapes.problem
    if problem.faults or any(any(shape.steps) for shape in shapes.all):
        return None
    boxes: dict[int, list[SimpleBox]] = {}
    for item, numbers in enumerate(shapes.of_item):
        boxes[item] = [box for number in numbers if (box := _single(shapes, item, number))]
        if not boxes[item] and item in shapes.items:
            return None
    return boxes


def _single(shapes: Shapes, item: int, number: int) -> SimpleBox | None:
    shape = shapes.all[number]
    variant = shapes.problem.items[item].variants[shape.variant]
    band, slack = shapes.problem.bands[variant.band], SAME * shapes.problem.width
    height = variant.height
    at_low, at_high = shape.low <= band.low + slack, shape.high >= band.high - height - slack
    if not (at_low or at_high):
        return None
    if not (at_low and at_high) and shape.high - shape.low > slack:
        return None
    edge: BoxEdge = FREE if at_low and at_high else LOW if at_low else HIGH
    return SimpleBox((item,), (number,), ((0.0, 0.0),), shape.length, height, variant.band, edge)


def pair_boxes(shapes: Shapes, nofit: NoFit, singles: dict[int, list[SimpleBox]]) -> list[SimpleBox]:
    """For each two items, boxes of two outlines put together as closely as they go; the lesser item first."""
    found: list[SimpleBox] = []
    if len(shapes.all) > MOST_SHAPES:
        return found
    for one, other in combinations_with_replacement(sorted(singles), 2):
        boxes = [
            box for a in singles[one] for b in singles[other] if a.band == b.band for box in _pairs(shapes, nofit, a, b)
        ]
        found += _worth_keeping(boxes)
    return found


def _pairs(shapes: Shapes, nofit: NoFit, a: SimpleBox, b: SimpleBox) -> list[SimpleBox]:
    """Boxes of two outlines that touch: at corners of their no-fit polygon, and with their edges in a line."""
    if {a.edge, b.edge} == {LOW, HIGH}:
        return []
    band, slack = shapes.problem.bands[a.band], SAME * shapes.problem.width
    offsets = _touching(shapes, nofit, a, b)
    low, high = np.minimum(offsets, 0.0), np.maximum(offsets + (b.length, b.height), (a.length, a.height))
    size = high - low
    fits = size[:, 1] <= band.high - band.low + slack
    edge = a.edge or b.edge
    for box, starts in ((a, np.zeros(2)), (b, offsets)):
        if box.edge == LOW:
            fits &= np.abs(np.broadcast_to(starts, low.shape)[:, 1] - low[:, 1]) <= slack
        if box.edge == HIGH:
            fits &= np.abs(np.broadcast_to(starts, low.shape)[:, 1] + box.height - high[:, 1]) <= slack
    numbers = a.numbers + b.numbers
    return [
        SimpleBox(
            a.items + b.items,
            numbers,
            ((-low[k, 0], -low[k, 1]), (offsets[k, 0] - low[k, 0], offsets[k, 1] - low[k, 1])),
            float(size[k, 0]),
            float(size[k, 1]),
            a.band,
            edge,
        )
        for k in _front(size, fits)
    ]


def _touching(shapes: Shapes, nofit: NoFit, a: SimpleBox, b: SimpleBox) -> Floats:
    """Offsets of b from a at which they touch, (n, 2), mm."""
    paths, grid = nofit.paths(a.numbers[0], b.numbers[0]), shapes.grid
    found = list(np.concatenate(paths).tolist())
    for y in {0, *grid.to_steps([a.height - b.height]).tolist()}:
        found += [(x, y) for ends in crossings(paths, 0, 0, y) for x in (np.floor(ends[0]), np.ceil(ends[1]))]
    turned = [path[:, ::-1] for path in paths]
    for x in {0, *grid.to_steps([a.length - b.length]).tolist()}:
        found += [(x, y) for ends in crossings(turned, 0, 0, x) for y in (np.floor(ends[0]), np.ceil(ends[1]))]
    return grid.to_mm(np.array(found, dtype=np.float64))


def _front(size: Floats, fits: NDArray[np.bool_]) -> list[int]:
    """Those that fit of which none other is both shorter and lower."""
    order = [int(k) for k in np.lexsort((size[:, 1], size[:, 0])) if fits[k]]
    kept: list[int] = []
    for k in order:
        if not kept or size[k, 1] < size[kept[-1], 1]:
            kept.append(k)
    return kept


def _worth_keeping(boxes: Sequence[SimpleBox]) -> list[SimpleBox]:
    """For each band and edge, boxes of which none other is both shorter and lower; of many the smallest."""
    kept = []
    for band, edge in sorted({(box.band, box.edge) for box in boxes}):
        some = [box for box in boxes if (box.band, box.edge) == (band, edge)]
        size = np.array([(box.length, box.height) for box in some])
        front = [some[k] for k in _front(size, np.ones(len(some), dtype=np.bool_))]
        kept += sorted(front, key=lambda box: box.length * box.height)[:KEPT]
    return kept
