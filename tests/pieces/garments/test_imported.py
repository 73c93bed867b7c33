"""Pieces from elsewhere as a garment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.imported import ImportedStyle, imported

if TYPE_CHECKING:
    from pieces import Body, PieceSet


def test_it_needs_no_measurement_and_gives_the_pieces_back(jacket: PieceSet, body: Body) -> None:
    """Whoever wears it, the pieces are those that were read."""
    garment = imported(jacket)
    assert garment.measurements == ()
    assert garment.title == jacket.garment
    assert garment.draft(body, ImportedStyle()) is jacket
