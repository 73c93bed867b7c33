"""From cost to price: by markup or by target margin, in whole steps; tax apart."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Literal

from reports.errors import CostError
from reports.money.price import to_cents, write_money

if TYPE_CHECKING:
    from reports.money.cost.after import AfterCharge, SecondCurrency


@dataclass(frozen=True)
class Rate:
    """What is put on a cost: a `percent` of it (markup), or so that it is a `percent` of the price (margin)."""

    percent: Decimal
    kind: Literal["markup", "margin"] = "markup"

    def __post_init__(self) -> None:
        if self.percent < 0 or (self.kind == "margin" and self.percent >= 100):
            limit = "from 0 to less than 100 %" if self.kind == "margin" else "0 % or more"
            raise CostError(f"a {self.kind} is {limit}, not {self.percent} %")

    def on(self, cost: Decimal) -> Fraction:
        """The price, not rounded."""
        share = Fraction(self.percent) / 100
        return Fraction(cost) * (1 + share) if self.kind == "markup" else Fraction(cost) / (1 - share)

    def __str__(self) -> str:
        return f"{self.percent.normalize():f} % {self.kind}"


@dataclass(frozen=True)
class Prices:
    """A garment's cost and prices, without tax; `retail` is None where none is asked for."""

    cost: Decimal
    wholesale: Decimal
    retail: Decimal | None

    @property
    def margin(self) -> Decimal:
        """What is left of the wholesale price, percent of it, to a tenth; less than 0 if it is below the cost."""
        if not self.wholesale:
            return Decimal(0)
        share = 100 * Fraction(self.wholesale - self.cost) / Fraction(self.wholesale)
        return to_cents(share / 10) * 10


@dataclass(frozen=True)
class PriceRule:
    """How prices are set.

    Parameters
    ----------
    wholesale, retail
        Put on the cost, and on the wholesale price; or the price itself, whatever the cost.
    step
        Prices worked out are rounded up to whole steps of it.
    tax
        Percent, shown beside the price; no part of cost or price.
    by_size
        Whether each size has a price of its own; else all have that of the mean garment.
    currency
        Sign or code.
    after
        Charges on what is billed, beside the prices.
    second
        Another currency that totals are shown in besides.
    """

    wholesale: Rate | Decimal
    retail: Rate | Decimal | None = None
    step: Decimal = Decimal("0.01")
    tax: Decimal = Decimal(0)
    by_size: bool = False
    currency: str = ""
    after: tuple[AfterCharge, ...] = ()
    second: SecondCurrency | None = None

    def prices(self, cost: Decimal) -> Prices:
        """The prices of a garment of some cost."""
        wholesale = self._price(self.wholesale, cost)
        return Prices(cost, wholesale, None if self.retail is None else self._price(self.retail, wholesale))

    def tax_on(self, money: Decimal) -> Decimal:
        """Tax on an amount without tax, to the nearest cent, halves up."""
        return to_cents(Fraction(money) * Fraction(self.tax) / 100)

    def written(self, money: Decimal) -> str:
        """A total with its currency, and in the second one if there is one."""
        return write_money(money, self.currency) + (f" ({self.second.written(money)})" if self.second else "")

    def how(self, rate: Rate | Decimal) -> str:
        """How a price comes about, in words."""
        if isinstance(rate, Decimal):
            return "as given"
        return f"{rate}, rounded up to whole steps of {write_money(self.step, self.currency)}"

    def _price(self, rate: Rate | Decimal, cost: Decimal) -> Decimal:
        if isinstance(rate, Decimal):
            return to_cents(Fraction(rate))
        return to_cents(ceil(rate.on(cost) / Fraction(self.step)) * Fraction(self.step))
