"""Several garments as one set: names under labels, each piece as often as it is cut."""

from __future__ import annotations

import pytest

from pieces.errors import PieceError
from pieces.garments.sewing import SewingStep
from pieces.garments.together import Labelled, join_garments, labelled_step
from pieces.piece.finished import Finished
from pieces.piece.piece import Piece
from pieces.piece.pieces import PieceSet, Seam, walk


def square(name: str, side: float, cut: int = 1) -> Piece:
    """A square piece, mm."""
    return Piece.from_polygon([(0, 0), (side, 0), (side, side), (0, side)], name, unit="mm", cut=cut)


def test_joined() -> None:
    """Names, seams, measures, notes and finished sizes go under the label; a piece is cut for each copy."""
    front, back = square("front", 100, cut=2), square("back", 100)
    edge = front.edges[0].name
    seam = Seam("side", (("front", edge),), (("back", edge),))
    one = PieceSet("top", (front, back), (seam,), {"width": 100.0}, ("a note",), (Finished("chest", 100.0),))
    joined = join_garments([Labelled("Ada", 1, one), Labelled("Ben", 3, one)], "both", ("first",))
    assert {piece.name: piece.cut for piece in joined} == {
        "Ada: front": 2,
        "Ada: back": 1,
        "Ben: front": 6,
        "Ben: back": 3,
    }
    assert [seam.name for seam in joined.seams] == ["Ada: side", "Ben: side"]
    assert walk(joined.seams[1], joined) == 0
    assert joined.measures == {"Ada: width": 100.0, "Ben: width": 100.0}
    assert joined.notes == ("first", "Ada: a note", "Ben: a note")
    assert [size.name for size in joined.finished] == ["Ada: chest", "Ben: chest"]


def test_names_that_meet() -> None:
    """Two garments of one label have pieces of one name, and that is refused."""
    one = PieceSet("top", (square("front", 100),))
    with pytest.raises(PieceError, match="two pieces are called 'Ada: front'"):
        join_garments([Labelled("Ada", 1, one), Labelled("Ada", 1, one)], "both")


def test_step() -> None:
    """A step of sewing finds its edges and pieces in the joined set."""
    front = square("front", 100)
    joined = join_garments([Labelled("Ada", 1, PieceSet("top", (front,)))], "one")
    step = labelled_step("Ada", SewingStep("Hem", "Sew.", (("front", front.edges[0].name),), ("front",)))
    assert step.title == "Ada: Hem"
    assert [piece.name for piece, _ in step.sewn(joined)] == [piece.name for piece in step.shown(joined)]
