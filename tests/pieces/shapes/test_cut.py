"""Panels: what is pieced is, sewn together, the whole again, in the fewest parts."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
import shapely

from pieces.piece.piece import Piece
from pieces.shapes.flat import circle, rectangle, strip, triangle
from pieces.shapes.shape import PlainShape
from pieces.shapes.shaped import ClothRoom, ShapedPiece, fits

HEMMED = PlainShape("cloth", seam=25.0, edges={"join": 10.0})


def whole_pieces() -> list[ShapedPiece]:
    """One of each kind, hemmed wider than it is joined."""
    return [rectangle(HEMMED, 600.0, 2000.0), circle(HEMMED, 1500.0), triangle(HEMMED, 900.0, 1400.0)]


@pytest.mark.parametrize("number", [2, 3, 5])
def test_sewn_they_are_the_whole(number: int) -> None:
    """The sewn areas of all panels are that of the whole, and all are as wide as one another."""
    for whole in whole_pieces():
        parts = whole.ways[0](number, inf)
        assert sum(part.cut for part in parts) == number
        sewn = sum(part.cut * shapely.Polygon(part.sew_line).area for part in parts)
        assert sewn == pytest.approx(shapely.Polygon(whole.sew_line).area, rel=1e-9)
        joins = sum(part.cut for part in parts for edge in part.edges if edge.name == "join")
        assert joins == 2 * (number - 1)


def test_fewest() -> None:
    """A 2000 mm rectangle with 25 mm hems and 10 mm joins: two parts take 1035 mm across, three 696.7, four 527.5."""
    whole = rectangle(HEMMED, 600.0, 2000.0)
    for room, parts in ((2050.0, 1), (2049.0, 2), (1035.0, 2), (1034.0, 3), (697.0, 3), (696.0, 4), (528.0, 4)):
        cut = whole.pieced([ClothRoom(room, has_fold=False)])
        assert (cut.parts, cut.joins) == (parts, parts - 1)
        assert all(fits(part, [ClothRoom(room, has_fold=False)]) for part in cut.pieces)


def test_either_way() -> None:
    """A shape that may lie either way is pieced where that takes fewer parts; with a nap it lies along the cloth."""
    room = [ClothRoom(1200.0, has_fold=False)]
    shape = PlainShape("cloth", grain="either")
    assert rectangle(shape, 1100.0, 5000.0).pieced(room).parts == 1
    assert rectangle(shape, 1300.0, 5000.0).pieced(room).parts == 2
    assert rectangle(PlainShape("cloth"), 1300.0, 5000.0).pieced(room).parts == 5
    (part,) = rectangle(shape, 1300.0, 5000.0).pieced(room, turned=False).pieces
    assert (part.length, part.width) == pytest.approx((5000.0, 650.0))


def test_on_a_fold() -> None:
    """Half of a shape may lie on a fold; where even that is too wide, the whole is pieced."""
    half = rectangle(PlainShape("cloth", seam=10.0, on_fold=True), 600.0, 1400.0)
    assert half.on_fold
    assert half.pieced([ClothRoom(710.0, has_fold=True)]).parts == 1
    assert half.pieced([ClothRoom(709.0, has_fold=False)]).parts == 3
    assert not any(part.on_fold for part in half.pieced([ClothRoom(709.0, has_fold=True)]).pieces)


def test_halves_of_a_circle_are_a_pair() -> None:
    """The two halves are left and right of one piece."""
    (part,) = circle(HEMMED, 1500.0).ways[0](2, inf)
    assert (part.cut, part.mirrored_pair) == (2, True)


def test_strip_lies_across() -> None:
    """A strip's length lies across the cloth by its grain, with `side` at its ends."""
    frill = strip(PlainShape("frill", grain="across", edges={"side": 10.0}), 3000.0, 80.0)
    assert (frill.length, frill.width) == pytest.approx((80.0, 3020.0))


def test_nothing_fits() -> None:
    """Cloth narrower than two joins leaves the shape whole, for the layout to refuse."""
    whole = rectangle(HEMMED, 600.0, 2000.0)
    assert whole.pieced([ClothRoom(15.0, has_fold=False)]).pieces == (whole,)


def test_a_bias_grain_runs_at_45_degrees() -> None:
    """On the bias the grainline is at 45 degrees to the sides, and nothing is pieced."""
    made = rectangle(PlainShape("yoke", grain="bias"), 300.0, 200.0)
    (x0, y0), (x1, y1) = made.grain
    assert np.degrees(np.arctan2(y1 - y0, x1 - x0)) == pytest.approx(45.0)
    assert isinstance(made, Piece) and not made.ways
