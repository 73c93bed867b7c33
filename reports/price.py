"""Prices as a shop writes them: ``14.00 / yd``, ``$9.50 / m``, ``6 EUR / strip``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

from pieces.units import INCH, YARD
from reports.errors import PriceError

CENT = Decimal("0.01")

_PER: dict[str, tuple[Literal["length", "strip", "weight"], float]] = {
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
        Sold by ``"length"``, `size` mm the unit; by the ``"strip"``; or by ``"weight"``, `size` grams the unit.
    unit
        The unit as written.
    """

    amount: Decimal
    currency: str
    kind: Literal["length", "strip", "weight"]
    size: float
    unit: str

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
                f"cannot read the price {text!r}: write an amount for each yd, m, ft, in, strip, kg or lb, such as"
                ' "14.00 / yd"'
            )
        kind, size = _PER[found[4].lower()]
        return cls(Decimal(found[2]), found[1] or found[3], kind, size, found[4])

    def of(self, quantity: float) -> Decimal:
        """What `quantity` mm, strips or grams cost, to the nearest cent (halves up)."""
        units = Fraction(quantity).limit_denominator(10_000_000) / Fraction(self.size).limit_denominator(10_000_000)
        exact = self.amount * units.numerator / units.denominator
        return exact.quantize(CENT, ROUND_HALF_UP)

    def write(self, money: Decimal) -> str:
        """An amount with its currency."""
        if not self.currency:
            return f"{money:.2f}"
        return f"{money:.2f} {self.currency}" if self.currency.isalpha() else f"{self.currency}{money:.2f}"
