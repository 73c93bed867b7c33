"""Graded points put into a polyline."""

from __future__ import annotations

import numpy as np
import pytest

from reports.export.dxf_rules import through

SQUARE = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)])


@pytest.mark.parametrize(
    ("spot", "closed", "place"),
    [
        ((40.0, 0.0), True, 1),
        ((0.0, 40.0), True, 4),  # on the side from the last corner to the first
        ((0.0, 40.0), False, None),  # which an open line does not have
        ((99.96, 0.0), True, None),  # a corner is near: it takes the place of that
        ((50.0, 50.0), True, None),  # lies on no side
    ],
)
def test_where_it_goes(spot: tuple[float, float], closed: bool, place: int | None) -> None:
    """A point on a side is a corner between those beside it; all other corners stay."""
    found = through(SQUARE, [spot], is_closed=closed)
    if place is None:
        assert len(found) == 4
        assert np.abs(found - SQUARE).max() < 0.05
    else:
        assert found[place] == pytest.approx(spot)
        assert np.delete(found, place, axis=0) == pytest.approx(SQUARE)
