"""Numbers, lengths, money and pay, as an order file writes them."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, NamedTuple

from pydantic import BeforeValidator, Field

from pieces.units import parse_length
from reports.errors import PriceError
from reports.money.cost.tariff import exact
from reports.money.price import Price

LONGEST_WORK = 10_000
"""No operation takes more minutes a garment."""


class Amount(NamedTuple):
    """A number of pieces, or a length in mm, and how it was written."""

    number: Fraction
    by_length: bool
    text: str

    @classmethod
    def parse(cls, value: Any) -> Amount:
        """Read ``2`` or ``"1.2 m"``: more than 0."""
        if isinstance(value, str):
            amount = cls(exact(parse_length(value)), True, value.strip())
        elif isinstance(value, int) and not isinstance(value, bool):
            amount = cls(Fraction(value), False, str(value))
        else:
            raise ValueError(f'write a whole number, such as 1, or a length, such as "1.2 m", not {value!r}')
        if amount.number <= 0:
            raise ValueError(f"{value!r} is too little: it must be more than 0")
        return amount


def _money(value: Any) -> Price:
    """An amount of money: a price for the one thing it is for."""
    try:
        return Price.parse(f"{value} / piece" if isinstance(value, str) else value)
    except PriceError as error:
        raise PriceError(f'cannot read the amount {value!r}: write it as in "180.00", 0 or more') from error


def _rate(value: Any) -> Price:
    try:
        price = Price.parse(value)
    except PriceError:
        price = None
    if price is None or price.kind != "time":
        raise PriceError(f'{value!r} is not pay for time: write it as in "18.00 / h", 0 or more')
    return price


Quantity = Annotated[Amount, BeforeValidator(Amount.parse)]
Money = Annotated[Price, BeforeValidator(_money)]
RateText = Annotated[Price, BeforeValidator(_rate)]
Minutes = Annotated[float, Field(ge=0, le=LONGEST_WORK)]
Share = Annotated[float, Field(ge=0, le=1000)]
MarginShare = Annotated[float, Field(ge=0, lt=100)]
