"""Letters that were made outlines: neither pieces, nor the marks that some of their parts look like."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.sketch.outline import FULL

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.exchange.sketch.outline import Outline

TALLEST = 80.0
"""A letter is no larger, either way, mm: common practice, no source."""

MOST_PAIRS = 200_000
"""Of outlines near to one another: more are no writing, but areas over one another."""

IN_A_ROW = 2
"""So many others stand near to a letter at the least."""

CLOSE = 0.6
"""What stands this near to a letter is a part of the writing, in shares of the letter's larger side."""


def lettering(found: Sequence[Outline]) -> set[int]:
    """Outlines of letters (their `id`): filled without a line, several side by side, where others are lines."""
    import shapely

    sides = [np.ptp(outline.ring.points, axis=0) for outline in found]
    if not any(
        not outline.ring.is_unlined and side.max() > TALLEST for outline, side in zip(found, sides, strict=True)
    ):
        return set()
    may_be = [
        (outline, float(side.max()))
        for outline, side in zip(found, sides, strict=True)
        if outline.ring.is_unlined and side.max() <= TALLEST and not outline.ring.called
    ]
    if len(may_be) <= IN_A_ROW:
        return set()
    areas = np.array([outline.area for outline, _ in may_be])
    boxes, reach = shapely.bounds(areas), np.array([[side] for _, side in may_be])
    around = shapely.box(*np.hstack([boxes[:, :2] - reach, boxes[:, 2:] + reach]).T)
    if shapely.STRtree(areas).query(around).shape[1] > MOST_PAIRS:
        return set()
    near = shapely.STRtree(areas).query(areas, predicate="dwithin", distance=[side for _, side in may_be])
    pairs = np.unique(np.hstack([near, near[::-1]]), axis=1)  # as near as the larger of the two is large
    many = np.bincount(pairs[0], minlength=len(may_be)) - 1
    odd = shapely.area(areas) < FULL * shapely.area(shapely.convex_hull(areas))
    is_odd = np.bincount(pairs[0], weights=odd[pairs[1]], minlength=len(may_be)) > 0  # a row of dots is no writing
    is_one, before = (many >= IN_A_ROW) & is_odd, -1
    while (known := int(is_one.sum())) != before:  # and whatever stands near to one, such as a figure after a space
        is_one[pairs[0][is_one[pairs[1]]]] = True
        before = known
    return {id(outline) for (outline, _), here in zip(may_be, is_one, strict=True) if here}


def join_letters(found: Sequence[Outline]) -> None:
    """Make parts of letters that look like marks, such as the dot of an i, what the letters beside them are."""
    import shapely

    signs = [outline for outline in found if outline.part == "sign" and outline.is_small]
    marks = [outline for outline in found if outline.part == "drill point"]
    while signs and marks:
        reach = [CLOSE * float(np.ptp(sign.ring.points, axis=0).max()) for sign in signs]
        tree = shapely.STRtree([mark.area for mark in marks])
        _, at = tree.query([sign.area for sign in signs], predicate="dwithin", distance=reach)
        near = {int(index) for index in at}
        signs = [marks[index] for index in sorted(near)]
        for mark in signs:
            mark.part, mark.why = "sign", "it stands among letters"
        marks = [mark for index, mark in enumerate(marks) if index not in near]
