"""Each seam counts as often as it is sewn."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.trims.sewn import sewn_seams

if TYPE_CHECKING:
    from pieces import PieceSet


def test_left_and_right(jacket: PieceSet) -> None:
    """Sides are sewn twice; a seam that is left out is not there."""
    found = {seam.name: seam for seam in sewn_seams(jacket, ["underarm"])}
    assert found["side"].length == pytest.approx(2 * jacket["front"].edge("side").length)
    assert set(found) == {seam.name for seam in jacket.seams} - {"underarm"}


def test_on_the_fold(jacket: PieceSet) -> None:
    """A facing cut once on the fold has its seam on both halves."""
    from dataclasses import replace

    from pieces import PieceSet
    from pieces.piece.pieces import Seam

    back = replace(jacket["back"])
    own = PieceSet("half", (back,), (Seam("neck", (("back", "neck"),), (("facing", "neck"),)),))
    assert back.on_fold
    assert [seam.length for seam in sewn_seams(own)] == [pytest.approx(2 * back.edge("neck").length)]


def test_an_edge_sewn_to_its_like(jacket: PieceSet) -> None:
    """A centre back of a left and a right piece is one seam."""
    from pieces import PieceSet
    from pieces.piece.pieces import Seam

    front, closed = jacket["front"], (("front", "front edge"),)
    own = PieceSet("half", (front,), (Seam("closed", closed, closed),))
    assert front.cut == 2
    assert [seam.length for seam in sewn_seams(own)] == [pytest.approx(front.edge("front edge").length)]
