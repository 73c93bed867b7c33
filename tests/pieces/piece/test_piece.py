"""Pieces: areas against shapely, and every outline that is none."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pieces import Piece, PieceError, PieceSet
from pieces.errors import OutlineError
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch
from pieces.piece.pieces import Seam
from tests.make.outlines import sides

SQUARE = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]


def on_fold(corners: list[tuple[float, float]], fold: int, allowance: float = 10.0) -> Piece:
    """A half with one edge on the fold."""
    allowances = [0.0 if i == fold else allowance for i in range(len(corners))]
    return Piece("half", sides(corners, allowances, fold))


def test_sizes() -> None:
    """A 100 x 60 mm rectangle with 10 mm seams is cut 120 x 80."""
    piece = Piece("panel", sides(SQUARE, [10.0] * 4))
    assert (piece.length, piece.width, piece.on_fold) == (pytest.approx(120), pytest.approx(80), False)
    assert shapely.Polygon(piece.sew_line).area == 6000
    assert shapely.Polygon(piece.unfolded).equals(shapely.Polygon(piece.cut_line))


@pytest.mark.parametrize("fold", [0, 2])
def test_unfolded_is_twice_the_half(fold: int) -> None:
    """Opened out, a half has twice the area on either side of the fold (shapely), and is as wide as both."""
    piece = on_fold(SQUARE, fold)
    whole, half = shapely.Polygon(piece.unfolded), shapely.Polygon(piece.cut_line)
    line = piece.fold_edge.points[0, 1]
    assert whole.is_valid and whole.exterior.is_ccw
    assert len({tuple(point) for point in piece.unfolded.tolist()}) == len(piece.unfolded)  # no point doubled
    assert whole.area == pytest.approx(2 * half.area)
    mirrored = shapely.transform(half, lambda points: points * (1, -1) + (0, 2 * line))
    assert whole.symmetric_difference(half.union(mirrored)).area < 1e-6
    assert piece.width == pytest.approx(140)


@given(st.integers(0, 4), st.floats(0, 20), st.lists(st.floats(20, 90), min_size=3, max_size=3))
def test_unfolded_area_whatever_the_edge_order(shift: int, allowance: float, heights: list[float]) -> None:
    """The area doubles wherever the list of edges starts."""
    low, middle, high = heights
    corners = [(0.0, 0.0), (200.0, 0.0), (200.0, low), (100.0, 20 + middle), (0.0, high)]
    allowances = [0.0] + [allowance] * 4
    edges = sides(corners, allowances, 0)
    piece = Piece("half", edges[shift:] + edges[:shift])
    assert shapely.Polygon(piece.unfolded).area == pytest.approx(2 * shapely.Polygon(piece.cut_line).area)


def test_repr() -> None:
    """The repr is one line with cut sizes in centimetres."""
    assert repr(on_fold(SQUARE, 0)) == "<Piece 'half': 12.0 x 14.0 cm, cut 1, on fold>"
    assert repr(Piece("cuff", sides(SQUARE, [0.0] * 4), cut=2)) == "<Piece 'cuff': 10.0 x 6.0 cm, cut 2>"


def test_edges_by_name() -> None:
    """An edge is found by its name, and an unknown one lists those there are."""
    piece = Piece("panel", sides(SQUARE, [10.0] * 4))
    assert piece.edge("e2").length == 100
    with pytest.raises(KeyError, match=r"'panel' has no edge 'hem'; it has e0, e1, e2, e3"):
        piece.edge("hem")


def bent_fold() -> tuple[Edge, ...]:
    """A fold edge that runs across the grain."""
    return sides(SQUARE, [10.0, 0.0, 10.0, 10.0], fold=1)


@pytest.mark.parametrize(
    ("edges", "why"),
    [
        ((), "has no edges"),
        (sides(SQUARE, [10.0] * 4)[:3], "is open: 'e2' ends 60"),
        (sides([(0.0, 0.0), (100.0, 60.0), (100.0, 0.0), (0.0, 60.0)], [0.0] * 4), "encloses nothing|crosses itself"),
        (sides([(0.0, 0.0), (90.0, 60.0), (100.0, 0.0), (0.0, 50.0)], [0.0] * 4), "crosses itself"),
        (sides(SQUARE[::-1], [0.0] * 4), "counter-clockwise"),
        (sides([(0.0, 0.0), (100.0, 0.0), (50.0, 0.0)], [0.0] * 3), "encloses nothing"),
        (sides([(0.0, 0.0), (np.nan, 0.0), (50.0, 9.0)], [0.0] * 3), "two points or more, all within a kilometre"),
        (sides([(0.0, 0.0), (1e300, 0.0), (50.0, 9.0)], [0.0] * 3), "two points or more, all within a kilometre"),
        (sides(SQUARE, [10.0, 10.0, -1.0, 10.0]), "allowance of -1.0 mm"),
        (sides(SQUARE, [10.0, float("nan"), 1.0, 10.0]), "allowance of nan mm"),
        (sides(SQUARE, [10.0] * 4, fold=0), "without an allowance"),
        (bent_fold(), "straight along the grain"),
        ((Edge("dot", np.array([(0.0, 0.0)]), 0.0),), "two points or more"),
    ],
)
def test_no_outline(edges: tuple[Edge, ...], why: str) -> None:
    """What cannot be cut is refused, with the reason."""
    with pytest.raises(OutlineError, match=why):
        Piece("odd", edges)


@pytest.mark.parametrize(("cut", "pair"), [(0, False), (-2, True), (3, True)])
def test_counts_that_make_no_sense(cut: int, pair: bool) -> None:
    """None of a piece, or an odd number of a pair, cannot be asked for."""
    with pytest.raises(PieceError, match=f"cut {cut} times"):
        Piece("panel", sides(SQUARE, [1.0] * 4), cut=cut, mirrored_pair=pair)


def test_sets() -> None:
    """A set finds its pieces by name and by material, and refuses two of one name."""
    panel, cuff = Piece("panel", sides(SQUARE, [1.0] * 4)), Piece("cuff", sides(SQUARE, [1.0] * 4), material="rib")
    both = PieceSet("bag", (panel, cuff))
    assert (both["cuff"], both.of("rib"), both.of("lining"), len(both), list(both)) == (
        cuff, (cuff,), (), 2, [panel, cuff],
    )  # fmt: skip
    with pytest.raises(KeyError, match="no piece 'flap': choose panel, cuff"):
        both["flap"]
    with pytest.raises(PieceError, match="two pieces are called 'panel'"):
        PieceSet("bag", (panel, panel))


def test_notch_off_the_line() -> None:
    """A notch must lie on the sew line."""
    on = Piece("panel", sides(SQUARE, [1.0] * 4), notches=(Notch("mid", (50.0, 0.0)),))
    off = Piece("panel", sides(SQUARE, [1.0] * 4), notches=(Notch("mid", (50.0, 1.0)),))
    PieceSet("bag", (on,)).check()
    with pytest.raises(OutlineError, match="notch 'mid' of 'panel' lies off its sew line"):
        PieceSet("bag", (off,)).check()


def test_seam_within_tolerance() -> None:
    """Seams may differ by 1 mm, and no more."""
    narrow = Piece("narrow", sides([(0.0, 0.0), (100.0, 0.0), (100.0, 59.1), (0.0, 59.1)], [1.0] * 4))
    seam = Seam("side", (("panel", "e1"),), (("narrow", "e1"),))
    pieces = (Piece("panel", sides(SQUARE, [1.0] * 4)), narrow)
    PieceSet("bag", pieces, (seam,)).check()
    with pytest.raises(OutlineError, match=r"'side' differ by 1\.9 mm"):
        PieceSet("bag", pieces, (Seam("side", seam.first, seam.second, ease=-1.0),)).check()


@pytest.mark.parametrize(
    "marks",
    [
        {"notches": (Notch("a", (1e308, 0.0)),)},
        {"drill_points": ((float("nan"), 0.0),)},
        {"grain": ((0.0, 0.0), (1e7, 0.0))},
        {"match": (0.0, 1e9)},
    ],
)
def test_marks_far_out(marks: dict[str, Any]) -> None:
    """A mark, a grainline or a match point beyond a kilometre is a mistake, as an outline there is."""
    with pytest.raises(OutlineError, match="more than a kilometre"):
        Piece("a", sides([(0.0, 0.0), (9.0, 0.0), (9.0, 9.0)], [0.0] * 3), **marks)
