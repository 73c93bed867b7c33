"""Outlines of pieces with something cut out of them, such as rings: the cloth that they really take."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import shapely
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from nesting.problem.transform import Transform
    from pieces import Piece

    Floats = NDArray[np.float64]

SLIT = 0.1
"""Width of the slit from a hole to the outside, mm."""


def pierced(outline: Floats, piece: Piece, transform: Transform, *, as_half: bool) -> BaseGeometry:
    """The cloth that a piece takes, its cutouts left out.

    Parameters
    ----------
    outline
        As it lies, shape (n, 2), mm.
    transform
        What brought the piece as drafted there.
    as_half
        Whether the outline is half of a piece, on the fold of the cloth.
    """
    import shapely

    holes = [np.array(line.points) for line in piece.inner if line.kind == "cutout" and len(line.points) > 2]
    if piece.fold_edge is not None and not as_half:
        fold = float(piece.fold_edge.points[0, 1])
        holes += [hole * (1, -1) + (0, 2 * fold) for hole in holes]
    cut_out = shapely.union_all([shapely.Polygon(transform(hole)).buffer(0) for hole in holes])
    return shapely.Polygon(outline).difference(cut_out)


def slit_open(shape: BaseGeometry) -> Floats:
    """An outline, counter-clockwise, that lies within a shape and has all its holes open to the outside."""
    import shapely

    largest = _largest(shape)
    while largest.interiors:
        hole = largest.interiors[0]
        way = shapely.shortest_line(hole, largest.exterior)
        # A slit begins within the hole, and ends beyond the outline; where the two touch, a nick will do.
        inside, outside = shapely.get_coordinates(way)
        beyond = (outside - inside) * (SLIT / way.length if way.length else 0.0)
        slit = shapely.LineString([inside - beyond, outside + beyond]).buffer(SLIT / 2)
        largest = _largest(largest.difference(slit))
    outline: Floats = np.asarray(shapely.geometry.polygon.orient(largest).exterior.coords)[:-1]
    return outline


def _largest(shape: BaseGeometry) -> shapely.Polygon:
    import shapely

    largest: shapely.Polygon = max(shapely.get_parts(shape), key=lambda part: float(part.area))
    return largest
