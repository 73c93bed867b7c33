"""A piece cut in two along its grain takes as much cloth as before, and the two allowances."""

from __future__ import annotations

import pytest
import shapely

from pieces.errors import PieceError
from pieces.piece.divide import divide
from pieces.piece.piece import Notch, Piece
from tests.make.outlines import sides

PANEL = Piece("sleeve", sides([(0, 0), (200, 0), (200, 100), (0, 100)], [0.0] * 4), notches=(Notch("a", (0, 50)),))


def test_areas_and_names() -> None:
    """Cut at 40 mm with 10 mm on each side: 50 and 70 mm wide, together 200 x 20 mm² more."""
    lower, upper = divide(PANEL, 40.0, 10.0)
    assert (lower.name, upper.name) == ("sleeve, lower part", "sleeve, upper part")
    assert (lower.width, upper.width) == pytest.approx((50, 70))
    areas = [shapely.Polygon(piece.cut_line).area for piece in (lower, upper)]
    assert sum(areas) == pytest.approx(200 * 100 + 200 * 20)
    assert not lower.notches and not upper.notches


def test_a_seam_beside_the_piece() -> None:
    """It does not run through it."""
    with pytest.raises(PieceError, match=r"100 mm .* 'sleeve'"):
        divide(PANEL, 100.0, 10.0)


def test_a_half_is_not_divided() -> None:
    """A piece on the fold has to be opened out before."""
    half = Piece("back", sides([(0, 0), (200, 0), (200, 100), (0, 100)], [0.0] * 4, fold=0))
    with pytest.raises(PieceError, match="'back' is on the fold"):
        divide(half, 40.0, 10.0)
