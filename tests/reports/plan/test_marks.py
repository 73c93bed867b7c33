"""Marks of pieces in their places on the cloth."""

from __future__ import annotations

from nesting.cloth.fabric import Fabric
from nesting.problem.lay import lay_pieces
from nesting.search.row import lay_in_a_row
from pieces.length import mm
from pieces.piece.piece import Notch, Piece
from reports.plan.marks import marker_marks
from tests.make.outlines import sides

CORNERS = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)]


def test_a_mark_lies_as_far_from_its_outline_on_the_cloth() -> None:
    """A notch at the middle of a side is there on every placement, whichever way the piece lies."""
    piece = Piece("tab", sides(CORNERS, [0.0] * 4), cut=2, notches=(Notch("a", (0.0, 30.0)),))
    marker = lay_in_a_row(lay_pieces([piece], Fabric("twill", mm(1500.0)), "open"))
    marks = list(marker_marks(marker))
    assert len(marks) == 2
    for mark, place in zip(marks, marker.placements, strict=True):
        ((x, y),) = mark["notches"]
        assert min(abs(x - place.x), abs(x - place.x - 200.0)) < 1e-9
        assert min(abs(y - place.y - 30.0), abs(y - place.y - 70.0)) < 1e-9


def test_a_half_opened_out_bears_its_marks_on_both_sides() -> None:
    """A drill point off the fold is there twice, one on the fold once."""
    half = Piece("back", sides(CORNERS, [0.0] * 4, fold=0), drill_points=((50.0, 40.0), (60.0, 0.0)))
    marker = lay_in_a_row(lay_pieces([half], Fabric("twill", mm(1500.0)), "open"))
    (mark,) = marker_marks(marker)
    assert len(mark["drill_points"]) == 3
    ys = sorted(y for _, y in mark["drill_points"])
    assert ys[2] - ys[1] == ys[1] - ys[0] == 40.0
