"""Pattern pieces drafted from body measurements; knows nothing of fabric."""

from __future__ import annotations

from pieces.body.body import Body
from pieces.errors import PieceError
from pieces.garments import GARMENTS, Garment
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import Units, format_cloth, format_size, parse_length

__all__ = [
    "GARMENTS",
    "Body",
    "Edge",
    "Garment",
    "Notch",
    "Piece",
    "PieceError",
    "PieceSet",
    "Seam",
    "Units",
    "format_cloth",
    "format_size",
    "parse_length",
]
