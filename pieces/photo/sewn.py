"""Drawn lines that follow the edge of the paper at an even distance, as sew lines do; put together round it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.photo.lines import even, joint, split

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.strokes import Stroke

    Floats = NDArray[np.float64]

LEAST_ALLOWANCE, MOST_ALLOWANCE = 3.0, 45.0
"""A line that runs this far within the edge, mm, at an even distance, may be where it is sewn."""

ALONG = 8
"""From point to point so many on, of which each is 3 mm on, the distance is compared: it changes from side to side."""

SHORT = 60.0
"""A shorter line must follow the edge in all of its length, mm."""


def follows(stroke: Stroke, edge: Any) -> bool:
    """Whether a line follows an edge (a shapely ring): at one distance, or at one for each side."""
    import shapely

    points = even(stroke.points, 3.0, is_ring=stroke.is_ring)
    away = np.asarray(shapely.distance(shapely.points(points), edge))
    middle = float(np.median(away))
    if not LEAST_ALLOWANCE <= middle <= MOST_ALLOWANCE:
        return False
    if stroke.length < SHORT:
        return bool(np.ptp(away) < max(1.2, 0.1 * middle))
    steps = np.abs(away[ALONG:] - away[:-ALONG])
    return bool((steps < max(0.8, 0.06 * middle)).mean() > 0.75)


def trimmed(stroke: Stroke, edge: Any) -> Stroke:
    """A line without what leaves its way at its ends: where it met a crease, it may have gone on in that."""
    if stroke.is_ring:
        return stroke
    parts = split(stroke.points)
    while len(parts) > 1 and not follows(replace(stroke, points=parts[0]), edge):
        parts = parts[1:]
    while len(parts) > 1 and not follows(replace(stroke, points=parts[-1]), edge):
        parts = parts[:-1]
    return replace(stroke, points=np.vstack(parts))


def in_order(strokes: Sequence[Stroke], edge: Any) -> list[tuple[Floats, bool]]:
    """Parts of a line round an edge put together where the gap is short and plain, and which of them are closed."""
    import shapely

    rings = [(stroke.points, True) for stroke in strokes if stroke.is_ring]
    parts = []
    for stroke in strokes:
        if stroke.is_ring:
            continue
        at = [float(edge.project(shapely.Point(*point))) for point in even(stroke.points, 5.0)]
        steps = (np.diff(at) + edge.length / 2) % edge.length - edge.length / 2
        is_forward = float(np.sum(steps)) >= 0
        parts.append((at[0] if is_forward else at[-1], stroke.points if is_forward else stroke.points[::-1]))
    parts.sort(key=lambda part: part[0])
    chains: list[Floats] = []
    for _, points in parts:
        if chains and (met := joint(chains[-1], points)) is not None:
            chains[-1] = np.vstack([chains[-1], met, points])
        else:
            chains.append(points)
    if len(chains) > 1 and (met := joint(chains[-1], chains[0])) is not None:
        chains[0] = np.vstack([chains.pop(), met, chains[0]])
    if len(chains) == 1 and (met := joint(chains[0], chains[0])) is not None:
        return [*rings, (np.vstack([chains[0], met]), True)]
    return [*rings, *((chain, False) for chain in chains)]
