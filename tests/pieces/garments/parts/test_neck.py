"""Collar and hood: as long as the neckline they are sewn to, by shapely's lengths."""

from __future__ import annotations

import pytest
import shapely

from pieces.errors import DraftError
from pieces.garments.parts.neck import hood, stand_collar

INCH = 25.4


@pytest.mark.parametrize("half", [150.0, 230.0, 320.0])
@pytest.mark.parametrize("height", [25.0, 60.0])
def test_collar(half: float, height: float) -> None:
    """Its lower edge is half the neckline, its front end as high as asked, its upper edge shorter: it leans inwards."""
    collar = stand_collar(half, height, 8.0, 10.0, 60.0)
    assert shapely.LineString(collar.edge("neck").points).length == pytest.approx(half, abs=0.01)
    assert collar.edge("front end").length == pytest.approx(height)
    assert 0.7 * half < collar.edge("upper edge").length < half
    assert (collar.cut, collar.on_fold) == (2, True)
    (notch,) = collar.notches
    assert shapely.LineString(collar.edge("neck").points).project(shapely.Point(notch.point)) == pytest.approx(60.0)


@pytest.mark.parametrize("half", [200.0, 280.0, 330.0])
def test_hood(half: float) -> None:
    """Its neck edge is half the neckline; from the neckline over the head it is higher than asked, not half as high."""
    found = hood(half, 13.5 * INCH, 10.0, 10.0, 150.0)
    assert shapely.LineString(found.edge("neck").points).length == pytest.approx(half, abs=0.01)
    assert found.edge("face").length > 13.5 * INCH
    assert (found.cut, found.mirrored_pair) == (2, True)


def test_hood_that_does_not_fit() -> None:
    """A hood as low as a hand on a wide neckline is refused."""
    with pytest.raises(DraftError, match="choose another hood_height"):
        hood(320.0, 5 * INCH, 10.0, 10.0, 150.0)
