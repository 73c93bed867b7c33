"""A piece cut in two, along its grain or across it, with a seam between."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import PieceError
from pieces.piece.outline import Edge

if TYPE_CHECKING:
    import shapely

    from pieces.piece.piece import Piece

FAR = 1e5
"""Beyond all pieces, mm."""


def divide(piece: Piece, at: float, seam: float, *, across: bool = False) -> tuple[Piece, Piece]:
    """Two pieces out of one, such as the upper and the under sleeve of a sleeve cut along its middle.

    Each gets a seam allowance along the cut. Their edges are the cut line, without allowances of their own, since it is
    the cloth they take that is asked for.

    Parameters
    ----------
    at
        Where across the piece the seam runs, mm; where along it, if it runs across the grain.
    seam
        Its allowance on each side, mm.
    across
        Whether the seam runs across the grain.

    Raises
    ------
    PieceError
        If the piece is on a fold, or the seam does not run through it once.
    """
    import shapely

    if piece.on_fold:
        raise PieceError(f"'{piece.name}' is on the fold: open it out before dividing it")
    whole, parts = shapely.Polygon(piece.cut_line), []
    for name, low, high in (("lower", -FAR, at), ("upper", at, FAR)):
        half = whole.intersection(_strip(low, high, across))
        if half.geom_type != "Polygon" or half.area < 1.0:
            raise PieceError(f"a seam at {at:.0f} mm does not cross '{piece.name}' exactly once")
        strip = _strip(at - seam, at, across) if low == at else _strip(at, at + seam, across)
        grown = half.union(whole.intersection(strip))
        assert isinstance(grown, shapely.Polygon)
        rim = np.asarray(shapely.geometry.polygon.orient(grown).exterior.coords)
        edge = Edge("outline", np.ascontiguousarray(rim), 0.0)
        parts.append(
            replace(
                piece,
                name=f"{piece.name}, {name} part",
                edges=(edge,),
                notches=(),
                drill_points=(),
                match=None,
                inner=(),
            )
        )
    return parts[0], parts[1]


def _strip(low: float, high: float, across: bool) -> shapely.Polygon:
    """All that lies between two heights across the piece, or between two places along it."""
    import shapely

    return shapely.box(low, -FAR, high, FAR) if across else shapely.box(-FAR, low, FAR, high)
