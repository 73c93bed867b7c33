"""Trims, operations and pricing, as an order file's entries describe them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import Field, model_validator

from pieces.units import spoken, unit_written
from reports.ask.offer import FabricOffer, FileTable, Name, PriceText, RibOffer
from reports.errors import PriceError
from reports.money.cost.amounts import MarginShare, Minutes, Money, Quantity, RateText, Share  # noqa: TC001  pydantic reads them
from reports.money.cost.pricing import PriceRule, Rate
from reports.money.cost.sheet import Charge
from reports.money.cost.sources import Expense, Supply, Work
from reports.money.cost.tariff import Tariff, exact
from reports.money.price import Price, one_currency, to_cents

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from nesting.lays.order import ColourSize
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


class Operation(FileTable):
    """An ``[[operation]]`` entry: minutes for each garment, and perhaps minutes once a run, with their pay."""

    name: Name
    minutes: Minutes = 0.0
    set_up: Minutes = 0.0
    part: Literal["cutting", "sewing", "finishing"] = "sewing"
    grade: str | None = None
    rate: RateText | None = None

    @model_validator(mode="after")
    def _agrees(self) -> Operation:
        if not self.minutes and not self.set_up:
            raise ValueError(
                f"'{self.name}' takes no time: give minutes for each garment, or set_up minutes once a run"
            )
        if self.rate is not None and self.grade is not None:
            raise ValueError(f"'{self.name}' has both a grade and a rate: leave one out")
        return self


class Pricing(FileTable):
    """The ``[pricing]`` entry: pay for time, what is added to the cost, and how prices follow from it.

    `overhead` and `waste` are percentages added to the cost: overhead of all above it or of labour alone
    (`overhead_on`), waste (garments made but not sold) of all above it. A price follows from a markup, from a margin,
    or is given.
    """

    rate: RateText | None = None
    grades: dict[str, RateText] = Field(default_factory=dict)
    efficiency: Annotated[float, Field(ge=1, le=200)] = 100.0
    set_up: dict[str, Money] = Field(default_factory=dict)
    overhead: Share = 0.0
    overhead_on: Literal["cost", "labour"] = "cost"
    waste: Share = 0.0
    markup: Share | None = None
    margin: MarginShare | None = None
    wholesale: Money | None = None
    retail_markup: Share | None = None
    retail_margin: MarginShare | None = None
    retail: Money | None = None
    tax: Annotated[float, Field(ge=0, le=100)] = 0.0
    price_step: Money = Field("0.01", validate_default=True)
    price_by_size: bool = False

    @model_validator(mode="after")
    def _agrees(self) -> Pricing:
        for names in (("markup", "margin", "wholesale"), ("retail_markup", "retail_margin", "retail")):
            given = [name for name in names if getattr(self, name) is not None]
            if len(given) > 1:
                raise ValueError(f"{' and '.join(given)} set the same price: keep only one")
        if not to_cents(Fraction(self.price_step.amount)):
            raise ValueError("price_step is at least 0.01: prices are rounded up to whole steps of it")
        return self

    def charges(self) -> tuple[Charge, ...]:
        """Overhead and waste, as far as they are asked for."""
        labour: tuple[CostPart, ...] = ("cutting", "sewing", "finishing")
        found = (
            Charge("overhead", "overhead", _decimal(self.overhead), labour if self.overhead_on == "labour" else ()),
            Charge("waste: made but not sold", "waste", _decimal(self.waste)),
        )
        return tuple(charge for charge in found if charge.percent)

    def rule(self, currency: str) -> PriceRule:
        """How prices follow from cost; without a markup or a margin, the price is the cost."""
        return PriceRule(
            _as_rate(self.markup, self.margin, self.wholesale) or Rate(Decimal(0)),
            _as_rate(self.retail_markup, self.retail_margin, self.retail),
            self.price_step.amount,
            _decimal(self.tax),
            self.price_by_size,
            currency,
        )

    def expenses(self) -> tuple[Expense, ...]:
        """What is paid once a run."""
        return tuple(Expense(name, to_cents(Fraction(money.amount))) for name, money in self.set_up.items())

    def work(self, operation: Operation) -> Work:
        """An operation with its pay.

        Raises
        ------
        PriceError
            If nothing says what it is paid.
        """
        rate = operation.rate or self.rate
        if operation.grade is not None:
            rate = self.grades.get(operation.grade)
            if rate is None:
                known = f"known are {', '.join(self.grades)}" if self.grades else "none is listed"
                raise PriceError(
                    f"[[operation]] '{operation.name}': no grade '{operation.grade}' under [pricing.grades]: {known}"
                )
        if rate is None:
            raise PriceError(
                f"[[operation]] '{operation.name}' has no pay: give it a rate, or [pricing] one, such as"
                ' rate = "18.00 / h"'
            )
        minutes, once = exact(operation.minutes), exact(operation.set_up)
        return Work(operation.name, operation.part, rate, minutes, once, exact(self.efficiency))

    def money(self) -> list[Price]:
        """All amounts of money that are written in it."""
        rates = [*self.grades.values(), *([self.rate] if self.rate else [])]
        step = [self.price_step] if "price_step" in self.model_fields_set else []
        given = [price for price in (self.wholesale, self.retail) if price is not None]
        return [*rates, *self.set_up.values(), *given, *step]


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
        raise PriceError(f"'{offer.name}' has no price: give it one, such as price = \"14.00 / {spoken('yd', 'm')}\"")
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


def _as_rate(markup: float | None, margin: float | None, price: Price | None) -> Rate | Decimal | None:
    if price is not None:
        return price.amount
    if margin is not None:
        return Rate(_decimal(margin), "margin")
    return None if markup is None else Rate(_decimal(markup))


def _decimal(number: float) -> Decimal:
    """A number as it was written: 0.1 is 0.1, not the nearest binary number."""
    return Decimal(repr(number))
