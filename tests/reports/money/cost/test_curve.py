"""Unit cost over the number of garments, and what makes its steps."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from pieces.units import Units
from reports.money.cost.curve import cost_curve, numbers_to
from reports.money.cost.sheet import Charge, cost_run
from reports.money.cost.sources import Expense, Supply, Work
from reports.money.cost.tariff import Tariff
from reports.money.cost.words import curve_lines
from reports.money.price import Price, to_cents
from tests.make.studio import QUANTITIES, curve_sources, entries

if TYPE_CHECKING:
    from reports.money.cost.curve import CostCurve

ONE = {("rust", "M"): 1}


def supply(price: str, *breaks: tuple[int, str], step: int = 1, each: int = 1) -> Supply:
    """Something that is sold by the piece."""
    steps = tuple((Fraction(at_least), Price.parse(text)) for at_least, text in breaks)
    return Supply(
        "zip", "trims", {("rust", "M"): Fraction(each)}, Tariff(Price.parse(price), Fraction(step), Fraction(0), steps)
    )


@pytest.fixture(scope="module")
def studio() -> CostCurve:
    """The studio's curve."""
    return cost_curve(curve_sources(), QUANTITIES, entries().pricing.charges())


def test_at_the_order_it_is_the_run(studio: CostCurve) -> None:
    """At the number ordered the curve has the run's own cost, and the mean garment's, to the cent."""
    cost = cost_run(curve_sources(), QUANTITIES, entries().pricing.charges())
    point = studio.points[39]
    assert (studio.ordered, point.garments, point.run) == (40, 40, cost.run.total)
    assert point.unit == to_cents(Fraction(cost.run.total) / 40) == cost.garment.total


def test_the_curve_reaches_past_the_order() -> None:
    """300 ordered: to 375, each number. 2,000: to 2,500, about 500 numbers, 2,000 among them; steps say from where."""
    assert numbers_to(40) == list(range(1, 201))
    assert numbers_to(300) == list(range(1, 376))
    many = numbers_to(2_000)
    assert many == sorted(set(many)) and many[0] == 1 and many[-1] == 2_500 and 2_000 in many and len(many) <= 503
    curve = cost_curve([supply("2.00 / piece", (100, "1.50 / piece"))], ONE, (), [50, 90, 120])
    (step,) = curve.steps
    assert (step.before, step.garments) == (50, 90)
    assert any("from 50 to 90 garments it falls by 0.33" in line for line in curve_lines(curve, "", Units.METRIC))


def test_the_curve_passes_through_the_sheet(studio: CostCurve) -> None:
    """Where a sheet is given, the point of the order's number has its total, and no other point changes."""
    cost = cost_run(curve_sources(), QUANTITIES, ())
    through = cost_curve(curve_sources(), QUANTITIES, entries().pricing.charges(), sheet=cost.run)
    assert through.points[39].run == cost.run.total != studio.points[39].run
    assert through.points[:39] + through.points[40:] == studio.points[:39] + studio.points[40:]


def test_every_run_costs_more_than_a_smaller_one(studio: CostCurve) -> None:
    """A run never costs less than one of one garment fewer, as what is bought is bought the cheapest way."""
    runs = [point.run for point in studio.points]
    assert [point.garments for point in studio.points] == list(range(1, 201))
    assert runs == sorted(runs)


def test_spread_set_up_alone() -> None:
    """A set-up of 300 and a zip of 2 alone: 302, 152, 102 and so on, without a step."""
    curve = cost_curve([Expense("pattern", Decimal(300)), supply("2.00 / piece")], ONE, (), range(1, 31))
    assert [point.unit for point in curve.points] == [to_cents(Fraction(300, n) + 2) for n in range(1, 31)]
    assert not curve.steps and not curve.small_rises


def test_a_break_is_named() -> None:
    """Zips at 4.20, from 25 on 3.60: from 22 on 25 are bought, and that is the one step."""
    curve = cost_curve([supply("4.20 / piece", (25, "3.60 / piece"))], ONE, (), range(1, 41))
    (step,) = curve.steps[:1]
    (cause,) = step.causes
    assert (step.garments, cause.why, cause.bought.quantity, cause.bought.up_to_break) == (22, "break", 25, True)
    assert step.change == to_cents(Fraction(90, 22)) - Decimal("4.20")
    assert [point.unit for point in curve.points[24:]] == [Decimal("3.60")] * 16
    words = " ".join(curve_lines(curve, "", Units.METRIC))
    assert (
        "Step 1: at 22 garments it falls by 0.11: zip: 25 pieces at 3.60 / piece cost less than the 22 pieces" in words
    )


