"""What is bought for a run: cloth, rib and trims, each with its purchase, and a list for each supplier."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING

from pieces.units import INCH, SHORT, YARD, Units, format_bound, format_need, format_size
from reports.cost.words import LENGTHS, in_unit, write_quantity
from reports.yardage import Purchase, purchase

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from decimal import Decimal

    from nesting.layplan import Lay
    from nesting.strips import RibPlan
    from reports.cost.entries import Trim
    from reports.cost.sources import Supply
    from reports.order import RunFabric, RunRib
    from reports.run.garments import Kinds


ON_TAPE = 24 * INCH
"""Shorter lengths are written as on a tape, mm."""


@dataclass(frozen=True)
class Bought:
    """One thing to buy.

    Parameters
    ----------
    what, part
        Its name, and what it is for.
    supplier
        Where it is bought; empty if the order does not say.
    quantity
        How much, as the shop writes it.
    cost
        What that costs, if it has a price.
    price
        The price that holds.
    purchase
        From the need to what is bought, where it is bought by length.
    number, unit
        The quantity as a bare number, and of what.
    """

    what: str
    part: str
    supplier: str
    quantity: str
    cost: Decimal | None
    price: str = ""
    purchase: Purchase | None = None
    number: float = 0.0
    unit: str = ""


def buy_cloth(cloth: RunFabric, colour: str, lays: Sequence[Lay], *, on_pattern: bool) -> Bought:
    """The cloth for all plies of one colour."""
    plies = [(lay.plies[colour], lay.length) for lay in lays if lay.plies.get(colour)]
    need = sum(number * length for number, length in plies)
    bought = cloth.purchase_all(need, sum(number for number, _ in plies), on_pattern=on_pattern)
    cost = cloth.cost(bought.buy)
    price = _price(cloth, bought.buy)
    return Bought(cloth.name, cloth.part, cloth.supplier, bought.text, cost, price, bought, *_bare(bought))


def buy_rib(rib: RunRib, plan: RibPlan) -> Bought:
    """The rib for all bands of one colour."""
    price = str(rib.price) if rib.price else ""
    if isinstance(step := rib.step, str):
        unit = f"{step}{'' if plan.count == 1 else 's'}"
        words, cost = f"{plan.count} {unit}", rib.cost(plan.count)
        return Bought(rib.name, "rib", rib.supplier, words, cost, price, number=plan.count, unit=unit)
    bought = purchase(plan.length, step, ends=rib.end_allowance, shrinkage=0.0, margin=0.0)
    return Bought(rib.name, "rib", rib.supplier, bought.text, rib.cost(bought.buy), price, bought, *_bare(bought))


def buy_trim(trim: Trim, supply: Supply, quantities: Kinds, units: Units) -> Bought:
    """A trim for all garments."""
    bought = supply.buy(quantities)
    price = str(bought.price)
    words = write_quantity(bought.quantity, supply.measure, units, price)
    number, unit = in_unit(bought.quantity, supply.measure, units, price)
    return Bought(trim.name, "trims", trim.supplier, words, bought.cost, price, number=number, unit=unit)


def by_supplier(bought: Iterable[Bought]) -> dict[str, list[Bought]]:
    """What is bought where; what names no supplier comes last, under no name."""
    found: dict[str, list[Bought]] = {}
    for one in bought:
        found.setdefault(one.supplier, []).append(one)
    nameless = found.pop("", [])
    return found | ({"": nameless} if nameless else {})


def write_length(mm: float, units: Units) -> str:
    """A length of cloth in a run, to the nearest: yards or metres to the hundredth, short ones as on a tape."""
    return format_size(mm, units) if mm < ON_TAPE else _hundredths(round(mm / _hundredth(units)), units)


def write_need(mm: float, units: Units) -> str:
    """The same, of cloth that must be there: rounded up."""
    if mm < ON_TAPE:
        return format_need(mm, units)
    return _hundredths(ceil((mm - SHORT) / _hundredth(units)), units)


def write_left(mm: float, units: Units) -> str:
    """The same, of cloth that there is: rounded down."""
    if mm < ON_TAPE:
        return format_bound(mm, units)
    return _hundredths(floor((mm + SHORT) / _hundredth(units)), units)


def _hundredth(units: Units) -> float:
    return (YARD if units is Units.INCHES else 1000) / 100


def _hundredths(number: int, units: Units) -> str:
    return f"{number / 100:.2f} {'yd' if units is Units.INCHES else 'm'}"


def _bare(bought: Purchase) -> tuple[float, str]:
    """A length to buy in the unit that the shop writes it in."""
    unit = bought.text.split()[-1]
    return bought.buy / LENGTHS[unit], unit


def _price(cloth: RunFabric, length: float) -> str:
    price = cloth.price_for(length)
    return str(price) if price else ""
