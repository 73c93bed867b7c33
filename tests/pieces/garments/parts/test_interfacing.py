"""Interfacing: within the piece that it is for, and caught in its seams."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from pieces import GARMENTS, Body
from pieces.garments.parts.interfacing import CAUGHT, interfacing_of, strip

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]


def test_lies_in_its_piece(body: Body, style: JacketStyle) -> None:
    """It covers the sewn piece, and reaches an eighth of an inch into the seams, but not to a fold's other side."""
    for name in ("front facing", "back"):
        piece = JACKET.draft(body, style)[name]
        own = interfacing_of(piece)
        cut, sewn, whole = (shapely.Polygon(line) for line in (own.cut_line, piece.sew_line, piece.cut_line))
        assert cut.buffer(1e-6).covers(sewn)
        assert whole.buffer(1e-6).covers(cut)
        assert {edge.allowance for edge in own.edges if edge.kind == "seam"} == {CAUGHT}
        assert (own.material, own.cut, own.mirrored_pair) == ("interfacing", piece.cut, piece.mirrored_pair)


def test_one_layer_of_two(body: Body, style: JacketStyle) -> None:
    """Where one of two layers is interfaced, it is no pair."""
    facing = JACKET.draft(body, style)["front facing"]
    assert (interfacing_of(facing, 1).cut, interfacing_of(facing, 1).mirrored_pair) == (1, False)


def test_strip() -> None:
    """A strip is cut twice, as long and as wide as it says."""
    found = strip("front edge interfacing", 500.0, 40.0)
    assert (found.cut, found.length, found.width) == (2, 500.0, 40.0)
    assert np.ptp(found.cut_line[:, 0]) == 500.0
