"""Cloth, rib and trims of a file as goods of the living workbook: lengths and prices in one unit each."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.units import Units, is_unit, round_up, unit_size
from reports.book.goods import ClothNeed, LiveBreak, LiveGood

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from reports.ask.offer import FabricOffer, RibOffer
    from reports.money.cost.item import CostPart
    from reports.money.price import Price
    from reports.money.yardage import AdditionKind, Purchase

EXTRA: tuple[AdditionKind, ...] = ("splice", "begin", "plies")
"""What is added to the length of plies and their ends before shrinkage."""


def length_unit(price: Price | None, units: Units) -> str:
    """The unit that lengths of a good are in: that of its price, so that each line can be checked by hand."""
    return price.counted if price and price.counted else "yd" if units is Units.INCHES else "m"


def rate_in(price: Price, size: float) -> float | Decimal:
    """A price for a unit of so many mm; by weight or by number as it is."""
    if price.kind != "length" or price.size == size:
        return price.amount
    return float(price.exact(size))


def cloth_good(
    key: str,
    offer: FabricOffer,
    bought: Purchase,
    units: Units,
    cost_part: CostPart,
    *,
    part: str,
    supplier: str = "",
    taken: Mapping[str, float] | None = None,
    colours: tuple[str, ...] = (),
) -> LiveGood:
    """A cloth, of which so much is bought; `taken` is in mm."""
    unit = length_unit(offer.price, units)
    size = unit_size(unit)
    added = {more.kind: more.mm for more in bought.additions}
    other = sum(added.get(kind, 0.0) for kind in EXTRA)
    need = ClothNeed(
        (bought.need + added.get("ends", 0.0)) / size,
        other / size,
        offer.shrinkage if offer.washed == "before" else None,
        offer.margin,
    )
    held = offer.price_for(bought.buy)
    return replace(
        _offered(key, offer, unit, supplier, taken, colours),
        part=part,
        cost_part=cost_part,
        need=need,
        needed=bought.needed / size,
        enough=bought.enough / size,
        buy=bought.buy / size,
        held=rate_in(held, size) if held else None,
        cost=offer.cost(bought.buy),
        step=offer.sold_by.mm / size,
        minimum=offer.minimum / size,
        breaks=_breaks(key, offer, bought, size),
    )


def _offered(
    key: str,
    offer: FabricOffer | RibOffer,
    unit: str,
    supplier: str,
    taken: Mapping[str, float] | None,
    colours: tuple[str, ...],
) -> LiveGood:
    """What an offer says of itself, in a unit, of which nothing is bought yet; a rib, unless it is told otherwise."""
    size = unit_size(unit) if is_unit(unit.lower()) else 1.0
    rate = rate_in(offer.price, size) if offer.price else None
    return LiveGood(
        key=key,
        what=offer.name,
        part="rib",
        cost_part="rib",
        supplier=supplier,
        unit=unit,
        size=size,
        per=f"/ {offer.price.unit}" if offer.price else f"/ {unit}",
        rate=rate,
        need=0.0,
        needed=0.0,
        enough=0.0,
        buy=0.0,
        held=rate,
        cost=None,
        weight=_weight(offer, size),
        colours=colours,
        taken={name: amount / size for name, amount in (taken or {}).items()},
        currency=offer.price.currency if offer.price else None,
    )


def _weight(offer: FabricOffer | RibOffer, size: float) -> float:
    """How many units of its price a unit of length weighs; 1 where it is not sold by weight."""
    kilograms = offer.kilograms(size)
    if offer.price is None or offer.price.kind != "weight" or kilograms is None:
        return 1.0
    return kilograms * 1000 / offer.price.size


def _breaks(key: str, offer: FabricOffer, bought: Purchase, size: float) -> tuple[LiveBreak, ...]:
    found = []
    for number, one in sorted(enumerate(offer.breaks), key=lambda item: item[1].at_least):
        buy = round_up(one.at_least, offer.sold_by.mm)
        cost = offer.cost(buy) if one.at_least > bought.enough else None
        rate = rate_in(one.price, size)
        found.append(LiveBreak(f"{key}.breaks.{number}", one.at_least / size, rate, buy / size, cost))
    return tuple(found)


def rib_good(
    key: str,
    offer: RibOffer,
    bought: Purchase | None,
    count: int,
    units: Units,
    *,
    supplier: str = "",
    taken: Mapping[str, float] | None = None,
    colours: tuple[str, ...] = (),
) -> LiveGood:
    """A rib, of which a length or a number is bought; `taken` is in mm, or strips."""
    unit = str(offer.step) if bought is None else length_unit(offer.price, units)
    good = _offered(key, offer, unit, supplier, taken, colours)
    if bought is None:
        number = float(count)
        return replace(good, need=number, needed=number, enough=number, buy=number, cost=offer.cost(count))
    assert not isinstance(offer.step, str)
    needed, enough, buy, step = (mm / good.size for mm in (bought.needed, bought.enough, bought.buy, offer.step.mm))
    cost = offer.cost(bought.buy)
    return replace(good, need=needed, needed=needed, enough=enough, buy=buy, cost=cost, step=step)
