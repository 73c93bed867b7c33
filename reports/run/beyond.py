"""What a garment more than ordered costs, and what one fewer loses: so that lays give them only where that pays."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from nesting.rib.band import bands_of
from reports.ask.pricing import LABOUR
from reports.money.cost.item import weigh

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from nesting.lays.order import ColourSize
    from reports.ask.order.order import Order, RunRib
    from reports.run.garments import Garments, Sized
    from reports.run.lots import Lot


@dataclass(frozen=True)
class Beyond:
    """Money by colour and size of garment.

    Parameters
    ----------
    over
        What one more costs beside the cloth of the lay it is cut in: rib, trims, sewing, other cloths. Nobody has
        ordered it, so it brings in nothing.
    under
        What one fewer loses: its price, less what need not be spent on it.
    """

    over: Mapping[ColourSize, float]
    under: Mapping[ColourSize, float]

    def of(self, lot: Lot) -> Beyond:
        """The same by cloth of a lot: the mean of the colours that it stands for."""
        return Beyond(*(_by_cloth(lot, of) for of in (self.over, self.under)))


def beyond_order(order: Order, garments: Garments, lots: Sequence[Lot], lot: Lot, currency: str) -> Beyond:
    """What garments cost that a lot gives beyond the order, or leaves out of it.

    Raises
    ------
    CostError, PriceError
        If a trim or an operation has no price.
    """
    ordered = {kind: number for kind, number in garments.ordered.items() if number}
    paid = [one.rate.exact(one.paid(one.minutes)) for one in map(order.pricing.work, order.operation)]
    work = sum(paid, Fraction(0))
    trims = dict.fromkeys(ordered, Fraction(0))
    for trim in order.trim:
        supply = trim.supply(ordered)
        price = supply.buy(ordered).price if weigh(supply.each, ordered) else supply.tariff.price
        for kind, amount in supply.each.items():
            trims[kind] += price.exact(amount)
    over, under = {}, {}
    for size in garments.sizes:
        for colour in garments.colours:
            kind = colour, size.name
            if kind in ordered:
                cloth = [_cloth(one, colour, size.name) for one in lots]
                own = _cloth(lot, colour, size.name)
                over[kind] = float(work + trims[kind]) + sum(cloth) - own + _rib(order.rib, colour, size)
                under[kind] = max(0.0, _price(order, currency, over[kind] + own, float(work)) - over[kind])
    return Beyond(over, under)


def _cloth(lot: Lot, colour: str, size: str) -> float:
    """What a garment takes of a lot's cloth, at the usual density and the price for little."""
    for key, cloth in lot.cloths.items():
        if colour in lot.stands_for[key]:
            return lot.expected(size) * float(cloth.cost(1000.0) or 0) / 1000
    return 0.0


def _rib(ribs: Iterable[RunRib], colour: str, size: Sized) -> float:
    """What a garment takes of its rib, by the area of its bands."""
    for rib in ribs:
        if rib.colour in (None, colour) and size.pieces.of("rib"):
            area, stock = sum(band.length * band.depth * band.count for band in bands_of(size.pieces, 1)), rib.stock()
            if isinstance(rib.step, str):
                return float(rib.cost(1.0) or 0) * (
                    area / (stock.usable * stock.depth) if rib.form == "strips" and stock.depth else 1
                )
            return float(rib.cost(1e6) or 0) / 1e6 * area / stock.usable
    return 0.0


def _price(order: Order, currency: str, cost: float, work: float) -> float:
    """What a garment of some cost is billed at, about: percentages are put on it first, of some lines as of all."""
    for charge in order.pricing.charges():
        cost += (work if charge.on == LABOUR else cost) * float(charge.percent) / 100
    return float(order.pricing.rule(currency).prices(Decimal(repr(round(cost, 4)))).wholesale)


def _by_cloth(lot: Lot, money: Mapping[ColourSize, float]) -> dict[ColourSize, float]:
    found: dict[ColourSize, float] = {}
    for key, colours in lot.stands_for.items():
        for size in lot.pieces:
            some = [money[colour, size] for colour in colours if (colour, size) in money]
            if some:
                found[key, size] = sum(some) / len(some)
    return found
