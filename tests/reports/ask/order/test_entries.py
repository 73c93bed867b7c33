"""Trims, operations and pricing as an order file writes them."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from pydantic import ValidationError

from reports.ask.faults import first_fault
from reports.ask.offer import FabricOffer, RibOffer
from reports.ask.order.entries import Trim, cost_sources, currency_of, offer_supply
from reports.ask.pricing import Operation, Pricing
from reports.errors import PriceError
from reports.money.cost.sheet import cost_run
from tests.make.studio import CLOTH, ORDER, QUANTITIES, entries

if TYPE_CHECKING:
    from pydantic import BaseModel

    from reports.money.cost.sheet import CostLine

TABLES: dict[str, type[BaseModel]] = {"trim": Trim, "operation": Operation, "pricing": Pricing}
YARD = Fraction("914.4")


def lines(text: str, made: dict[tuple[str, str], int] = QUANTITIES) -> dict[str, CostLine]:
    """The run's lines by name."""
    asked = entries(text)
    cost = cost_run(cost_sources(asked.trim, asked.operation, asked.pricing, made), made, ())
    return {line.what: line for line in cost.run.lines}


def test_the_studios_order() -> None:
    """By hand: 27 short zips at 3.60, 13 long ones at 4.40, two cones of thread, 50 labels, 22 min at 80 %."""
    found = lines(ORDER)
    assert (found["zip 24 in"].quantity, found["zip 24 in"].amount) == (27, Decimal("97.20"))
    assert (found["zip 26 in"].quantity, found["zip 26 in"].amount) == (13, Decimal("57.20"))
    assert (found["sewing thread"].quantity, found["sewing thread"].amount) == (40 * 150_000, Decimal("17.00"))
    assert found["neck tape"].quantity == 27 * 450 + 13 * 500
    assert found["neck tape"].amount == Decimal("14.92")
    assert found["woven label"].amount == Decimal("17.50")
    assert found["shoulders, sleeves, sides"].amount == Decimal("348.33")  # 40 x 27.5 min x 19 / 60
    assert found["zip and tape"].amount == Decimal("306.67")  # 40 x 20 min x 23 / 60
    assert found["zip and tape, making ready"].amount == Decimal("14.38")  # 37.5 min x 23 / 60: 14.375
    assert found["pattern and grading"].amount == Decimal("240.00")


def test_a_trim_of_one_colour() -> None:
    """A trim for navy alone is bought for the 18 navy jackets."""
    text = '[[trim]]\nname = "cord"\namount = "1.5 m"\ncolours = ["navy"]\nprice = "1.00 / m"\n[[operation]]\n'
    found = lines(text + 'name = "sew"\nminutes = 1\nrate = "6 / h"\n[pricing]\n')
    assert (found["cord, navy"].quantity, found["cord, navy"].amount) == (18 * 1500, Decimal("27.00"))


def test_a_trim_for_a_size_that_is_not_ordered() -> None:
    """A trim may name a size of the table that this order has none of; nothing is bought for it."""
    (_, zips, *_) = entries().trim
    made = {("rust", "M"): 3, ("rust", "L"): 2}
    assert zips.supply(made, [("rust", "XL")]).buy(made).quantity == 2
    with pytest.raises(PriceError, match="no size 'XL' is known, but M, L"):
        zips.supply(made)


