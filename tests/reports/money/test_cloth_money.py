"""What cloth and rib of a job cost, and how much of them is bought: each rule by itself, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from pieces.units import INCH, YARD
from reports.ask.job import parse_job
from reports.money.price import Price
from reports.money.weight import Weight
from tests.make.cloth import back, tab
from tests.make.model import HEAD, with_fabrics

if TYPE_CHECKING:
    from reports.ask.offer import FabricOffer, RibOffer

OUNCE, POUND = 28.349523125, 453.59237
"""Grams, exactly: the international yard and pound agreement of 1959 (NIST Special Publication 811, appendix B)."""


def cloth(*lines: str) -> FabricOffer:
    """One cloth of a job, 150 cm wide, with nothing added to what is bought of it unless told."""
    plain = {"end_allowance": '"0 cm"', "sold_by": '"1 cm"'}
    told = {line.partition(" ")[0] for line in lines}
    usual = [f"{key} = {value}" for key, value in plain.items() if key not in told]
    return parse_job(with_fabrics("\n".join(['name = "cloth"', 'width = "150 cm"', *usual, *lines, ""]))).fabric[0]


def rib(*lines: str) -> RibOffer:
    """One rib of a job."""
    return parse_job(HEAD + "\n".join(['[[rib]]\nname = "rib"', *lines, ""])).rib[0]


def bought(offer: FabricOffer, length: float, lengths: int = 1, *, on_pattern: bool = False) -> dict[str, float]:
    """What is bought for a marker, cm, and each addition by its first word."""
    found = offer.purchase(length, lengths, on_pattern=on_pattern)
    added = {one.what.split()[0]: round(one.mm / 10, 6) for one in found.additions if one.mm}
    return {"need": found.need / 10, **added, "buy": round(found.buy / 10, 6)}


def test_each_ply_has_its_ends() -> None:
    """Three plies of 2 m with 1 cm at each end of each: 6 m and six ends, 606 cm."""
    assert bought(cloth('end_allowance = "1 cm"'), 2000, 3) == {"need": 600, "end": 6, "buy": 606}


def test_a_splice_is_bought() -> None:
    """Where two lengths are joined, 20 cm lie double: 220 cm for 2 m."""
    assert bought(cloth('splice = "20 cm"'), 2000) == {"need": 200, "splice": 20, "buy": 220}


def test_a_repeat_is_bought_where_pieces_are_matched() -> None:
    """On a repeat of 15 cm the marker begins somewhere within the first: 215 cm; unmatched, 2 m."""
    stripes = cloth('repeat_along = "15 cm"')
    assert bought(stripes, 2000, on_pattern=True) == {"need": 200, "one": 15, "buy": 215}
    assert bought(stripes, 2000)["buy"] == 200


def test_plies_begin_whole_repeats_apart() -> None:
    """Four plies of 62 cm on a repeat of 30 cm begin 90 cm apart: 3 × 90 + 62 = 332 cm, and 30 cm to begin with.

    With 15 cm at each end a ply takes 92 cm, and the next begins 120 cm on: 3 × 120 + 92 + 30 = 482 cm.
    """
    checks = cloth('repeat_along = "30 cm"')
    assert bought(checks, 620, 4, on_pattern=True) == {"need": 248, "one": 30, "between": 84, "buy": 362}
    assert bought(cloth('repeat_along = "30 cm"', 'end_allowance = "15 cm"'), 620, 4, on_pattern=True)["buy"] == 482
    assert bought(checks, 600, 4, on_pattern=True)["buy"] == 270
    assert bought(checks, 620, 4)["buy"] == 248


def test_plies_of_several_lays_begin_whole_repeats_apart() -> None:
    """Two plies of 62 cm and one of 80 cm: 3 × 90 cm on a repeat of 30, less 10 after the 80, and 30."""
    found = cloth('repeat_along = "30 cm"').purchase_all([(2, 620.0), (1, 800.0)], on_pattern=True)
    assert found.buy == pytest.approx(2900)


def test_what_is_enough_knows_no_price() -> None:
    """9 yd are raised to 10 for the lower price, and 9 yd are enough all the same."""
    raised = cloth(*BREAKS).purchase(8.5 * YARD)
    assert (raised.enough, raised.buy) == pytest.approx((9 * YARD, 10 * YARD))


def test_margin_and_least_length() -> None:
    """10 % more of 2 m are 220 cm; where 3 m are the least sold, 3 m."""
    assert bought(cloth("margin = 10"), 2000) == {"need": 200, "margin,": 20, "buy": 220}
    assert bought(cloth('minimum = "3 m"'), 2000) == {"need": 200, "up": 100, "buy": 300}


def test_washed_before_cutting() -> None:
    """Cloth that loses 20 % along and 10 % across: 2 m are cut of 250 cm, and 150 cm across are left of 150 x 0.9."""
    offer = cloth("shrinkage = 20", "shrinkage_across = 10")
    assert bought(offer, 2000) == {"need": 200, "shrinkage": 50, "buy": 250}
    assert offer.fabric().width == pytest.approx(1350)
    assert offer.fabric().shrinkage == (0.0, 0.0)


def test_washed_after_cutting() -> None:
    """The same cloth washed as a garment: pieces are cut larger on its full width, and no length is added."""
    offer = cloth("shrinkage = 20", "shrinkage_across = 10", 'washed = "after"')
    assert bought(offer, 2000) == {"need": 200, "buy": 200}
    assert (offer.fabric().width, offer.fabric().shrinkage) == (1500, (20, 10))
    assert offer.fabric().growth == pytest.approx((1.25, 1 / 0.9))


def test_the_cloth_is_as_told() -> None:
    """Selvedge, nap, gap and repeats of an entry are those of the cloth that is laid."""
    lines = ('selvedge = "1 cm"', 'nap = "by garment"', 'gap = "3 mm"', 'repeat_along = "8 cm"')
    laid = cloth(*lines, 'repeat_across = "6 cm"').fabric()
    assert (laid.selvedge, laid.nap, laid.gap, laid.repeat_along, laid.repeat_across) == (10, "by garment", 3, 80, 60)
    assert laid.usable_width == 1480


def test_tilt_of_cloth_and_piece() -> None:
    """A piece may tilt as far as its cloth or itself allows; a half on a fold never."""
    offer = cloth("tilt = 3")
    assert [offer.allowed(replace(tab(), tilt=tilt)).tilt for tilt in (0.0, 5.0)] == [3.0, 5.0]
    assert offer.allowed(back()).tilt == 0.0


BREAKS = (
    'price = "14.00 / yd"',
    'breaks = [{ at_least = "20 yd", price = "10.00 / yd" }, { at_least = "10 yd", price = "12.00 / yd" }]',
    'sold_by = "1 yd"',
)


@pytest.mark.parametrize(
    ("yards", "cost"), [(9, "126.00"), (10, "120.00"), (11, "132.00"), (19, "228.00"), (20, "200.00"), (21, "210.00")]
)
def test_the_price_of_a_length(yards: int, cost: str) -> None:
    """From 10 yd on 12.00, from 20 yd on 10.00, all of it at that price, in whatever order the breaks are written."""
    assert cloth(*BREAKS).cost(yards * YARD) == Decimal(cost)


@pytest.mark.parametrize(
    ("yards", "text"),
    [(7.5, "8 yd"), (8.5, "10 yd"), (12.5, "13 yd"), (16.5, "20 yd"), (15.5, "16 yd"), (20.5, "21 yd")],
)
def test_as_much_as_costs_least(yards: float, text: str) -> None:
    """9 yd at 14.00 are 126, 10 at 12.00 are 120; 17 at 12.00 are 204, 20 at 10.00 are 200; 8 and 16 stay."""
    assert cloth(*BREAKS).purchase(yards * YARD).text == text


@pytest.mark.parametrize(("unit", "grams"), [("kg", 1000.0), ("g", 1.0), ("lb", POUND), ("oz", OUNCE)])
def test_units_of_weight(unit: str, grams: float) -> None:
    """10 for each unit of weight: what 2,268 g cost, to the cent, by the units' definitions."""
    price = Price.parse(f"10.00 / {unit}")
    assert price.size == pytest.approx(grams, rel=1e-12)
    assert price.of(2268.0) == pytest.approx(Decimal(10 * 2268.0 / grams), abs=Decimal("0.005"))


