"""Lengths of a buying list: needs rounded up, what there is rounded down."""

from __future__ import annotations

import pytest

from pieces.units import Units
from reports.money.lengths import ON_TAPE, write_left, write_length, write_need


@pytest.mark.parametrize(
    ("units", "mm", "length", "need", "left"),
    [
        (Units.METRIC, 1234.0, "1.23 m", "1.24 m", "1.23 m"),
        (Units.METRIC, 1236.0, "1.24 m", "1.24 m", "1.23 m"),
        (Units.METRIC, 1230.0, "1.23 m", "1.23 m", "1.23 m"),
        (Units.INCHES, 914.4 * 1.5, "1.50 yd", "1.50 yd", "1.50 yd"),
        (Units.INCHES, 914.4 * 1.504, "1.50 yd", "1.51 yd", "1.50 yd"),
    ],
)
def test_hundredths(units: Units, mm: float, length: str, need: str, left: str) -> None:
    """To the nearest, up, and down."""
    assert (write_length(mm, units), write_need(mm, units), write_left(mm, units)) == (length, need, left)


def test_short_ones_are_written_as_on_a_tape() -> None:
    """Under two feet in inches or centimetres."""
    assert write_length(254.0, Units.INCHES) == "10 in"
    assert "yd" not in write_need(ON_TAPE - 1, Units.INCHES)
    assert "yd" in write_need(ON_TAPE, Units.INCHES)
