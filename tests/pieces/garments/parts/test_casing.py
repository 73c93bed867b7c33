"""A casing for elastic."""

from __future__ import annotations

import pytest

from pieces.garments.parts.casing import casing_allowance, elastic_for_waist, waist_elastic

INCH = 25.4


def test_elastic_lies_in_its_casing() -> None:
    """A casing of 1 1/4 in takes elastic of 1 in, and the raw edge under; for a waist of 28 in it is 26.6 in long."""
    assert casing_allowance(1.25 * INCH) == pytest.approx(1.5 * INCH)
    bought = elastic_for_waist(waist_elastic(28 * INCH), 1.25 * INCH)
    assert bought.width == pytest.approx(INCH)
    assert bought.needed == pytest.approx((26.6 + 1) * INCH)  # 1 in where its ends are overlapped
