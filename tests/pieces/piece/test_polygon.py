"""Pieces of one's own outline."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pieces import Piece
from pieces.errors import LengthError, OutlineError, PieceError, WrongTypeError
from pieces.length import cm

CORNERS = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)]
WAYS: dict[str, Any] = {
    "open": CORNERS,
    "closed": [*CORNERS, CORNERS[0]],
    "clockwise": CORNERS[::-1],
    "closed clockwise": [*CORNERS[::-1], CORNERS[-1]],
    "a point twice": [CORNERS[0], *CORNERS],
    "array": np.array(CORNERS),
    "whole numbers": np.array(CORNERS, dtype=int),
    "shapely": shapely.box(0, 0, 30, 20),
    "shapely, clockwise": shapely.Polygon(CORNERS[::-1]),
    "lists": [list(corner) for corner in CORNERS],
    "generator": (corner for corner in CORNERS),
}


@pytest.mark.parametrize("way", WAYS)
def test_one_rectangle_in_many_ways(way: str) -> None:
    """30 by 20 cm with 1 cm all round is 32 by 22 cm, whichever way its corners are given; shapely holds it to that."""
    piece = Piece.from_polygon(WAYS[way], "flag", unit="cm", seam="1 cm")
    assert shapely.Polygon(piece.sew_line).equals(shapely.box(0, 0, 300, 200))
    assert shapely.Polygon(piece.cut_line).equals(shapely.box(-10, -10, 310, 210))
    assert [edge.name for edge in piece.edges] == ["side 1", "side 2", "side 3", "side 4"]
    assert (piece.cut, piece.mirrored_pair, piece.grain) == (1, False, ((0.0, 0.0), (1.0, 0.0)))


def test_without_a_seam_the_outline_is_cut() -> None:
    """No allowance: the cut line is the polygon, in inches of 25.4 mm."""
    piece = Piece.from_polygon([(0, 0), (4, 0), (0, 3)], "corner", unit="in")
    assert shapely.Polygon(piece.cut_line).area == pytest.approx(6 * 25.4**2)


@given(
    st.integers(5, 60),
    st.floats(0.1, 1.5),
    st.lists(st.floats(0.9, 1.1), min_size=60, max_size=60),
    st.booleans(),
)
def test_an_allowance_is_as_wide_everywhere(number: int, seam: float, radii: list[float], turned: bool) -> None:
    """Round a convex outline, the cut line lies as far out as the seam is wide: shapely's mitred buffer agrees."""
    angles = np.linspace(0, 2 * np.pi, number, endpoint=False)
    points = np.c_[np.cos(angles), np.sin(angles)] * np.array(radii[:number])[:, None] * 20
    hull = shapely.MultiPoint(points).convex_hull
    assert isinstance(hull, shapely.Polygon)
    ring = np.array(hull.exterior.coords)[:: -1 if turned else 1]
    piece = Piece.from_polygon(ring, "pebble", unit="cm", seam=cm(seam))
    around = shapely.Polygon(hull.exterior).buffer(seam, join_style="mitre", mitre_limit=20)
    cut = shapely.affinity.scale(shapely.Polygon(piece.cut_line), 0.1, 0.1, origin=(0, 0))
    assert cut.symmetric_difference(around).area < 1e-6 * around.area


def test_hollow_corners_are_cut_square() -> None:
    """An L of 40 by 30 with arms 10 wide has 900 - 200 = 600 cm²; 1 cm round it adds its rim, by hand: 742 cm²."""
    ell = [(0, 0), (40, 0), (40, 10), (10, 10), (10, 30), (0, 30)]
    piece = Piece.from_polygon(ell, "ell", unit="cm", seam="1 cm")
    assert shapely.Polygon(piece.sew_line).area == pytest.approx(60_000)
    assert shapely.Polygon(piece.cut_line).area == pytest.approx(100 * (42 * 12 + 12 * 20))


def test_pair_grain_and_the_rest() -> None:
    """A pair is cut twice; the grain runs along an axis or between two points; the rest goes to the piece."""
    piece = Piece.from_polygon(CORNERS, "flap", unit="mm", pair=True, grain="y", material="lining", lies="cross")
    assert (piece.cut, piece.mirrored_pair, piece.grain[1], piece.material) == (2, True, (0.0, 1.0), "lining")
    slanted = Piece.from_polygon(CORNERS, "flap", unit="cm", cut=3, grain=((0, 0), (3, 4)))
    assert (slanted.cut, slanted.grain) == (3, ((0.0, 0.0), (30.0, 40.0)))
    with pytest.raises(PieceError, match="a pair needs an even number"):
        Piece.from_polygon(CORNERS, "flap", unit="cm", cut=3, pair=True)


