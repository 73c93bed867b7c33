"""From places of outlines that stand for pieces to a marker that can be cut, where there is one near by."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.marker.opinion import check
from nesting.search.compact import Compaction
from nesting.shape.layout import Layout
from nesting.shape.shapes import Shapes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.marker.marker import Marker
    from nesting.placing.model import StandingSpot
    from nesting.problem.problem import Problem

LONGER = 0.05
"""How much longer than the answer a marker may get where its pieces are parted, as a share."""


def settled(shapes: Shapes, spots: Sequence[StandingSpot], best: float = np.inf) -> Layout | None:
    """The layout that outlines come to when they are parted by linear programs; None where they cannot be.

    Parameters
    ----------
    spots
        Where what stands for the pieces lies without overlap.
    best
        A longer layout is of no use, mm.
    """
    if not spots:
        return None
    order = sorted(spots, key=lambda spot: spot.item)
    numbers = [shapes.number_of(spot.item, spot.way) for spot in order]
    placed = [(number, shapes.all[number].first, shapes.all[number].low) for number in shapes.faults]
    placed += [(number, spot.x, spot.y) for number, spot in zip(numbers, order, strict=True)]
    number, x, y = np.array(placed, dtype=np.float64).T
    layout = Layout(number.astype(np.int64), x, y, 0.0)
    layout.length = layout.extent(shapes)
    limit = min(layout.length * (1 + LONGER), best)
    parting = Compaction(shapes).settle(layout, limit)
    while True:
        try:
            next(parting)
        except StopIteration as end:
            return layout if end.value else None


def marker_of(problem: Problem, spots: Sequence[StandingSpot]) -> Marker | None:
    """The marker that pieces come to when they are parted; None where they cannot be, or it does not pass the check."""
    shapes = Shapes(problem)
    layout = settled(shapes, spots)
    if layout is None:
        return None
    marker = layout.to_marker(shapes)
    try:
        check(marker)
    except CheckError:
        return None
    return marker
