"""Outlines that stand for pieces in a proof: pared, grown by half the gap, with the places that they may take."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from nesting.problem.tilt import over_all_tilts
from nesting.tolerance import ALLOWED, pare

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem

    Points = NDArray[np.float64]

ROUND = 16
"""Sides of a quarter of a circle, where outlines are grown: its corners lie on the circle, so that it holds them."""


@dataclass(frozen=True, eq=False)
class Standing:
    """An outline that stands for a piece in one way to lie, or for a zone where nothing may.

    Its place is the lower left corner of the pared outline's box. What is known of it in a marker of length L holds
    from 0 to L and a tolerance more.

    Parameters
    ----------
    outline, grown
        Shape (n, 2), mm, the box of `outline` beginning at (0, 0); `grown` keeps it apart by the gap.
    length, height
        Of the pared outline's box, mm.
    low, high
        Least and greatest place across, mm.
    match
        Point that must lie on the lines of the cloth's pattern, mm; None lies anywhere.
    """

    outline: Points
    grown: Points
    length: float
    height: float
    low: float
    high: float
    match: tuple[float, float] | None = None


def standing_for(problem: Problem) -> dict[tuple[int, int], Standing]:
    """What stands for each way of each item of a problem, by the numbers of the item and of the way."""
    tilted = over_all_tilts(problem)
    return {
        (k, v): _standing(variant, problem.gap)
        for k, item in enumerate(tilted.items)
        for v, variant in enumerate(item.variants)
    }


def _standing(variant: Variant, gap: float) -> Standing:
    outline = pare(variant.outline, ALLOWED / 2)
    x, y = outline.min(axis=0).tolist()
    outline = np.ascontiguousarray(outline - (x, y))
    length, height = outline.max(axis=0).tolist()
    match = variant.match and (variant.match[0] - x, variant.match[1] - y)
    low, high = variant.low - ALLOWED + y, variant.high + ALLOWED + y
    return Standing(outline, _grown(outline, gap / 2), length, height, low, high, match)


def zone_standing(outline: Points) -> tuple[Standing, float, float] | None:
    """A zone, shape (n, 2), mm, where nothing may lie, pared like a piece, and its place; None where it is thin."""
    left = shapely.Polygon(outline).buffer(-ALLOWED / 2, join_style="mitre")
    if left.is_empty or left.geom_type != "Polygon":
        return None
    corners = np.asarray(shapely.geometry.polygon.orient(left).exterior.coords)[:-1]
    x, y = corners.min(axis=0).tolist()
    corners = corners - (x, y)
    length, height = corners.max(axis=0).tolist()
    return Standing(corners, corners, length, height, y, y), x + ALLOWED / 2, y


def _grown(outline: Points, by: float) -> Points:
    """An outline grown all round by no more than a distance; as it is where that would close a gap in it."""
    if not by:
        return outline
    grown = shapely.Polygon(outline).buffer(by, quad_segs=ROUND)
    if grown.geom_type != "Polygon" or grown.interiors:
        return outline
    return np.asarray(shapely.geometry.polygon.orient(grown).exterior.coords)[:-1].copy()


def overlapping(laid: Sequence[tuple[Standing, float, float]], by: float) -> list[tuple[int, int]]:
    """Which two of some outlines in place overlap by more than a distance, mm."""
    shapes = [shapely.Polygon(one.grown + (x, y)).buffer(-by / 2) for one, x, y in laid]
    tree = shapely.STRtree(shapes)
    pairs = tree.query(shapes, predicate="intersects").T.tolist()
    return [(i, j) for i, j in pairs if i < j]
