"""What comes on top of prices once they are made: charges after the margin, and totals in a second currency."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from reports.errors import CostError
from reports.money.price import to_cents, write_money

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date


@dataclass(frozen=True)
class AfterCharge:
    """Freight, duty: passed on as it is, in neither cost nor price.

    Parameters
    ----------
    percent, amount
        Percent of what the garments are billed at, or money for the whole order: one of the two.
    """

    name: str
    percent: Decimal | None = None
    amount: Decimal | None = None

    def __post_init__(self) -> None:
        if (self.percent is None) == (self.amount is None):
            raise CostError(f"'{self.name}' needs either a percent or an amount: give one of the two")

    def on(self, billed: Decimal) -> Decimal:
        """Money on so much billed, to the nearest cent, halves up."""
        if self.amount is not None:
            return to_cents(Fraction(self.amount))
        return to_cents(Fraction(billed) * Fraction(self.percent or 0) / 100)

    @property
    def title(self) -> str:
        """Its name, with the percentage if it is one."""
        return self.name if self.percent is None else f"{self.name}, {self.percent.normalize():f} %"


def shared_out(charges: Sequence[AfterCharge], billed: Sequence[Decimal]) -> list[tuple[AfterCharge, ...]]:
    """Charges of an order shared out among several bills: amounts by what is billed, and to the cent the same in all.

    Percentages stay as they are.
    """
    found, whole, before = [], sum(billed, Decimal(0)), Decimal(0)
    for own in billed:
        shares = []
        for charge in charges:
            if charge.amount is not None and whole:
                upto = to_cents(Fraction(charge.amount) * Fraction(before + own) / Fraction(whole))
                since = to_cents(Fraction(charge.amount) * Fraction(before) / Fraction(whole))
                shares.append(AfterCharge(charge.name, amount=upto - since))
            else:
                shares.append(charge)
        before += own
        found.append(tuple(shares))
    return found


@dataclass(frozen=True)
class SecondCurrency:
    """Another currency that totals are shown in besides: at a rate that was stated for a day."""

    currency: str
    rate: Decimal
    day: date

    def of(self, money: Decimal) -> Decimal:
        """An amount in it, to the nearest cent, halves up."""
        return to_cents(Fraction(money) * Fraction(self.rate))

    def written(self, money: Decimal) -> str:
        """An amount in it, with its sign or code."""
        return write_money(self.of(money), self.currency)

    def said(self, currency: str) -> str:
        """The rate, and how amounts are rounded."""
        rate = write_money(self.rate, self.currency, whole=True)
        return (
            f"{self.currency}, at {rate} for each {write_money(Decimal(1), currency)}, the rate stated for"
            f" {self.day.isoformat()}. Each total is converted by itself and rounded to the cent, halves up."
        )
