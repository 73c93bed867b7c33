"""Things on hand: rolls, remnants, rib and trims; what came in of each, what was used, and what is left."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from pieces.units import SHORT, YARD, Units, unit_written
from reports.money.lengths import write_left

if TYPE_CHECKING:
    from datetime import date


ItemKind = Literal["roll", "remnant", "rib", "trim"]

ITEM = re.compile(r"\s*(?:(roll|remnant|rib|trim)\s+)?#?(\d{1,9})\s*", re.IGNORECASE)
"""How a thing on hand is named: ``roll 7``, or its number alone."""


def units_of_text(text: str) -> Units:
    """The units of a length as it was written."""
    return Units.METRIC if unit_written(text) in ("mm", "cm", "m") else Units.INCHES


@dataclass(frozen=True)
class StockItem:
    """A thing on hand.

    Parameters
    ----------
    number
        That of the entry by which it came in.
    name
        As the job or the order calls what it is.
    width
        Of cloth and rib, mm; None of what has none.
    by_length
        Whether it is counted by length, in mm, or by number.
    units
        How its lengths are written: as they were entered.
    got, used
        How much came in, and was used since.
    cut_from
        The number of the item that a remnant was cut from.
    """

    number: int
    id: str
    kind: ItemKind
    name: str
    colour: str
    lot: str
    width: float | None
    by_length: bool
    units: Units
    day: date
    got: Fraction
    used: Fraction = Fraction(0)
    cut_from: int | None = None

    @property
    def label(self) -> str:
        """What it is called, such as ``roll 7``."""
        return f"{self.kind} {self.number}"

    @property
    def left(self) -> Fraction:
        """How much is left; less than nothing where more was used than came in."""
        left = self.got - self.used
        return left if abs(left) > SHORT else Fraction(0)

    def write(self, amount: Fraction | float) -> str:
        """An amount of it: a length that is there, or a number."""
        if not self.by_length:
            return f"{float(amount):g}"
        sign = "-" if amount < 0 else ""
        return sign + write_left(abs(float(amount)), self.units)

    def number_of(self, amount: Fraction) -> float:
        """An amount as a bare number in its `unit`."""
        return float(amount) / ((YARD if self.units is Units.INCHES else 1000.0) if self.by_length else 1.0)

    @property
    def unit(self) -> str:
        """What its bare numbers are in."""
        return ("yd" if self.units is Units.INCHES else "m") if self.by_length else "pieces"


def amount_left(item: StockItem) -> str | int:
    """All that is left of it, as an entry tells an amount."""
    return f"{float(item.left):.6f} mm" if item.by_length else int(item.left)