def change(old: str, new: str) -> str:
    """The studio's order with one thing changed."""
    assert old in ORDER
    return ORDER.replace(old, new, 1)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            change('"$4.20 / piece"', '"$-4.20 / piece"'),
            "cannot read the price '$-4.20 / piece': write an amount, 0 or",
        ),
        (change("minutes = 22", "minutes = -22"), "write 0 or more, not -22"),
        (change("minutes = 22", "minutes = 0"), "'shoulders, sleeves, sides' takes no time"),
        (change("amount = 1", "amount = 0"), "0 is too little: it must be more than 0"),
        (change("amount = 1", "amount = 1.5"), "write a whole number, such as 1, or a length"),
        (change("amount = 1", 'amount = "1 furlong"'), "furlong"),
        (change("sold_by = 50", 'sold_by = "50 m"'), "must all be numbers or all be lengths"),
        (change('"$0.80 / m"', '"$0.80 / piece"'), "'neck tape' is used by length: give its price for each m or yd"),
        (change('"$0.35 / piece"', '"$0.35 / m"'), "'woven label' is used by piece: give its price for each piece"),
        (change('"$3.60 / piece"', '"$5.60 / piece"'), "breaks lower a price"),
        (change('"$3.60 / piece"', '"3.60 EUR / piece"'), "one currency"),
        (change("margin = 45.0", "margin = 100.0"), "write less than 100, not 100"),
        (
            change("margin = 45.0", "margin = 45.0\nmarkup = 20.0"),
            "markup and margin set the same price: keep only one",
        ),
        (change("overhead = 12.0", "overhead = -12.0"), "write 0 or more, not -12"),
        (change("efficiency = 80.0", "efficiency = 0.0"), "write 1 or more, not 0"),
        (change('"$240.00"', '"$-240.00"'), "cannot read the amount '$-240.00': write it as in \"180.00\", 0 or more"),
        (change('"$240.00"', "240"), "cannot read the amount 240"),
        (change('"$1.00"', '"$0.00"'), "price_step is at least 0.01"),
        (change('"$19.00 / h"', '"$19.00 / m"'), "'$19.00 / m' is not pay for time"),
        (change('grade = "skilled"', 'grade = "skilled"\nrate = "$20 / h"'), "both a grade and a rate"),
        (change('name = "woven label"', 'name = "woven label"\ncolor = "red"'), "unknown key 'color': did you mean"),
    ],
)
def test_refused_in_one_line(text: str, says: str) -> None:
    """What makes no sense is refused: one line that says where and what to write."""
    with pytest.raises(ValidationError) as caught:
        entries(text)
    said = first_fault(caught.value, TABLES)
    assert says in said
    assert "\n" not in said


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            change('grade = "skilled"', 'grade = "master"'),
            "no grade 'master' under [pricing.grades]: known are skilled",
        ),
        (change('rate = "$19.00 / h"', ""), "'shoulders, sleeves, sides' has no pay: give it a rate, or [pricing] one"),
        (change('"L", "XL"', '"L", "XXL"'), "'zip 26 in': no size 'XXL' is known, but XS, S, M, L, XL"),
        (change("amount = 1\n", 'amount = 1\ncolours = ["green"]\n'), "no colour 'green' is known, but rust, navy"),
    ],
)
def test_refused_against_the_order(text: str, says: str) -> None:
    """What does not go with the rest of the order is named."""
    with pytest.raises(PriceError) as caught:
        lines(text)
    assert says in str(caught.value)


def test_one_currency_for_all() -> None:
    """Cloth, trims, pay and set-up must be in one currency."""
    asked, cloth = entries(), FabricOffer(**CLOTH)
    assert currency_of([cloth], asked.trim, asked.operation, asked.pricing) == "$"
    for changed in (
        change('"$95.00"', '"95.00"'),
        change('"$0.80 / m"', '"0.80 EUR / m"'),
        change('"$23.00 / h"', '"£23 / h"'),
    ):
        other = entries(changed)
        with pytest.raises(PriceError, match="write all of them in one currency"):
            currency_of([cloth], other.trim, other.operation, other.pricing)


def test_prices_follow_from_the_entry() -> None:
    """45 % margin on 80.22 is 145.86, in whole units 146; twice that in the shops; no markup: the price is the cost."""
    rule = entries().pricing.rule("$")
    prices = rule.prices(Decimal("80.22"))
    assert (prices.wholesale, prices.retail) == (146, 292)
    assert rule.tax_on(Decimal("146.00")) == Decimal("11.68")
    given = entries(change("margin = 45.0", 'wholesale = "$120.50"')).pricing.rule("$").prices(Decimal("80.22"))
    assert (given.wholesale, given.retail) == (Decimal("120.50"), 241)
    bare = Pricing().rule("").prices(Decimal("80.22"))
    assert (bare.wholesale, bare.retail) == (Decimal("80.22"), None)


def test_overhead_on_labour_alone() -> None:
    """Overhead on labour leaves materials and set-up out."""
    (charge,) = Pricing(overhead=50, overhead_on="labour").charges()
    assert charge.on == ("cutting", "sewing", "finishing")


def test_cloth_on_a_curve_costs_what_the_offer_says() -> None:
    """Where no break is near, cloth costs what its offer says for the same length, by length and by weight."""
    kind = {("rust", "M"): Fraction(1)}
    heavy = CLOTH | {"price": "$9.00 / kg", "breaks": [], "weight": "8 oz/yd2"}
    for offer in (FabricOffer(**CLOTH), FabricOffer(**heavy)):
        for yards in (1, 7, 30, 70):
            bought = offer_supply(offer, {("rust", "M"): YARD * yards}, part="cloth").buy(kind)
            assert bought.cost == offer.cost(float(YARD * yards))
    strips = RibOffer.model_validate({"form": "strips", "width": "40 in", "depth": "8 in", "price": "$6.50 / strip"})
    assert offer_supply(strips, {("rust", "M"): Fraction(5, 2)}, part="rib").buy(kind).cost == Decimal("19.50")


def test_the_order_is_toml_and_frozen() -> None:
    """The studio's order is read as it stands, whole numbers where percentages are meant included."""
    plain = tomllib.loads(ORDER.replace("12.0", "12"))
    assert Pricing.model_validate(plain["pricing"]).charges()[0].percent == 12
