"""Bias bindings: what a square yields, and strips at 45 degrees, against published figures and by laying them out."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from pieces.shapes.binding import binding, continuous_yield, square_binding, square_for
from pieces.shapes.shape import PlainShape
from pieces.shapes.shaped import ClothRoom
from pieces.units import INCH

# Published yields of 2 in strips of a square, in; by area they would be 72, 84.5 and 112.5.
YIELDS = [(12.0, 60.0), (13.0, 72.0), (15.0, 100.0)]


@pytest.mark.parametrize(("side", "published"), YIELDS)
def test_yield(side: float, published: float) -> None:
    """The yield is within 6 % of the published one, under what the area says, and never more than whole rounds give."""
    found = continuous_yield(side, 2.0, 0.25)
    assert found == pytest.approx(published, rel=0.06)
    assert found < side**2 / 2
    assert found <= int((side - 0.5) / (2 * sqrt(2))) * (side - 0.5) * sqrt(2)


def test_yield_with_a_seam() -> None:
    """A published (22 - 1/4)²/3 = 157.7 in is by the area: no less than what can be cut in whole rounds."""
    assert 0.9 * 157.7 < continuous_yield(22.0, 3.0, 0.25) <= 157.7


@pytest.mark.parametrize("length", [300.0, 1500.0, 5000.0])
def test_square_for(length: float) -> None:
    """The least square yields the length; one that is a hair smaller does not."""
    side = square_for(length, 50.0, 6.0)
    assert continuous_yield(side + 1e-6, 50.0, 6.0) >= length - 1e-3
    assert continuous_yield(side - 0.5, 50.0, 6.0) < length


def test_strips() -> None:
    """5 yd of 1/2 in binding from 44 in of usable cloth: 3 strips, each no wider across than the cloth, long enough."""
    piece, said = binding(PlainShape("edging", seam=INCH / 2), 180 * INCH, INCH / 2)
    cut = piece.pieced([ClothRoom(44 * INCH, has_fold=False)])
    (strip,) = cut.pieces
    assert (cut.parts, cut.joins, strip.cut) == (3, 2, 3)
    assert "cut 2 in (51 mm) wide (4 times: single fold)" in said
    across = strip.cut_line @ np.array([-1, 1]) / sqrt(2)
    assert np.ptp(across) <= 44 * INCH + 1e-6
    edge = next(one for one in strip.edges if one.name == "edge")
    assert 3 * edge.length - 2 * INCH == pytest.approx(180 * INCH)  # its ends, cut square, take a width
    # Two strips would have to be longer than the cloth is wide.
    assert 2 * sqrt(2) * (44 - 1) - 2 < 180


def test_square() -> None:
    """A binding out of a square says the side and the yield, which is enough; on narrow cloth it takes more squares."""
    piece, said = square_binding(PlainShape("edging", seam=INCH / 4), 60 * INCH, INCH / 2)
    assert (piece.length, piece.width) == pytest.approx((11.875 * INCH, 11.875 * INCH))
    assert "a square of 11 7/8 in (302 mm) gives 62 3/8 in" in said
    cut = piece.pieced([ClothRoom(10 * INCH, has_fold=False)])
    (square,) = cut.pieces
    assert (square.cut, cut.joins) == (2, 1)
    assert 2 * (continuous_yield(square.length + 1e-6, 2 * INCH, INCH / 4) + 2 * INCH) >= 62 * INCH - 1e-3
