"""Pattern pieces drafted from body measurements; knows nothing of fabric.

These ten names are for daily use; every other public name is imported from its module.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.face import shown as _shown

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.errors import PieceError
    from pieces.garments import GARMENTS
    from pieces.length import Length, cm, inches, mm
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet
    from pieces.units import Units

__all__ = ["GARMENTS", "Body", "Length", "Piece", "PieceError", "PieceSet", "Units", "cm", "inches", "mm"]

__getattr__, __dir__ = _shown(
    __name__,
    {
        "GARMENTS": "garments",
        "Body": "body.body",
        "Length": "length",
        "Piece": "piece.piece",
        "PieceError": "errors",
        "PieceSet": "piece.pieces",
        "Units": "units",
        "cm": "length",
        "inches": "length",
        "mm": "length",
    },
)
