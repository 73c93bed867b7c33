"""What one layer does to what is cut of it."""

from __future__ import annotations

import pytest

from nesting.cloth.ply import Ply


@pytest.mark.parametrize(("layer", "piece", "image"), [(0, 0, 0), (0, 1, 1), (1, 0, 1), (1, 1, 0)])
def test_hands(layer: bool, piece: bool, image: bool) -> None:
    """A layer that lies face down gives the other hand; of a piece turned over, the first again."""
    assert Ply(bool(layer)).hand(bool(piece)) is bool(image)


@pytest.mark.parametrize(
    ("ply", "on_table", "in_layer"),
    [(Ply(), 30, 30), (Ply(True), 30, 330), (Ply(turn=180), 30, 210), (Ply(True, 180), 30, 150), (Ply(True), 0, 0)],
)
def test_angles(ply: Ply, on_table: float, in_layer: float) -> None:
    """Seen from its right side a layer that lies face down has the line on the other side of its warp."""
    assert ply.angle(on_table) == in_layer
