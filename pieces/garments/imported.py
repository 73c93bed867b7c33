"""Pieces that were drafted elsewhere, as a garment: nothing is measured, and hardly anything can be chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.garments.garment import Garment, option

if TYPE_CHECKING:
    from pieces.piece.pieces import PieceSet


@dataclass(frozen=True)
class ImportedStyle:
    """What can be said of pieces as they are."""

    seam: float = option(10.0, "Seam allowance of the joins in rib bands.", example="3/8 in")


def imported(pieces: PieceSet) -> Garment:
    """The garment that these pieces make."""
    return Garment("imported", pieces.garment or "imported pieces", (), ImportedStyle, lambda body, style: pieces)
