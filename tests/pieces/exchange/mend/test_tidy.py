"""Outlines as drawn, made such as can be cut; what is changed is told."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from pieces.exchange.imported import ImportReport
from pieces.exchange.mend.tidy import is_beyond_mending, tidy

SQUARE = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]


def test_a_sound_outline_is_turned_counter_clockwise_and_nothing_is_told() -> None:
    """A square drawn clockwise is the same square the other way round."""
    report = ImportReport("SVG")
    ring = tidy(np.array(SQUARE[::-1]), "panel", report)
    assert ring is not None and shapely.Polygon(ring).exterior.is_ccw
    assert shapely.Polygon(ring).equals(shapely.Polygon(SQUARE))
    assert not (report.repairs or report.left_out)


def test_doubled_points_are_dropped_and_counted() -> None:
    """A corner that stands there twice stands there once."""
    report = ImportReport("SVG")
    ring = tidy(np.array([*SQUARE[:2], *SQUARE[1:]]), "panel", report)
    assert ring is not None and len(ring) == 4
    assert any("1 doubled point dropped" in str(told) for told in report.repairs)


def test_a_small_loop_is_cut_off() -> None:
    """A crossing that costs under a twentieth of the area is mended: the larger part stays, without it."""
    report = ImportReport("SVG")
    ring = tidy(np.array([(0, 0), (100, 0), (100, 100), (0, 100), (0.0, 90.0), (-5.0, 95.0), (5.0, 95.0)]), "p", report)
    assert ring is not None and shapely.Polygon(ring).is_valid
    assert report.repairs


@pytest.mark.parametrize(
    ("ring", "why"),
    [
        ([(0, 0), (100, 100), (100, 0), (0, 100)], "crosses itself"),  # a bow tie: half of it would be lost
        ([(0, 0), (4, 0), (4, 4), (0, 4)], "16 mm²"),
        ([(0, 0), (100, 0), (0, 0)], "encloses nothing"),
        ([(0, 0), (2e6, 0), (0, 100)], "kilometre"),
        ([(0, 0), (float("nan"), 0), (0, 100)], "finite"),
    ],
)
def test_what_cannot_be_a_piece_is_left_out_with_the_reason(ring: list[tuple[float, float]], why: str) -> None:
    """Nothing comes of it, and the report says why."""
    report = ImportReport("SVG")
    assert tidy(np.array(ring, dtype=float), "panel", report) is None
    assert any(why in str(told) for told in report.left_out)


def test_crossings_of_very_many_points_are_not_mended() -> None:
    """A zigzag of 2000 points that crosses itself is beyond it; a bow tie is not, nor a sound outline."""
    zigzag = np.array([(i, 100 * (i % 2)) for i in range(2000)], dtype=float)
    assert is_beyond_mending(zigzag)
    assert not is_beyond_mending(zigzag[:9])
    assert not is_beyond_mending(np.array(SQUARE))
