"""Casings: room for the elastic, worked out by hand."""

from __future__ import annotations

import pytest

from pieces.garments.parts.casing import (
    casing_allowance,
    casing_depth,
    casing_strip,
    cord_caution,
    elastic_for_waist,
    folded_over,
    waist_elastic,
)

INCH = 25.4


def test_depths() -> None:
    """Elastic of 1 in runs in 1 1/4 in; folded over with 1/4 in turned under, 1 1/2 in are cut."""
    assert casing_depth(INCH) == pytest.approx(1.25 * INCH)
    assert folded_over(INCH) == pytest.approx(1.5 * INCH)


def test_strip() -> None:
    """Two strips, each half the opening long and twice the depth wide, with the seam all round; notched at the side."""
    strip = casing_strip(500.0, 30.0, 10.0, 240.0)
    assert (strip.cut, strip.length, strip.width) == (2, pytest.approx(520), pytest.approx(80))
    assert [notch.point for notch in strip.notches] == [(240.0, 0.0), (240.0, 60.0)]
    assert strip.edge("edge").length == strip.edge("other edge").length == 500.0


def test_caution() -> None:
    """Only a child's cord is warned of."""
    assert len(cord_caution("children")) == 1
    assert not cord_caution("women") and not cord_caution("men")


def test_elastic_lies_in_its_casing() -> None:
    """A casing of 1 1/4 in takes elastic of 1 in, and the raw edge under; for a waist of 28 in it is 26.6 in long."""
    assert casing_allowance(1.25 * INCH) == pytest.approx(1.5 * INCH)
    bought = elastic_for_waist(waist_elastic(28 * INCH), 1.25 * INCH)
    assert bought.width == pytest.approx(INCH)
    assert bought.needed == pytest.approx((26.6 + 1) * INCH)  # 1 in where its ends are overlapped