@pytest.mark.parametrize(("unit", "minutes"), [("h", 60), ("hour", 60), ("min", 1)])
def test_pay(unit: str, minutes: int) -> None:
    """18.00 for each: 90 minutes cost 27.00 by the hour and 1,620.00 by the minute."""
    assert Price.parse(f"18.00 / {unit}").of(90) == Decimal(18 * 90) / minutes


def test_cloth_by_weight() -> None:
    """5 m of 150 cm, selvedges included, at 200 g/m² are 1.5 kg: 45.00 at 30 / kg; 3.307 lb, 33.07 at 10 / lb."""
    kilo, pound = (
        cloth(f'price = "{price}"', 'weight = "200 g/m2"', 'selvedge = "2 cm"') for price in ("30 / kg", "10 / lb")
    )
    assert kilo.kilograms(5000) == pytest.approx(1.5)
    assert (kilo.cost(5000), pound.cost(5000)) == (Decimal("45.00"), Decimal("33.07"))


def test_ounces_a_square_yard() -> None:
    """A square yard of 7 oz cloth weighs seven ounces, 198.4 g; 7 oz/yd² are 237.3 g/m²."""
    weight = Weight.parse("7 oz/yd2")
    assert weight.kilograms(YARD, YARD) * 1000 == pytest.approx(7 * OUNCE)
    assert weight.gsm == pytest.approx(237.34, abs=0.005)


def test_rib_by_weight() -> None:
    """1 m of rib 80 cm round at 300 g/m² weighs 240 g: 4.80 at 20 / kg."""
    offer = rib('opened = "80 cm"', 'price = "20 / kg"', 'weight = "300 g/m2"')
    assert offer.cost(1000) == Decimal("4.80")


def test_rib_is_as_told() -> None:
    """Selvedges of flat rib, and whether a tube may stay closed, are those of the rib that is planned."""
    flat = rib('width = "80 cm"', 'form = "flat"', 'selvedge = "1 cm"').stock()
    assert (flat.width, flat.usable) == (800, 780)
    tube = rib('lay_flat = "10 in"', "closed = true").stock()
    assert (tube.form, tube.width, tube.closed, tube.depth) == ("tube", 20 * INCH, True, None)
    assert rib('width = "42 in"', 'form = "strips"', 'depth = "8 in"').stock().depth == 8 * INCH
