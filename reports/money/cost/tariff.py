"""What a quantity costs to buy: whole steps, a least quantity, and prices that fall from some quantity on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from pieces.units import whole_steps
from reports.errors import PriceError
from reports.money.price import Price, to_cents

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

Break = tuple[Fraction, Price]
"""From which quantity on a price holds, and the price."""


def exact(quantity: float | Fraction) -> Fraction:
    """A quantity as a fraction: 914.4 is 914.4, not the nearest binary number."""
    return Fraction(quantity).limit_denominator(10_000_000)


@dataclass(frozen=True)
class Bought:
    """What is bought for a need: all quantities in mm or pieces.

    Parameters
    ----------
    need
        What is used up.
    least
        What would have to be bought: the need in whole steps, and no less than is sold.
    quantity
        What is bought.
    price
        The price that holds.
    cost
        Money, to the cent.
    """

    need: Fraction
    least: Fraction
    quantity: Fraction
    price: Price
    cost: Decimal

    @property
    def up_to_break(self) -> bool:
        """Whether more is bought than need be, as a lower price makes the larger quantity cheaper."""
        return self.quantity > self.least


@dataclass(frozen=True)
class Tariff:
    """How something is sold.

    Parameters
    ----------
    price
        For small quantities.
    step
        It is sold in whole steps of so many mm or pieces; 0: in any quantity.
    minimum
        Least quantity that is sold.
    breaks
        From which quantity on a lower price holds, for all of what is bought.
    """

    price: Price
    step: Fraction = Fraction(0)
    minimum: Fraction = Fraction(0)
    breaks: tuple[Break, ...] = ()

    def __post_init__(self) -> None:
        last = self.price
        for at_least, price in sorted(self.breaks, key=lambda one: one[0]):
            if (price.currency, price.kind) != (self.price.currency, self.price.kind):
                raise PriceError("the price and its breaks must be in one currency, and for the same kind of unit")
            if at_least <= 0 or price.exact(1) >= last.exact(1):
                raise PriceError(f"breaks lower a price: {price} is not less than {last}, which holds for less")
            last = price

    def buy(self, need: Fraction) -> Bought:
        """The cheapest purchase that covers a need; of equally cheap ones the smallest."""
        least = self._whole(max(need, self.minimum)) if need else Fraction(0)
        wanted = [least]
        if need:
            wanted += [self._whole(at_least) for at_least, _ in self.breaks if at_least > least]
        costs = [(self.price_for(quantity).exact(quantity), quantity) for quantity in wanted]
        cost, quantity = min(costs)
        return Bought(need, least, quantity, self.price_for(quantity), to_cents(cost))

    def _whole(self, quantity: Fraction) -> Fraction:
        return whole_steps(quantity, self.step) * self.step if self.step else quantity

    def price_for(self, quantity: Fraction) -> Price:
        """The price that holds for a quantity."""
        holding: Sequence[Break] = [one for one in self.breaks if one[0] <= quantity]
        return max(holding, key=lambda one: one[0])[1] if holding else self.price
