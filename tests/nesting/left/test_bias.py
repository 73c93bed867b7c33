"""Strips on the bias of a rectangle: never more than can be cut, and not much less."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.errors import CheckError
from nesting.left.bias import bias_strips
from nesting.verify.free import check_inside


@pytest.mark.parametrize(("side", "real"), [(12, 60), (13, 72), (15, 100)])
def test_real_yields_of_squares(side: int, real: int) -> None:
    """Squares of 12, 13 and 15 in gave 60, 72 and 100 in of strip 2 in wide: no more, and at least nine tenths.

    A sewing page's yields, seen once; the area would say 72, 84.5 and 112.5 in.
    """
    total = sum(strip.length for strip in bias_strips(side, side, 2))
    assert 0.9 * real <= total <= real < side * side / 2


def test_one_strip_by_hand() -> None:
    """Along the diagonal of a square of 10 a strip of 2 is 10 * sqrt(2) - 2 long: an end loses half its width."""
    strips = bias_strips(10, 10, 2, least=12)
    assert [strip.length for strip in strips] == [pytest.approx(10 * 2**0.5 - 2, abs=0.05)]
    assert bias_strips(10, 1, 2) == []


@settings(max_examples=30, deadline=None)
@given(st.floats(20, 300), st.floats(20, 300), st.floats(3, 60), st.sampled_from([0.0, 3.0]))
def test_all_lie_in_the_rectangle(length: float, width: float, depth: float, gap: float) -> None:
    """Each is a rectangle as wide as asked and as long as told, at 45 degrees, within, and the gap from the others."""
    strips = bias_strips(length, width, depth, gap=gap)
    shapes = [shapely.Polygon(strip.corners) for strip in strips]
    whole = shapely.box(0, 0, length, width).buffer(1e-6)
    for strip, shape in zip(strips, shapes, strict=True):
        assert whole.covers(shape)
        assert shape.area == pytest.approx(strip.length * depth)
        (ax, ay), (bx, by) = strip.corners[0], strip.corners[3]
        assert bx - ax == pytest.approx(by - ay)
        assert (bx - ax) * 2**0.5 == pytest.approx(strip.length)
    assert all(one.distance(other) >= gap - 1e-6 for one, other in combinations(shapes, 2))
    check_inside((0, length, 0, width), [strip.corners for strip in strips], gap)


def test_check_sees_what_is_wrong() -> None:
    """A strip that sticks out of its rectangle, and two that overlap, are refused."""
    (strip,) = bias_strips(10, 10, 2, least=12)
    with pytest.raises(CheckError, match="beyond its rectangle"):
        check_inside((0, 9, 0, 10), [strip.corners], 0.0)
    with pytest.raises(CheckError, match="overlap"):
        check_inside((0, 10, 0, 10), [strip.corners, strip.corners], 0.0)
