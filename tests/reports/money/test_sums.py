"""Tests of sums as they are shown: needs rounded up, and all lines together what is bought."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as some

from pieces.units import Units, parse_length
from reports.money.yardage import Increment, purchase

STEPS = ("1/8 yd", "1/16 yd", "1/4 yd", "1 in", "0.1 m", "5 cm", "1 cm")
MM = {"in": Fraction(254, 10), "cm": Fraction(10)}


def shown_mm(text: str) -> Fraction:
    """A length as it is written, exactly, mm; by other code than that which wrote it."""
    number, unit = text.rsplit(" ", 1)
    return sum((Fraction(part) for part in number.split(" ")), Fraction(0)) * MM[unit]


@given(
    need=some.floats(1, 20_000) | some.integers(1, 20_000).map(float) | some.integers(1, 600).map(lambda n: n * 3.175),
    text=some.sampled_from(STEPS),
    ends=some.sampled_from([0.0, 10.0, 12.7, 25.4]) | some.floats(0, 100),
    shrinkage=some.sampled_from([0.0, 0.0, 3.0]) | some.floats(0, 29),
    margin=some.sampled_from([0.0, 0.0, 5.0]) | some.floats(0, 50),
    minimum=some.sampled_from([0.0, 914.4, 1000.0]),
    units=some.sampled_from(list(Units)),
)
@example(need=39.625 * 25.4, text="1/8 yd", ends=10.0, shrinkage=0.0, margin=0.0, minimum=0.0, units=Units.INCHES)
@example(need=914.4 + 1e-9, text="1/8 yd", ends=0.0, shrinkage=0.0, margin=0.0, minimum=0.0, units=Units.INCHES)
def test_lines_add_up(
    need: float, text: str, ends: float, shrinkage: float, margin: float, minimum: float, units: Units
) -> None:
    """Whatever the marker, the additions, the step and the units: the lines shown make exactly what is bought.

    Each line but the rounding up is no less than it truly is, to a thousandth of a millimetre, and no line is negative.
    """
    sold_by = Increment(parse_length(text), text)
    bought = purchase(need, sold_by, ends=ends, shrinkage=shrinkage, margin=margin, minimum=minimum)
    lines = bought.lines("marker", units)
    shown = [shown_mm(line.text) for line in lines]
    assert float(sum(shown)) == pytest.approx(bought.buy, abs=1.001e-3)
    assert all(mm >= 0 for mm in shown)
    true = [need, *(more.mm for more in bought.additions)]
    rounding = next(more.mm for more in bought.additions if more.kind == "rounding")
    tight = rounding < 0.02 * len(lines)  # then each running total is rounded up
    for i, mm in enumerate(true):
        if not (bought.additions[i - 1].kind == "rounding" and i):
            assert float(shown[i]) >= mm - (0.011 if tight else 1.001e-3)
    assert bought.buy >= bought.needed - 1.001e-3
    assert [line.mm for line in lines] == pytest.approx([float(mm) for mm in shown])


def test_marker_that_nearly_fills_the_step() -> None:
    """Where eighths of an inch would not add up, all is shown in finer steps, down to nothing left."""
    bought = purchase(39.66 * 25.4, Increment(114.3, "1/8 yd"), ends=10, shrinkage=0, margin=0)
    assert bought.text == "1 1/8 yd"
    assert [line.text for line in bought.lines("marker", Units.INCHES)] == ["39 11/16 in", "13/16 in", "0 in"]


def test_seen_fault() -> None:
    """39 5/8 in and 2 cm of ends on a purchase of 40 1/2 in: it said 40 3/8 in all and 0 in of rounding."""
    bought = purchase(39.6 * 25.4, Increment(114.3, "1/8 yd"), ends=10, shrinkage=0, margin=0)
    assert sum(shown_mm(line.text) for line in bought.lines("marker", Units.INCHES)) == Fraction("40.5") * MM["in"]


def test_cloth_sold_in_the_other_unit() -> None:
    """Inches cannot add up to 1.2 m, so that column is in centimetres; centimetres can add up to 1 1/8 yd."""
    by_metre = purchase(1100, Increment(100, "10 cm"), ends=10, shrinkage=0, margin=0)
    assert [line.text for line in by_metre.lines("marker", Units.INCHES)] == ["110 cm", "2 cm", "8 cm"]
    by_yard = purchase(1000, Increment(114.3, "1/8 yd"), ends=10, shrinkage=0, margin=0)
    assert [line.text for line in by_yard.lines("marker", Units.METRIC)] == ["100 cm", "2 cm", "0.87 cm"]


@pytest.mark.parametrize(("mm", "text"), [(1012.5, "1.0125 m"), (1000.0, "1 m"), (1000 / 3, "0.333334 m")])
def test_length_bought_is_not_written_short(mm: float, text: str) -> None:
    """A length to buy that has no short decimal is written with more of them, and rounded up."""
    assert Increment(12.5, "12.5 mm").write(mm) == text
