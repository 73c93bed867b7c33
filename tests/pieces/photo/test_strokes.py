"""Lines, creases and cuts on a made-up view of paper, which needs no photo."""

from __future__ import annotations

from typing import TYPE_CHECKING

import cv2
import numpy as np
import pytest
import shapely

from pieces.photo.cuts import bridged, cuts_at
from pieces.photo.flat import ink, is_parted
from pieces.photo.lines import even
from pieces.photo.paper import TableView
from pieces.photo.sewn import follows, in_order
from pieces.photo.strokes import Stroke, strokes_on

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STEP = 0.4
SQUARE = np.array([(0.0, 0.0), (200.0, 0.0), (200.0, 150.0), (0.0, 150.0)])


def view(*lines: tuple[list[tuple[float, float]], float, int], cut: Floats | None = None) -> TableView:
    """Grey paper of 200 by 150 mm on a dark table, with lines: points, how wide, how bright."""
    pixels = np.full((600, 500, 3), 60, np.uint8)
    first = np.array([-20.0, -20.0])

    def at(points: Floats) -> NDArray[np.int32]:
        return np.asarray(np.rint((points - first)[:, ::-1] / STEP * 16), dtype=np.int32)

    cv2.fillPoly(pixels, [at(SQUARE)], (210, 210, 210), cv2.LINE_AA, 4)
    for points, wide, bright in lines:
        thick = max(1, round(wide / STEP))
        cv2.polylines(pixels, [at(np.array(points))], False, [bright] * 3, thick, cv2.LINE_AA, 4)
    if cut is not None:
        cv2.fillPoly(pixels, [at(cut)], (60, 60, 60), cv2.LINE_AA, 4)
    noise = np.random.default_rng(0).normal(0, 2, pixels.shape)
    pixels = np.clip(cv2.GaussianBlur(pixels, (0, 0), 0.7) + noise, 0, 255).astype(np.uint8)
    return TableView(pixels, first, STEP, np.ones(pixels.shape[:2], bool))


def test_dashes_are_a_line() -> None:
    """Ten dashes of 5 mm are one line of 78 mm, where it was drawn; the mask holds nothing else."""
    dashes = [([(20.0 + 8 * n, 60.0), (25.0 + 8 * n, 60.0)], 0.6, 70) for n in range(10)]
    seen = view(*dashes)
    (stroke,) = strokes_on(seen, SQUARE)
    assert stroke.dashes == 10 and not stroke.is_crease
    assert stroke.length == pytest.approx(77, abs=2)
    assert np.abs(stroke.points[:, 1] - 60).max() < 0.4
    assert ink(seen, SQUARE)[1].sum() * STEP**2 < 120


def test_lines_go_on_over_crossings() -> None:
    """Two lines that cross are two, not four."""
    strokes = strokes_on(view(([(20, 20), (180, 120)], 0.6, 70), ([(20, 120), (180, 20)], 0.6, 70)), SQUARE)
    assert sorted(round(stroke.length / 10) for stroke in strokes) == [19, 19]


def test_a_crease_is_bright_on_its_other_side() -> None:
    """Dark beside bright is a crease; the same dark line alone is none."""
    crease = [([(100.0, 10.0), (100.0, 140.0)], 0.8, 160), ([(101.0, 10.0), (101.0, 140.0)], 0.8, 250)]
    assert [stroke.is_crease for stroke in strokes_on(view(*crease), SQUARE) if stroke.length > 50] == [True]
    assert [stroke.is_crease for stroke in strokes_on(view(crease[0]), SQUARE) if stroke.length > 50] == [False]


def test_dark_letters_are_no_creases() -> None:
    """A letter of a thick pen is as wide as a crease, and far darker."""
    letter = view(([(100.0, 60.0), (100.0, 90.0), (115.0, 90.0)], 2.0, 60))
    assert [stroke.is_crease for stroke in strokes_on(letter, SQUARE) if stroke.length > 8] == [False]


def test_a_gap_parts_two_pieces() -> None:
    """A gap of 4 mm all across is one; a line of a pen all across, and a gap that ends half way, are none."""
    for points, wide, expected in (
        ([(100.0, -5.0), (100.0, 160.0)], 4.0, True),
        ([(100.0, -5.0), (100.0, 160.0)], 0.8, False),
        ([(100.0, -5.0), (100.0, 80.0)], 4.0, False),
    ):
        assert is_parted(view((points, wide, 60)), SQUARE) == expected


def test_a_cut_is_found() -> None:
    """A V of 8 mm in the edge: where it is, how deep; the edge runs over it. Beside a corner it is not told apart."""
    cut = np.array([(96.0, -2.0), (100.0, 8.0), (104.0, -2.0)])
    (found,) = cuts_at(view(cut=cut), SQUARE)
    assert found.point == pytest.approx([100, 0], abs=0.6)
    assert found.deep == pytest.approx(7, abs=1.5) and found.is_pointed
    sagging = shapely.get_coordinates(shapely.segmentize(shapely.LinearRing(SQUARE), 1.0))[:-1]
    sagging[np.abs(sagging[:, 0] - 100) < 3, 1] += np.where(sagging[np.abs(sagging[:, 0] - 100) < 3, 1] < 1, 2.0, 0.0)
    assert bridged(sagging, [found])[:, 1].min() > -0.1
    ring = shapely.LinearRing(SQUARE)
    near = bridged(sagging, [found])
    assert float(shapely.distance(shapely.points(near), ring).max()) < 0.1
    assert cuts_at(view(cut=cut - (93.0, 0.0)), SQUARE) == []


def test_lines_that_follow_the_edge() -> None:
    """A line 10 mm within follows it, one that slants does not; two halves become a closed line."""
    ring = shapely.LinearRing(SQUARE)
    assert follows(Stroke(np.array([(20.0, 10.0), (180.0, 10.0)])), ring)
    assert not follows(Stroke(np.array([(20.0, 10.0), (180.0, 30.0)])), ring)
    halves = [
        Stroke(even(np.array([(10.0, 130.0), (10, 10), (190, 10)]), 0.5)),
        Stroke(even(np.array([(190.0, 15), (190, 140), (10, 140)]), 0.5)),
    ]
    ((points, is_ring),) = in_order(halves, ring)
    assert is_ring and shapely.Polygon(points).area == pytest.approx(180 * 130, rel=0.01)
