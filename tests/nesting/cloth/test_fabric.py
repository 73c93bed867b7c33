"""Cloth as it is sold."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import SpreadError
from pieces.length import mm
from tests.make.lengths import in_mm


def test_usable_width() -> None:
    """60 in cloth with selvedges of 1/2 in can be used over 59 in."""
    assert Fabric("twill", mm(1524.0), mm(12.7)).usable_width == pytest.approx(59 * 25.4)


def test_nap_allows_one_way() -> None:
    """With a nap pieces lie one way; without, also the other way round."""
    plain = Fabric("twill", mm(1500.0))
    assert (plain.heads(3), replace(plain, nap=True).heads(3)) == ([((0.0, 180.0), 3)], [((0.0,), 3)])
    assert replace(plain, nap="by garment").heads(3) == [((0.0,), 2), ((180.0,), 1)]


def test_nothing_between_the_selvedges() -> None:
    """Cloth that is all selvedge is refused."""
    with pytest.raises(SpreadError, match=r"its selvedges take 1 1/8 in .30 mm."):
        Fabric("tape", mm(30.0), mm(15.0))


@pytest.mark.parametrize(
    "wrong",
    [
        {"width": float("nan")},
        {"width": float("inf")},
        {"width": -1.0},
        {"selvedge": -5.0},
        {"gap": -1.0},
        {"gap": float("nan")},
    ],
)
def test_sizes_that_are_none(wrong: dict[str, Any]) -> None:
    """A negative size, or none at all, is refused and named."""
    (name,) = wrong
    with pytest.raises(SpreadError, match=f"the {name} of 'twill' must be 0 mm or more"):
        Fabric("twill", **in_mm({"width": 1500.0} | wrong))
