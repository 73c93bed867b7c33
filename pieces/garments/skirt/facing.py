"""Facings of a skirt's waist: as the waist is once its darts are sewn."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.garments.parts.interfacing import interfacing_of
from pieces.garments.skirt.waist import Waist
from pieces.piece.curve import Line
from pieces.piece.outline import Edge, move_out
from pieces.piece.pieces import Seam
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.garments.skirt.darted import Quarter
    from pieces.piece.piece import Piece

WIDE = 2.5 * INCH
"""Finished width: common practice, no source."""


def facings(seam: float, shell: Sequence[Piece], drawn: Sequence[Quarter], *, interfaced: bool) -> Waist:
    """The facings of front and back, and their seams.

    Parameters
    ----------
    shell, drawn
        Front and back as pieces, and as they were drawn.
    """
    pieces = [_facing(seam, piece, each) for piece, each in zip(shell, drawn, strict=True)]
    seams = [
        Seam(
            f"{piece.name} waist",
            ((f"{piece.name} facing", "waist"),),
            tuple((piece.name, edge.name) for edge in piece.edges if edge.name.startswith("waist")),
        )
        for piece in shell
    ]
    seams.append(Seam("facing sides", (("front facing", "side"),), (("back facing", "side"),)))
    stiff = [interfacing_of(piece) for piece in pieces] if interfaced else []
    return Waist((*pieces, *stiff), tuple(seams))


def _facing(seam: float, piece: Piece, drawn: Quarter) -> Piece:
    top = Edge("waist", np.ascontiguousarray(drawn.sewn[::-1]), seam)
    low = np.ascontiguousarray(move_out(replace(top, points=top.points.copy()), -WIDE)[::-1])
    low[0, 1] = 0.0  # on the centre line
    centre = Line((0.0, 0.0), (float(low[0, 0]), 0.0)).flatten()
    side = Line((float(low[-1, 0]), float(low[-1, 1])), (float(top.points[0, 0]), float(top.points[0, 1]))).flatten()
    kind, allowance = ("fold", 0.0) if piece.on_fold else ("seam", seam)
    edges = (
        Edge(f"centre {piece.name}", centre, allowance, "fold" if kind == "fold" else "seam"),
        Edge("lower edge", low, 0.0),
        Edge("side", side, seam),
        top,
    )
    y = 0.0 if piece.on_fold else 0.4 * float(low[-1, 1])
    reach = float(low[0, 0])
    return replace(
        piece,
        name=f"{piece.name} facing",
        edges=edges,
        grain=((0.2 * reach, y), (0.8 * reach, y)),
        notches=(),
        drill_points=(),
        inner=(),
    )
