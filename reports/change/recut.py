"""Pieces cut otherwise: opened out, pieced, halved into two layers."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.divide import divide
from pieces.piece.outline import Edge

if TYPE_CHECKING:
    from pieces import Piece


def opened_out(piece: Piece) -> Piece:
    """A piece that is drawn on a fold as a whole one; any other as it is."""
    if not piece.on_fold:
        return piece
    rim = np.vstack([piece.unfolded, piece.unfolded[:1]])
    label = piece.label if "fold" not in piece.label else ""
    return replace(piece, edges=(Edge("outline", rim, 0.0),), notches=(), drill_points=(), inner=(), label=label)


def in_two(piece: Piece, seam: float, *, lengthways: bool = False) -> tuple[Piece, Piece]:
    """A piece in two parts with a seam amid: across its longer side, or along it.

    Raises
    ------
    PieceError
        If the seam does not run through it once.
    """
    whole = opened_out(piece)
    runs_along_grain = whole.length >= whole.width
    is_across_grain = runs_along_grain != lengthways
    axis = 0 if is_across_grain else 1
    rim = whole.cut_line[:, axis]
    return divide(whole, float(rim.min() + rim.max()) / 2, seam, across=is_across_grain)
