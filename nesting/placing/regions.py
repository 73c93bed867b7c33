"""Where one outline may lie, seen from another: convex regions that hold every place outside the no-fit polygon.

The no-fit polygon is drawn too small, by more than all rounding, and simplified inwards. Outside of it there is a
half-plane for each side of its hull, and convex parts of the pockets between the hull and the polygon. They may hold
places at which the two overlap a little. They hold all at which the two do not.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from nesting.placing.inner import inner
from nesting.problem.outline import convex_parts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

    Points = NDArray[np.float64]
    Row = tuple[int, int, int]

NORMAL = 1000
"""Whole numbers that a direction is written in."""

SAFE = 0.2
"""By how much no-fit polygons are drawn too small, in units."""

FLAT = 1e-9
"""Share of an area, or of a unit, that is nothing but rounding."""

THIN = 1e-2
"""Units: a pocket that is thinner is a line."""


class Box(NamedTuple):
    """Offsets that may be at all: least along and across, and most, mm."""

    left: float
    low: float
    right: float
    high: float


class FreeRegion(NamedTuple):
    """A convex region of offsets: half-planes ``a x + b y >= c``, in whole units."""

    rows: tuple[Row, ...]


def regions(fixed: Points, moved: Points, box: Box, unit: float, depth: float) -> tuple[FreeRegion, ...] | None:
    """Convex regions that hold all offsets in a box at which two outlines do not overlap.

    They are for places rounded to whole units: either may be half a unit off, so that the offset may be a whole one.

    Parameters
    ----------
    fixed, moved
        Shape (n, 2), mm, counter-clockwise. The offset is the place of `moved` less that of `fixed`.
    unit
        mm.
    depth
        How deep the no-fit polygon may be cut where it is simplified, mm.

    Returns
    -------
    tuple of FreeRegion or None
        None where the two never overlap in the box. Without a region they always do.
    """
    whole = shapely.box(*box)
    taken = _no_fit(fixed, moved, SAFE * unit)
    if not taken.area or not taken.intersects(whole):
        return None
    taken = shapely.union_all([_simpler(part, depth, SAFE * unit / 2) for part in shapely.get_parts(taken)])
    hull = orient(shapely.Polygon(shapely.get_coordinates(shapely.convex_hull(taken))))
    corners = np.asarray(hull.exterior.coords)
    far = 4 * (np.abs(corners).max() + np.abs(np.array(box)).max() + unit)
    found = []
    for p, q in pairwise(corners):
        along = (q - p) / np.hypot(*(q - p)) * far
        out = np.array([along[1], -along[0]])
        beyond = shapely.Polygon([p - along, p - along + out, q + along + out, q + along]).intersection(whole)
        if beyond.area:
            found.append(FreeRegion((_row(shapely.get_coordinates(beyond), out, unit),)))
    found += [
        FreeRegion(tuple(_rows(pocket, hull, unit)))
        for pocket in _convex_pieces(hull.difference(taken))
        if shapely.Polygon(pocket).intersects(whole)
    ]
    return tuple(found)


def _no_fit(fixed: Points, moved: Points, safe: float) -> BaseGeometry:
    """Offsets at which two outlines overlap, a little too few."""
    moved = -moved
    sums = [
        shapely.convex_hull(shapely.MultiPoint((one[:, None] + other[None]).reshape(-1, 2)))
        for one in (fixed[part] for part in convex_parts(fixed))
        for other in (moved[part] for part in convex_parts(moved))
    ]
    return shapely.union_all(sums).buffer(-safe, join_style="mitre", mitre_limit=5.0)


def _simpler(part: Polygon, depth: float, safe: float) -> BaseGeometry:
    """A polygon with a border of few corners that lies within another; holes are kept as they are."""
    rim = np.asarray(orient(shapely.Polygon(part.exterior)).exterior.coords)[:-1]
    drawn = shapely.Polygon(inner(rim, depth))
    if not drawn.is_valid or not shapely.Polygon(part.exterior).buffer(safe).covers(drawn):
        drawn = shapely.Polygon(part.exterior)
    holes = [shapely.Polygon(hole) for hole in part.interiors]
    return drawn.difference(shapely.union_all(holes)) if holes else drawn


def _convex_pieces(shape: BaseGeometry) -> Iterator[Points]:
    """Convex parts of a region; together they hold all of it."""
    for part in shapely.get_parts(shape):
        if part.geom_type != "Polygon" or not part.area:
            continue
        rim = np.asarray(orient(part).exterior.coords)[:-1]
        cut = [] if part.interiors else [rim[numbers] for numbers in convex_parts(rim)]
        if sum(shapely.Polygon(one).area for one in cut) < part.area * (1 - FLAT):
            triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(part))
            cut = [np.asarray(orient(one).exterior.coords)[:-1] for one in triangles]
        yield from cut


def _rows(pocket: Points, hull: Polygon, unit: float) -> Iterator[Row]:
    """Half-planes of a pocket's sides, but for those on the hull: beyond its mouth there is nothing in the way.

    A pocket as thin as rounding keeps all: which of its sides is the mouth is not to be told.
    """
    after = np.roll(pocket, -1, axis=0)
    longest = float(np.hypot(*(after - pocket).T).max())
    is_thin = shapely.Polygon(pocket).area < unit * THIN * longest
    for p, side in zip(pocket, after - pocket, strict=True):
        if np.hypot(*side) < unit * FLAT:
            continue
        is_mouth = hull.exterior.distance(shapely.Point(p + side / 2)) < unit * THIN / 10
        if is_thin or not is_mouth:
            yield _row(pocket, np.array([-side[1], side[0]]), unit)


def _row(corners: Points, inwards: Points, unit: float) -> Row:
    """The half-plane across a direction that just holds some corners, with room for rounding."""
    a, b = np.rint(inwards / np.hypot(*inwards) * NORMAL).astype(int).tolist()
    least = float((corners @ np.array([a, b])).min()) / unit
    return a, b, int(np.floor(least)) - abs(a) - abs(b) - 1
