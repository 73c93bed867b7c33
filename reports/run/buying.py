"""What is bought for a run: cloth, rib and trims, each with its purchase, and a list for each supplier."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reports.money.cost.words import in_unit, write_quantity
from reports.money.yardage import Purchase, purchase

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from decimal import Decimal

    from nesting.lays.plan import Lay
    from nesting.rib.plan import RibPlan
    from pieces.units import Units
    from reports.ask.order.entries import Trim
    from reports.ask.order.order import RunFabric, RunRib
    from reports.money.cost.sources import Supply
    from reports.money.cost.tariff import Bought
    from reports.money.price import Price
    from reports.run.garments import Kinds
    from reports.run.lot_plan import LotPlan


@dataclass(frozen=True)
class ToBuy:
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
    price: Price | None = None
    purchase: Purchase | None = None
    number: float = 0.0
    unit: str = ""


def buy_cloth(cloth: RunFabric, colour: str, lays: Sequence[Lay], *, on_pattern: bool) -> ToBuy:
    """The cloth for all plies of one colour."""
    plies = [(lay.plies[colour], lay.length) for lay in lays if lay.plies.get(colour)]
    bought = cloth.purchase_all(plies, on_pattern=on_pattern)
    cost = cloth.cost(bought.buy)
    price = cloth.price_for(bought.buy)
    return ToBuy(cloth.name, cloth.part, cloth.supplier, bought.text, cost, price, bought, bought.number, bought.unit)


def rest_of(plan: LotPlan, key: str, bought: ToBuy) -> ToBuy | None:
    """What is still to buy of a cloth: all of it where the order gives no rolls, else cloth for plies without one."""
    if key not in plan.rolls:
        return bought
    lays = [
        replace(plan.plan.lays[lay], plies={key: len(plies)}) for lay, plies in sorted(plan.without_roll(key).items())
    ]
    return buy_cloth(plan.lot.cloths[key], key, lays, on_pattern=plan.on_pattern) if lays else None


def buy_rib(rib: RunRib, plan: RibPlan) -> ToBuy:
    """The rib for all bands of one colour."""
    if isinstance(step := rib.step, str):
        unit = f"{step}{'' if plan.count == 1 else 's'}"
        words, cost = f"{plan.count} {unit}", rib.cost(plan.count)
        return ToBuy(rib.name, "rib", rib.supplier, words, cost, rib.price, number=plan.count, unit=unit)
    bought = purchase(plan.length, step, ends=rib.end_allowance, shrinkage=0.0, margin=0.0)
    cost, sold = rib.cost(bought.buy), (bought.number, bought.unit)
    return ToBuy(rib.name, "rib", rib.supplier, bought.text, cost, rib.price, bought, *sold)


def buy_trim(trim: Trim, supply: Supply, quantities: Kinds, units: Units) -> ToBuy:
    """A trim for all garments."""
    return as_bought(trim, supply.buy(quantities), supply, units)


def as_bought(trim: Trim, bought: Bought, supply: Supply, units: Units) -> ToBuy:
    """So much of a trim."""
    words = write_quantity(bought.quantity, supply.measure, units, bought.price)
    number, unit = in_unit(bought.quantity, supply.measure, units, bought.price)
    return ToBuy(trim.name, "trims", trim.supplier, words, bought.cost, bought.price, number=number, unit=unit)


def by_supplier(bought: Iterable[ToBuy]) -> dict[str, list[ToBuy]]:
    """What is bought where; what names no supplier comes last, under no name."""
    found: dict[str, list[ToBuy]] = {}
    for one in bought:
        found.setdefault(one.supplier, []).append(one)
    nameless = found.pop("", [])
    return found | ({"": nameless} if nameless else {})
