"""Equal outlines are drawn once, however they are flipped."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from nesting.shape.grid import Grid
from nesting.shape.profile import WAYS, Flips, form_of

HOOK = np.array([(0.0, 0.0), (90.0, 0.0), (90.0, 20.0), (30.0, 20.0), (30.0, 60.0), (0.0, 60.0)])


@pytest.mark.parametrize("flips", WAYS)
def test_one_form_for_all_four_ways(flips: Flips) -> None:
    """A hook, turned and turned over, has the form of the hook; flipped back it holds the outline it came from."""
    outline = flips.of(HOOK, (90.0, 60.0))
    if flips.along != flips.across:
        outline = outline[::-1]
    form, found = form_of(outline, 4.0, Grid(200.0))
    assert form is form_of(HOOK, 4.0, Grid(200.0))[0]
    drawn, parts = form.flipped(found)
    shape = shapely.Polygon(drawn)
    assert shape.exterior.is_ccw
    assert shape.covers(shapely.Polygon(outline))
    assert shape.area == pytest.approx(shapely.Polygon(HOOK).buffer(2.0, join_style="mitre").area, rel=0.02)
    assert sum(shapely.Polygon(drawn[list(part)]).area for part in parts) == pytest.approx(shape.area)


def test_another_buffer_is_another_form() -> None:
    """It is drawn larger."""
    assert form_of(HOOK, 4.0, Grid(200.0))[0] is not form_of(HOOK, 6.0, Grid(200.0))[0]
