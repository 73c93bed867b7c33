"""A set of pieces: found by name, told apart, and its seams walked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from pieces.errors import OutlineError, PieceError
from pieces.piece.piece import Notch, Piece
from pieces.piece.pieces import SEAM_TOLERANCE, PieceSet, Seam, walk
from tests.make.outlines import sides


def panel(name: str, side: float, **known: object) -> Piece:
    """A rectangle whose edge e0 is of a given length."""
    return Piece(name, sides([(0, 0), (side, 0), (side, 50), (0, 50)], [10.0] * 4), **known)  # type: ignore[arg-type]


def pair(longer: float, ease: float = 0.0) -> PieceSet:
    """Two panels, the first longer than the second by so much, sewn together."""
    seam = Seam("side", (("front", "e0"),), (("back", "e0"),), ease)
    return PieceSet("bag", (panel("front", 300 + longer), panel("back", 300)), (seam,))


def test_walked_seams() -> None:
    """The difference of the sewn lengths, without the ease that is meant."""
    assert walk(pair(8.0).seams[0], pair(8.0)) == pytest.approx(8)
    assert walk(pair(8.0, ease=8.0).seams[0], pair(8.0, ease=8.0)) == pytest.approx(0)


def test_a_seam_that_does_not_match_is_refused() -> None:
    """Just within the tolerance it passes; beyond it, the seam and the difference are named."""
    pair(SEAM_TOLERANCE - 0.01).check()
    with pytest.raises(OutlineError, match=r"seam 'side' differ by 8\.0 mm"):
        pair(8.0).check()


def test_a_notch_lies_on_the_sew_line() -> None:
    """One that lies off it is named with its piece."""
    with pytest.raises(OutlineError, match="notch 'a' of 'front' lies off"):
        PieceSet("bag", (panel("front", 300, notches=(Notch("a", (10, 10)),)),)).check()
    PieceSet("bag", (panel("front", 300, notches=(Notch("a", (10, 0)),)),)).check()


def test_names_are_unique_and_found() -> None:
    """Two pieces of one name are refused; one that is not there is told what is."""
    with pytest.raises(PieceError, match="two pieces are called 'a'"):
        PieceSet("bag", (panel("a", 100), panel("a", 200)))
    pieces = PieceSet("bag", (panel("a", 100), replace(panel("b", 200), material="lining")))
    assert pieces["b"].name == "b" and len(pieces) == 2
    assert [piece.name for piece in pieces.of("lining")] == ["b"]
    with pytest.raises(KeyError, match="a, b"):
        pieces["c"]
