"""A small studio's order of forty zipped rib jackets in five sizes and two colours: our own figures."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from fractions import Fraction
from typing import Any

from pydantic import BaseModel

from reports.ask.offer import FabricOffer
from reports.ask.order.entries import Trim, cost_sources, offer_supply
from reports.ask.pricing import Operation, Pricing  # noqa: TC001  pydantic reads them
from reports.money.cost.sources import Expense, MaterialUse, Supply, Work
from reports.money.price import Price

YARD = 914.4
SIZES = ("XS", "S", "M", "L", "XL")
QUANTITIES = {
    (colour, size): number
    for colour, numbers in (("rust", (2, 5, 8, 5, 2)), ("navy", (2, 4, 6, 4, 2)))
    for size, number in zip(SIZES, numbers, strict=True)
}

ORDER = """
[[trim]]
name = "zip 24 in"
amount = 1
sizes = ["XS", "S", "M"]
price = "$4.20 / piece"
breaks = [{ at_least = 25, price = "$3.60 / piece" }, { at_least = 100, price = "$3.10 / piece" }]
supplier = "trims by post"

[[trim]]
name = "zip 26 in"
amount = 1
sizes = ["L", "XL"]
price = "$4.40 / piece"
breaks = [{ at_least = 25, price = "$3.80 / piece" }]

[[trim]]
name = "sewing thread"
amount = "150 m"
sold_by = "5000 m"
price = "$8.50 / piece"

[[trim]]
name = "neck tape"
amount = "0.45 m"
by_size = { L = "0.5 m", XL = "0.5 m" }
price = "$0.80 / m"

[[trim]]
name = "woven label"
amount = 1
sold_by = 50
price = "$0.35 / piece"

[[operation]]
name = "shoulders, sleeves, sides"
minutes = 22

[[operation]]
name = "rib bands"
minutes = 18

[[operation]]
name = "zip and tape"
minutes = 16
set_up = 30
grade = "skilled"

[[operation]]
name = "press and pack"
minutes = 6
part = "finishing"

[pricing]
rate = "$19.00 / h"
grades = { skilled = "$23.00 / h" }
efficiency = 80.0
set_up = { "pattern and grading" = "$240.00", "sample" = "$95.00" }
overhead = 12.0
waste = 4.0
margin = 45.0
retail_markup = 100.0
tax = 8.0
price_step = "$1.00"
"""


class Entries(BaseModel):
    """The entries of the order that are about cost."""

    trim: tuple[Trim, ...]
    operation: tuple[Operation, ...]
    pricing: Pricing


CLOTH: dict[str, Any] = {
    "name": "sweatshirt fleece",
    "width": "60 in",
    "sold_by": "1/8 yd",
    "price": "$13.50 / yd",
    "breaks": [{"at_least": "20 yd", "price": "$11.80 / yd"}, {"at_least": "100 yd", "price": "$9.90 / yd"}],
}


def entries(text: str = ORDER) -> Entries:
    """The order's entries, checked."""
    return Entries.model_validate(tomllib.loads(text))


def cutting() -> Expense:
    """Cutting as a lay plan might give it: six hours and a half for the forty."""
    return Expense("cutting and spreading", Decimal("123.50"), "cutting", 40)


def cloth() -> Supply:
    """Cloth of both colours together, on a curve: 1.52 to 1.78 yd a garment."""
    yards = dict(zip(SIZES, ("1.52", "1.58", "1.64", "1.71", "1.78"), strict=True))
    each = {kind: Fraction(yards[kind[1]]) * Fraction("914.4") for kind in QUANTITIES}
    return offer_supply(FabricOffer(**CLOTH), each, part="cloth")


def run_sources() -> list[Expense | MaterialUse | Supply | Work]:
    """All costs of the run as it is planned."""
    asked = entries()
    yards = {"XS": 1.52, "S": 1.58, "M": 1.64, "L": 1.71, "XL": 1.78}
    materials = []
    for colour in ("rust", "navy"):
        per_size = {size: (Decimal(str(length)) * Decimal("11.80")) for size, length in yards.items()}
        lengths = {size: length * YARD for size, length in yards.items()}
        bought = sum(n * per_size[size] for (c, size), n in QUANTITIES.items() if c == colour).quantize(Decimal("0.01"))
        run = bought + Decimal("14.75")
        materials.append(MaterialUse("fleece", "cloth", per_size, run, lengths, (colour,), Price.parse("$11.80 / yd")))
    rib = {size: Decimal(cost) for size, cost in zip(SIZES, ("5.10", "5.30", "5.60", "5.90", "6.20"), strict=True)}
    materials.append(MaterialUse("rib", "rib", rib, Decimal("236.25")))
    return [*materials, *cost_sources(asked.trim, asked.operation, asked.pricing, QUANTITIES), cutting()]


def curve_sources() -> list[Expense | Supply | Work]:
    """The same for any number of garments."""
    asked = entries()
    return [cloth(), *cost_sources(asked.trim, asked.operation, asked.pricing, QUANTITIES), cutting()]
