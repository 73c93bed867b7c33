"""Pieces that are cut on the fold by their words, where no mirror line is drawn: the edge that it must be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.mend.halves import LEAST_FOLD, fold_along

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.exchange.imported import ImportReport, ReadingChoices
    from pieces.exchange.sketch.sketch import Sketch

    Floats = NDArray[np.float64]

BY_THE_WORDS = 15.0
"""Words that say nothing else and stand this near to an edge mean that edge, mm."""

PARALLEL = 1.0
"""Degrees that an edge may lie off the grain and still lie along it."""


def fold_by_words(sketch: Sketch, asked: ReadingChoices, report: ImportReport) -> None:
    """Find the edge that lies on the fold; where no grain is known it runs along that edge. Both are guessed, and told.

    The edge is straight, and the whole piece lies on one side of it. Of several, it is the one that the words stand
    at, or else the longest along the grain.
    """
    if not sketch.on_fold or sketch.fold is not None or sketch.side:
        return
    edges = _edges(sketch.outline)
    known = sketch.turn is not None or sketch.grain is not None or asked.grain is not None
    if known:
        angle = sketch.angle(asked.angle)
        edges = [edge for edge in edges if _off(edge, angle) <= PARALLEL] or edges
    if not edges:
        said = f"'{sketch.name}' is cut on the fold, as its text says, but has no straight edge for it"
        report.guess(f"{said}: it is taken as drawn whole")
        return
    edge = max(edges, key=_length)
    if sketch.fold_at is not None:
        nearest = min(edges, key=lambda each: _apart(each, np.array(sketch.fold_at)))
        edge = nearest if _apart(nearest, np.array(sketch.fold_at)) <= BY_THE_WORDS else edge
    (x0, y0), (x1, y1) = edge.tolist()
    sketch.fold = (x0, y0), (x1, y1)
    along = ""
    if not known:
        sketch.turn = float(np.degrees(np.arctan2(y1 - y0, x1 - x0))) % 180.0
        along = ", and the grain runs along it"
    report.guess(
        f"'{sketch.name}' is cut on the fold, as its text says: its straight edge of {_length(edge):.0f} mm from"
        f" ({x0:.0f}, {y0:.0f}) to ({x1:.0f}, {y1:.0f}) is used{along}"
    )


def _edges(ring: Floats) -> list[Floats]:
    """Straight edges on one side of which the whole outline lies."""
    import shapely

    hull = shapely.get_coordinates(shapely.convex_hull(shapely.MultiPoint(ring)))
    found = [hull[[i, i + 1]] for i in range(len(hull) - 1)]
    return [edge for edge in found if _length(edge) >= LEAST_FOLD and fold_along(ring, edge) is not None]


def _length(edge: Floats) -> float:
    return float(np.hypot(*(edge[1] - edge[0])))


def _off(edge: Floats, angle: float) -> float:
    """Degrees between an edge and the grain."""
    x, y = edge[1] - edge[0]
    off = abs(float(np.degrees(np.arctan2(y, x))) - angle) % 180.0
    return min(off, 180.0 - off)


def _apart(edge: Floats, place: Floats) -> float:
    import shapely

    return float(shapely.distance(shapely.LineString(edge), shapely.Point(place)))
