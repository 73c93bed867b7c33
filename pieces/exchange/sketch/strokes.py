"""Marks drawn by several lines, such as a T: lines that touch are one mark, cut where they meet the outline."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

EVEN = 0.5
"""Ends of a notch that lie as far from the outline, but for so much, mm, are both on it: it is cut between them."""

LARGEST = 30.0
"""Lines of one mark measure no more together, either way, mm: common practice, no source."""

MOST_PAIRS, AT_ONCE = 100_000, 50

USUAL = 3
"""A T has two lines, a box three."""


def touching(shapes: Sequence[Sequence[Floats]], names: Sequence[str], within: float) -> list[list[int]]:
    """Which shapes are one mark together: those that touch, are small, and have no two names.

    Parameters
    ----------
    shapes
        The lines of each.
    names
        What each is called.
    within
        How near lines are that touch, mm.
    """
    import shapely

    if not shapes:
        return []
    drawn = np.array([shapely.MultiLineString([line for line in lines if len(line) > 1]) for lines in shapes])
    boxes = shapely.bounds(drawn)
    of = list(range(len(shapes)))
    members = {at: [at] for at in of}
    for one, other in _pairs(drawn, within):
        first, second = of[one], of[other]
        if first == second:
            continue
        those = members[first] + members[second]
        extent = float((boxes[those, 2:].max(axis=0) - boxes[those, :2].min(axis=0)).max())
        if extent <= LARGEST and len({names[at] for at in those} - {""}) < 2:
            members[first] = those
            for at in members.pop(second):
                of[at] = first
    return [sorted(those) for those in members.values()]


def _pairs(drawn: Any, within: float) -> list[tuple[int, int]]:
    """Shapes that touch, two by two; none where these are too many: such lines are no marks."""
    import shapely

    tree = shapely.STRtree(drawn)
    found: list[tuple[int, int]] = []
    for start in range(0, len(drawn), AT_ONCE):
        some = tree.query(drawn[start : start + AT_ONCE], predicate="dwithin", distance=within)
        if len(found) + some.shape[1] > MOST_PAIRS:
            return []
        found += [(one + start, other) for one, other in some.T.tolist() if one + start < other]
    return found


def cut_at(outline: Floats, lines: Sequence[Floats]) -> Point:
    """Where a notch meets an outline: at the end of its lines that is nearest, or midway between those as near."""
    import shapely

    ends = np.vstack([line[[0, -1]] for line in lines])
    if len(outline) < 3:  # of a block without one: no piece is made of it
        return float(ends[0, 0]), float(ends[0, 1])
    ring = shapely.LinearRing(outline)
    apart = shapely.distance(shapely.points(ends), ring)
    near = ends[apart <= apart.min() + EVEN]
    x, y = ((near.min(axis=0) + near.max(axis=0)) / 2).tolist()
    return x, y