def test_a_whole_step_is_named() -> None:
    """Labels in tens of 1.00 each: the eleventh garment has a second ten bought, and costs 20 / 11 instead of 1."""
    curve = cost_curve([supply("1.00 / piece", step=10)], ONE, (), range(1, 31))
    assert [step.garments for step in curve.steps] == [11, 21]
    first = curve.steps[0]
    assert first.change == to_cents(Fraction(20, 11)) - 1
    assert first.causes[0].why == "whole step"
    assert "Step 1: at 11 garments it rises by 0.82: zip: 20 pieces in whole steps." in list(
        curve_lines(curve, "", Units.METRIC)
    )


def test_every_rise_is_explained(studio: CostCurve) -> None:
    """Wherever the studio's unit cost rises, a step or a smaller rise is listed there, with its cause."""
    named = {step.garments: step for step in (*studio.steps, *studio.small_rises)}
    for before, after in zip(studio.points, studio.points[1:], strict=False):
        if after.unit > before.unit:
            assert named[after.garments].causes
    assert {cause.supply.name for step in studio.steps for cause in step.causes} >= {"zip 24 in", "sweatshirt fleece"}


def test_every_break_is_explained(studio: CostCurve) -> None:
    """Wherever something is bought at another price than for one garment fewer, a step names it."""
    named = {(step.garments, cause.supply.name) for step in studio.steps for cause in step.causes}
    supplies = [source for source in curve_sources() if isinstance(source, Supply)]
    for before, after in zip(studio.points, studio.points[1:], strict=False):
        for source, old, new in zip(supplies, before.bought, after.bought, strict=True):
            assert old.price == new.price or (after.garments, source.name) in named


def test_pays_from(studio: CostCurve) -> None:
    """It pays from the number on from which every run brings in its cost: by trying all."""
    for price in (Decimal(60), Decimal(75), Decimal("146.00")):
        losing = [point.garments for point in studio.points if price * point.garments < point.run]
        wanted = max(losing) + 1 if losing else 1
        assert studio.pays_from(price) == wanted
    assert studio.pays_from(Decimal(20)) is None


def test_charges_hold_at_every_number() -> None:
    """With 10 % overhead every point is 10 % dearer."""
    sources = [Work("seams", "sewing", Price.parse("12.00 / h"), Fraction(25))]
    plain = cost_curve(sources, ONE, (), range(1, 9))
    more = cost_curve(sources, ONE, [Charge("overhead", "overhead", Decimal(10))], range(1, 9))
    assert [point.run for point in plain.points] == [5 * n for n in range(1, 9)]
    assert [point.run for point in more.points] == [Decimal("5.50") * n for n in range(1, 9)]


def test_an_expense_that_grows_with_the_garments() -> None:
    """Cutting of 123.50 for forty is 3.0875 a garment at any number; it pays at the very cost, and not a cent below."""
    curve = cost_curve([Expense("cutting", Decimal("123.50"), "cutting", 40)], ONE, (), (20, 40, 80))
    assert [point.run for point in curve.points] == [Decimal("61.75"), Decimal("123.50"), Decimal("247.00")]
    flat = cost_curve([Expense("cutting", Decimal(40), "cutting", 40)], ONE, (), range(1, 9))
    assert (flat.pays_from(Decimal("1.00")), flat.pays_from(Decimal("0.99"))) == (1, None)


def test_it_pays_from_where_every_larger_run_does() -> None:
    """Labels in tens at 8.00 a ten, sold at 1.00 each: 8 and 9 and 10 pay, 11 to 15 do not, and from 16 on all do."""
    curve = cost_curve([supply("0.80 / piece", step=10)], ONE, (), range(1, 21))
    paying = [point.garments for point in curve.points if point.garments >= point.run]
    assert paying == [8, 9, 10, 16, 17, 18, 19, 20]
    assert curve.pays_from(Decimal("1.00")) == 16


def test_unit_cost_by_hand() -> None:
    """A set-up of 12 alone: 12.00 for one garment, 6.00 each for two, 3.00 each for four."""
    curve = cost_curve([Expense("pattern", Decimal(12))], ONE, (), (1, 2, 4))
    assert [point.unit for point in curve.points] == [12, 6, 3]
