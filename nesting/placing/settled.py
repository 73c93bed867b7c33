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
    from collections.abc import Mapping, Sequence

    from nesting.marker.marker import Marker
    from nesting.placing.model import Spot
    from nesting.placing.standing import Standing
    from nesting.problem.problem import Problem

LONGER = 0.05
"""How much longer than the answer a marker may get where its pieces are parted, as a share."""


def settled(
    problem: Problem,
    spots: Sequence[Spot],
    standing: Mapping[tuple[int, int], Standing],
    best: Marker | None,
) -> Marker | None:
    """The marker that pieces come to when they are parted by linear programs, if it is shorter than the best known.

    None where the answer is of another problem than is laid (a looser one, that proofs are made of), or they cannot
    be parted.
    """
    if problem.loosest or problem.stretches or any(v.most_tilt for item in problem.items for v in item.variants):
        return None
    shapes = Shapes(problem)
    order = sorted(spots, key=lambda spot: spot.item)
    numbers = [shapes.number_of(spot.item, spot.way) for spot in order]
    placed = [(number, shapes.all[number].first, shapes.all[number].low) for number in shapes.faults]
    placed += [(number, spot.x, spot.y) for number, spot in zip(numbers, order, strict=True)]
    number, x, y = np.array(placed, dtype=np.float64).T
    layout = Layout(number.astype(np.int64), x, y, 0.0)
    layout.length = layout.extent(shapes)
    limit = min(layout.length * (1 + LONGER), best.length if best else np.inf)
    parting = Compaction(shapes).settle(layout, limit)
    while True:
        try:
            next(parting)
        except StopIteration as end:
            if not end.value:
                return None
            break
    marker = layout.to_marker(shapes)
    try:
        check(marker)
    except CheckError:
        return None
    return marker
