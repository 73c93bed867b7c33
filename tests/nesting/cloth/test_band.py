"""Bands: their widths, and what each layer of them is."""

from __future__ import annotations

from nesting.cloth.band import Band
from nesting.cloth.ply import Ply


def test_widths() -> None:
    """Two layers of 700 mm are 1400 mm of cloth."""
    band = Band("folded cloth", 10.0, 710.0, layers=2, mirrored=True)
    assert (band.width, band.cloth_width) == (700.0, 1400.0)


def test_every_second_layer_is_turned_over() -> None:
    """Right sides together; and with its nap the other way where the cloth is folded across."""
    assert Band("stack", 0, 1, layers=3, mirrored=True).plies == (Ply(), Ply(True), Ply())
    assert Band("crosswise", 0, 1, layers=2, mirrored=True, nap_turned=True).plies == (Ply(), Ply(True, 180.0))
    assert Band("face up", 0, 1, layers=2).plies == (Ply(), Ply())
