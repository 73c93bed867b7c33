"""From the marker's length to the length to buy."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from pieces.units import INCH, YARD, Units, parse_length
from reports.money.yardage import Increment, more_for_less, purchase


def step(text: str) -> Increment:
    """A step that a shop sells by."""
    return Increment(parse_length(text), text)


def test_yard() -> None:
    """A yard is 0.9144 m and an inch 25.4 mm exactly, by international agreement (Wikipedia, "Yard")."""
    assert parse_length("1 yd") == YARD == 914.4
    assert parse_length("1 in") == INCH == 25.4
    assert parse_length("1/8 yd") == parse_length("4 1/2 in") == 114.3


@pytest.mark.parametrize(
    ("need", "sold_by", "mm", "text"),
    [
        ("4.51 in", "1/8 yd", 228.6, "1/4 yd"),  # 2/8 yd; rounding up to the next eighth: common practice, no source
        ("1.601 m", "0.1 m", 1700.0, "1.7 m"),  # the same in metres
        ("4.5 in", "1/8 yd", 114.3, "1/8 yd"),
        ("9.1 in", "1/4 yd", 457.2, "1/2 yd"),
        ("47 1/2 in", "1/8 yd", 1257.3, "1 3/8 yd"),
        ("101 cm", "5 cm", 1050.0, "1.05 m"),
        ("101 cm", "50 mm", 1050.0, "1.05 m"),
        ("1.2 m", "1 metre", 2000.0, "2 m"),
        ("13 in", "1 ft", 609.6, "24 in"),
        ("13 in", "2 in", 355.6, "14 in"),
        ("50 in", "1/10 yd", 1280.16, "1.4 yd"),
        ("2 in", "1/16 yd", 57.15, "1/16 yd"),
    ],
)
def test_rounded_up(need: str, sold_by: str, mm: float, text: str) -> None:
    """A length is rounded up to a whole number of the steps sold, and written in the shop's unit."""
    bought = purchase(parse_length(need), step(sold_by), ends=0, shrinkage=0, margin=0)
    assert bought.buy == pytest.approx(mm, abs=1e-6)
    assert bought.text == text


def test_shrinkage() -> None:
    """100 cm at 5 % takes 105.263 cm, not 105: cut length is finished length / (1 - shrinkage) (computed)."""
    bought = purchase(1000, step("1 mm"), ends=0, shrinkage=5, margin=0)
    (shrinkage, _) = bought.additions
    assert shrinkage.what == "shrinkage before cutting, 5 %"
    assert 1000 + shrinkage.mm == pytest.approx(1052.63, abs=0.005)


def test_ends() -> None:
    """A ply is its marker and two end allowances: 2 cm each end, 100 plies, lose 4 m (onlineclothingstudy, 11/2015)."""
    bought = purchase(6000, step("1 mm"), ends=20, shrinkage=0, margin=0)
    (ends, _) = bought.additions
    assert 100 * ends.mm == 4000
    assert bought.buy == pytest.approx(6040)


def test_order() -> None:
    """The ends shrink with the rest, the margin is taken of all of it, and the rounding comes last."""
    bought = purchase(1980, step("0.1 m"), ends=10, shrinkage=20, margin=10)
    assert [round(addition.mm, 6) for addition in bought.additions] == [20, 500, 250, 50]
    assert bought.buy == pytest.approx(2800)
    assert "0.1 m" in bought.additions[-1].what


def test_all_that_is_bought_shrinks() -> None:
    """Marker 100, ends 2 x 1, splice 5 and repeat 13 cm are 120 cm once washed: at 20 %, 120 / 0.8 = 150 are bought."""
    bought = purchase(1000, step("1 mm"), ends=10, splice=50, start=130, shrinkage=20, margin=0)
    assert [round(addition.mm, 6) for addition in bought.additions] == [20, 50, 130, 300, 0]
    assert bought.buy == pytest.approx(1500)


def test_least_length_is_whole_steps() -> None:
    """At least 95 cm are sold, and by steps of 10 cm: for 50 cm a whole metre is bought; for 98 cm the same."""
    least, more = (purchase(n, step("0.1 m"), ends=0, shrinkage=0, margin=0, minimum=950) for n in (500, 980))
    assert [(round(addition.mm, 6), addition.what.split()[0]) for addition in least.additions] == [
        (450, "up"),
        (50, "rounded"),
    ]
    assert (least.buy, more.buy) == pytest.approx((1000, 1000))
    assert len(more.additions) == 1


def test_a_break_is_bought_in_whole_steps() -> None:
    """A lower price from 2.2 m on, where cloth is sold by half metres, is had with 2.5 m: 2.2 m are not sold."""
    bought = more_for_less(purchase(1900, step("0.5 m"), ends=0, shrinkage=0, margin=0), step("0.5 m"), 2200)
    assert (bought.buy, bought.text) == (pytest.approx(2500), "2.5 m")
    assert 1900 + sum(addition.mm for addition in bought.additions) == pytest.approx(2500)


def test_nothing_added() -> None:
    """An allowance of nothing has no line of its own."""
    bought = purchase(1000, step("0.1 m"), ends=0, shrinkage=0, margin=0)
    assert len(bought.additions) == 1
    assert bought.buy == pytest.approx(1000)


@given(
    need=some.floats(1, 50_000),
    text=some.sampled_from(["1/8 yd", "1/4 yd", "0.1 m", "5 cm", "1 in", "1 yd"]),
    ends=some.floats(0, 100),
    shrinkage=some.floats(0, 29),
    margin=some.floats(0, 100),
)
def test_adds_up(need: float, text: str, ends: float, shrinkage: float, margin: float) -> None:
    """The need and all additions make the length bought: enough, whole steps, and less than a step too much."""
    sold_by = step(text)
    bought = purchase(need, sold_by, ends=ends, shrinkage=shrinkage, margin=margin)
    assert need + sum(addition.mm for addition in bought.additions) == pytest.approx(bought.buy, abs=1e-6)
    wanted = (need + 2 * ends) / (1 - shrinkage / 100) * (1 + margin / 100)
    assert wanted - 0.002 <= bought.buy < wanted + sold_by.mm
    assert bought.buy / sold_by.mm == pytest.approx(round(bought.buy / sold_by.mm), abs=1e-9)


def test_lines() -> None:
    """A person reads every step, the need first and what to buy last, in the units of the job."""
    bought = purchase(1000, step("1/8 yd"), ends=12.7, shrinkage=0, margin=0)
    assert [(line.what, line.text) for line in bought.lines("marker", Units.INCHES)] == [
        ("marker", "39 3/8 in"),
        ("end allowance, both ends", "1 in"),
        ("rounded up to whole steps of 1/8 yd", "1/8 in"),
    ]
