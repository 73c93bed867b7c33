"""Trims, operations and pricing, as an order file's entries describe them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from pydantic import Field, model_validator

from pieces.units import spoken, unit_written
from reports.ask.offer import FabricOffer, FileTable, Name, PriceText, RibOffer
from reports.errors import PriceError
from reports.money.cost.amounts import Quantity  # noqa: TC001  pydantic reads them
from reports.money.cost.sources import Expense, Supply, Work
from reports.money.cost.tariff import Tariff, exact
from reports.money.price import Price, one_currency

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from nesting.lays.order import ColourSize
    from reports.ask.pricing import Operation, Pricing
    from reports.money.cost.item import CostMeasure, CostPart, Each, Quantities


class TrimBreak(FileTable):
    """A lower price from some number or length on."""

    at_least: Quantity
    price: PriceText


class Trim(FileTable):
    """A ``[[trim]]`` entry: zip, buttons, thread, labels.

    `amount` is what one garment takes, a number or a length; `by_size` says otherwise for some sizes. `sizes` and
    `colours` limit it to some of the garments. A price by the piece of what is used by length is for each `sold_by`.
    """

    name: Name
    amount: Quantity
    by_size: dict[str, Quantity] = Field(default_factory=dict)
    sizes: tuple[str, ...] = Field((), strict=False)
    colours: tuple[str, ...] = Field((), strict=False)
    price: PriceText
    breaks: tuple[TrimBreak, ...] = Field((), strict=False)
    sold_by: Quantity | None = None
    minimum: Quantity | None = None
    supplier: str = ""

    @model_validator(mode="after")
    def _agrees(self) -> Trim:
        amounts = [self.amount, *self.by_size.values(), *(one.at_least for one in self.breaks)]
        amounts += [one for one in (self.sold_by, self.minimum) if one]
        if len({amount.by_length for amount in amounts}) > 1:
            raise ValueError(
                f"'{self.name}': amount, by_size, at_least, sold_by and minimum must all be numbers or all be lengths"
            )
        self.tariff()
        return self

    def tariff(self) -> Tariff:
        """How it is sold."""
        step = self.sold_by.number if self.sold_by else Fraction(0 if self.amount.by_length else 1)
        breaks = tuple((one.at_least.number, self._priced(one.price)) for one in self.breaks)
        return Tariff(self._priced(self.price), step, self.minimum.number if self.minimum else Fraction(0), breaks)

    def supply(self, quantities: Quantities, kinds: Iterable[ColourSize] = ()) -> Supply:
        """What the garments of an order take of it.

        Parameters
        ----------
        kinds
            Colours and sizes that it may name besides those ordered, such as all sizes of a table.

        Raises
        ------
        PriceError
            If it names a size or a colour that there is not.
        """
        there = (*quantities, *kinds)
        for what, named, at in (("size", [*self.sizes, *self.by_size], 1), ("colour", list(self.colours), 0)):
            known = list(dict.fromkeys(kind[at] for kind in there))
            for name in named:
                if name not in known:
                    raise PriceError(f"[[trim]] '{self.name}': no {what} '{name}' is known, but {', '.join(known)}")
        each = {
            kind: self.by_size.get(kind[1], self.amount).number
            for kind in quantities
            if (not self.colours or kind[0] in self.colours) and (not self.sizes or kind[1] in self.sizes)
        }
        measure: CostMeasure = "mm" if self.amount.by_length else "piece"
        return Supply(self.name, "trims", each, self.tariff(), measure, self.colours)

    def _priced(self, price: Price) -> Price:
        wanted = "length" if self.amount.by_length else "piece"
        if price.kind == "piece" and self.amount.by_length and self.sold_by:
            reel = self.sold_by.text
            return replace(price, kind="length", size=float(self.sold_by.number), unit=reel, counted=unit_written(reel))
        if price.kind != wanted:
            by_length = 'for each m or yd, or by the piece with sold_by = "1000 m"'
            hint = by_length if self.amount.by_length else "for each piece"
            raise PriceError(f"'{self.name}' is used by {wanted}: give its price {hint}")
        return price


def cost_sources(
    trims: Iterable[Trim],
    operations: Iterable[Operation],
    pricing: Pricing,
    quantities: Quantities,
    kinds: Collection[ColourSize] = (),
) -> tuple[Supply | Work | Expense, ...]:
    """All that an order file says of costs, cloth and rib apart; `kinds` are as for `Trim.supply`."""
    return (
        *(trim.supply(quantities, kinds) for trim in trims),
        *(pricing.work(operation) for operation in operations),
        *pricing.expenses(),
    )


def currency_of(offers: Iterable[Any], trims: Sequence[Trim], operations: Iterable[Operation], pricing: Pricing) -> str:
    """The one currency of an order's prices.

    Parameters
    ----------
    offers
        Its cloths and ribs.

    Raises
    ------
    PriceError
        If there are several.
    """
    prices = [offer.price for offer in offers if offer.price]
    prices += [trim.price for trim in trims]
    prices += [operation.rate for operation in operations if operation.rate]
    return one_currency([*prices, *pricing.money()])


def offer_supply(offer: FabricOffer | RibOffer, each: Each, *, part: CostPart, colours: tuple[str, ...] = ()) -> Supply:
    """A cloth or a rib on a curve over quantities.

    Parameters
    ----------
    each
        What a garment of each kind takes in the run, with all additions but the rounding up: mm, or strips.
    colours
        The colours of garment it is for; none: all.

    Raises
    ------
    PriceError
        If it has no price.
    """
    if offer.price is None:
        raise PriceError(f"'{offer.name}' has no price: give it one, such as 14.00 / {spoken('yd', 'm')}")
    step = offer.sold_by if isinstance(offer, FabricOffer) else offer.step
    counted = isinstance(step, str)
    breaks, minimum = (offer.breaks, offer.minimum) if isinstance(offer, FabricOffer) else ((), 0.0)
    tariff = Tariff(
        _by_length(offer.price, offer),
        Fraction(1) if isinstance(step, str) else exact(step.mm),
        exact(minimum),
        tuple((exact(one.at_least), _by_length(one.price, offer)) for one in breaks),
    )
    return Supply(offer.name, part, each, tariff, "piece" if counted else "mm", colours)


def _by_length(price: Price, offer: FabricOffer | RibOffer) -> Price:
    """A price by weight as one by the length that weighs its unit."""
    if price.kind != "weight":
        return price
    return replace(price, kind="length", size=price.size / 1000 / (offer.kilograms(1.0) or 1.0))
