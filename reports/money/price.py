"""Prices as a shop writes them: ``14.00 / yd``, ``$9.50 / m``, ``0.90 EUR / piece``; wages too: ``18.00 / h``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, Literal

from pieces.units import INCH, YARD, spoken
from reports.errors import PriceError

if TYPE_CHECKING:
    from collections.abc import Iterable

PriceKind = Literal["length", "strip", "weight", "piece", "time"]

_PER: dict[str, tuple[PriceKind, float]] = {
    "yd": ("length", YARD),
    "yard": ("length", YARD),
    "m": ("length", 1000.0),
    "metre": ("length", 1000.0),
    "meter": ("length", 1000.0),
    "cm": ("length", 10.0),
    "ft": ("length", 12 * INCH),
    "in": ("length", INCH),
    "strip": ("strip", 1.0),
    "set": ("strip", 1.0),
    "kg": ("weight", 1000.0),
    "g": ("weight", 1.0),
    "lb": ("weight", 453.59237),
    "oz": ("weight", 28.349523125),
    "piece": ("piece", 1.0),
    "h": ("time", 60.0),
    "hour": ("time", 60.0),
    "min": ("time", 1.0),
}
_SIGN = r"([^\d\s.,/\\[\]-]{0,5})"
_PRICE = re.compile(rf"\s*{_SIGN}\s*(\d{{1,9}}(?:\.\d{{1,9}})?)\s*{_SIGN}\s*/\s*([a-z]+)\s*", re.IGNORECASE)


@dataclass(frozen=True)
class Price:
    """An amount for each unit sold.

    Parameters
    ----------
    amount
        Money for one unit.
    currency
        Its sign or code as written, or nothing.
    kind, size
        Sold by ``"length"``, `size` mm the unit; by the ``"strip"`` or the ``"piece"``; by ``"weight"``, `size` grams
        the unit; or work paid by ``"time"``, `size` minutes the unit.
    unit
        The unit as written.
    counted
        Of a length, the unit that a quantity is counted in; `unit` may be a reel of many of it.
    """

    amount: Decimal
    currency: str
    kind: PriceKind
    size: float
    unit: str
    counted: str = ""

    @classmethod
    def parse(cls, text: str) -> Price:
        """Read a price.

        Raises
        ------
        PriceError
            If there is no amount, or no unit that cloth or rib is sold by.
        """
        found = _PRICE.fullmatch(text) if isinstance(text, str) else None
        if found is None or found[4].lower() not in _PER or (found[1] and found[3]):
            raise PriceError(
                f"cannot read the price {text!r}: write an amount, 0 or more, for each yd, m, ft, in, strip, piece,"
                f' kg or lb (work: for each h), such as "{spoken("14.00 / yd", "14.00 / m")}"'
            )
        kind, size = _PER[found[4].lower()]
        counted = found[4] if kind == "length" else ""
        return cls(Decimal(found[2]), found[1] or found[3], kind, size, found[4], counted)

    def exact(self, quantity: float | Fraction) -> Fraction:
        """What `quantity` mm, strips, pieces, grams or minutes cost, not rounded."""
        units = Fraction(quantity).limit_denominator(10_000_000) / Fraction(self.size).limit_denominator(10_000_000)
        return Fraction(self.amount) * units

    def of(self, quantity: float | Fraction) -> Decimal:
        """The same to the nearest cent, halves up."""
        return to_cents(self.exact(quantity))

    def write(self, money: Decimal) -> str:
        """An amount with its currency."""
        return write_money(money, self.currency)

    def __str__(self) -> str:
        """The price as it is written, such as ``$3.60 / piece``."""
        decimals = max(2, -int(self.amount.as_tuple().exponent))
        return f"{_with_currency(f'{self.amount:.{decimals}f}', self.currency)} / {self.unit}"


def price_words(price: Price | None) -> str:
    """A price as it is written; nothing where there is none."""
    return str(price) if price else ""


def to_cents(exact: Fraction) -> Decimal:
    """The nearest cent, halves up (of less than nothing: away from it)."""
    cents = Decimal(floor(abs(exact) * 100 + Fraction(1, 2))).scaleb(-2)
    return cents.copy_negate() if exact < 0 and cents else cents


def write_money(money: Decimal, currency: str, *, whole: bool = False) -> str:
    """An amount with its currency: a sign before it, a code after it; to the cent, or the `whole` number as it is."""
    return _with_currency(f"{money.normalize():f}" if whole else f"{money:.2f}", currency)


def one_currency(prices: Iterable[Price]) -> str:
    """The currency that all prices are in.

    Raises
    ------
    PriceError
        If there are several; one that is left out is another than one that is written.
    """
    found = list(dict.fromkeys(price.currency for price in prices))
    if len(found) > 1:
        first, second = (repr(sign) if sign else "no currency" for sign in found[:2])
        raise PriceError(f"prices in {first} and in {second}: write all of them in one currency")
    return found[0] if found else ""


def _with_currency(amount: str, currency: str) -> str:
    if not currency:
        return amount
    return f"{amount} {currency}" if currency.isalpha() else f"{currency}{amount}"