@pytest.mark.parametrize(
    ("points", "given", "kind", "said"),
    [
        (CORNERS, {}, LengthError, r"the points of 'flag', '': bare numbers need a unit: add one, such as"),
        (CORNERS, {"unit": 10}, LengthError, "bare numbers need a unit"),
        (CORNERS, {"unit": "ells"}, LengthError, "the unit of the points of 'flag', '1 ells': unknown unit"),
        (CORNERS, {"unit": "cm", "seam": 1}, LengthError, "the seam of 'flag', '1': a bare number has no unit"),
        (CORNERS[:2], {"unit": "cm"}, OutlineError, "'flag' has 2 points apart"),
        ([], {"unit": "cm"}, WrongTypeError, "pairs of numbers"),
        ([(0, 0), (0, 0), (0, 0)], {"unit": "cm"}, OutlineError, "'flag' has 0 points apart"),
        ([(0, 0), (2, 0), (2, 1), (1, 1), (1, -1)], {"unit": "cm"}, OutlineError, "crosses itself"),
        ([(0, 0), (1, float("nan")), (1, 1)], {"unit": "cm"}, OutlineError, "a point that is not a number"),
        (np.ma.masked_less(CORNERS, 1), {"unit": "cm"}, OutlineError, "a point that is masked"),
        (np.array(CORNERS, dtype=complex), {"unit": "cm"}, WrongTypeError, "must be pairs of numbers"),
        (np.array(CORNERS).astype("datetime64[s]"), {"unit": "cm"}, WrongTypeError, "must be pairs of numbers"),
        ([("0", "0"), ("1", "0"), ("1", "1")], {"unit": "cm"}, WrongTypeError, "must be pairs of numbers"),
        ([(0, 0), (10**400, 0), (0, 1)], {"unit": "cm"}, WrongTypeError, "must be pairs of numbers"),
        ([(0, 0), (1e308, 0), (0, 1)], {"unit": "cm"}, OutlineError, r"'flag' is too large: 1e\+308"),
        ([(0, 0), (9, 9), (9, 0), (0, 9)], {"unit": "cm"}, OutlineError, "crosses itself"),
        ([(0, 0), (9, 0), (9, 9), (9, 20), (9, 9)], {"unit": "cm"}, OutlineError, "goes back on itself"),
        ([(0, 0), (0.01, 0), (0, 0.01)], {"unit": "cm"}, OutlineError, "less than a square millimetre: check the unit"),
        ([(0, 0, 0)] * 3, {"unit": "cm"}, WrongTypeError, r"shape \(n, 2\), not 3 by 3"),
        ("flag", {"unit": "cm"}, WrongTypeError, "must be pairs of numbers, not the text 'flag'"),
        (5, {"unit": "cm"}, WrongTypeError, "must be pairs of numbers, not the number 5"),
        (None, {"unit": "cm"}, WrongTypeError, "must be pairs of numbers, not None"),
        (shapely.Polygon(), {"unit": "cm"}, WrongTypeError, "one polygon that is not empty"),
        (shapely.MultiPolygon([shapely.box(0, 0, 1, 1)]), {"unit": "cm"}, WrongTypeError, "not a MultiPolygon"),
        (shapely.box(0, 0, 9, 9) - shapely.box(3, 3, 4, 4), {"unit": "cm"}, OutlineError, "'flag' has holes"),
        (CORNERS, {"unit": "cm", "grain": "z"}, WrongTypeError, "the grain of 'flag' must be"),
        (CORNERS, {"unit": "cm", "grain": ((1, 1), (1, 1))}, WrongTypeError, "two points apart from each other"),
        (CORNERS, {"unit": "cm", "grain": 45}, WrongTypeError, "must be pairs of numbers"),
        (CORNERS, {"unit": "cm", "cut": "two"}, WrongTypeError, "must be a whole number, not the text 'two'"),
    ],
)
def test_what_is_no_piece(points: Any, given: dict[str, Any], kind: type[Exception], said: str) -> None:
    """Each mistake in a polygon or its units is one line that names the piece and what it needs."""
    with pytest.raises(kind, match=said) as error:
        Piece.from_polygon(points, "flag", **given)
    assert "\n" not in str(error.value)
