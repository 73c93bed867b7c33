"""The longest strips of a width beside what lies on the cloth."""

from __future__ import annotations

import pytest

from nesting.left.bare import bare_cloth
from nesting.left.strips import longest_strips
from tests.nesting.left.test_rectangles import SIDE, block, marker_with


def test_beside_one_rectangle() -> None:
    """Beside 60 x 40 on 100 x 100: strips 30 wide are 100 long twice above it, then 40 long behind it. By hand."""
    found = longest_strips(bare_cloth(marker_with((block(60, 40), 0, 0)), SIDE), 30.0, 5, 10.0)
    assert [tuple(one.zone) for one in found] == [
        pytest.approx(zone, abs=1e-5) for zone in ((0, 100, 40, 70), (0, 100, 70, 100), (60, 100, 0, 30))
    ]


def test_gap_and_least() -> None:
    """With a gap of 5 they keep it from the piece and from one another; what is shorter than asked is left out."""
    cloth = bare_cloth(marker_with((block(60, 40), 0, 0), gap=5.0), SIDE)
    found = longest_strips(cloth, 25.0, 5, 36.0)
    assert [tuple(one.zone) for one in found] == [
        pytest.approx(zone, abs=1e-5) for zone in ((0, 100, 45, 70), (0, 100, 75, 100))
    ]
    assert longest_strips(cloth, 101.0, 5, 1.0) == []


def test_as_wide_as_the_cloth() -> None:
    """A strip of all of the cloth's width lies behind what lies on it."""
    (found,) = longest_strips(bare_cloth(marker_with((block(60, 40), 0, 0)), SIDE), SIDE, 5, 1.0)
    assert tuple(found.zone) == pytest.approx((60, 100, 0, 100), abs=1e-5)
