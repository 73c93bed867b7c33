"""Numbers of a report in the order's own units: sizes, lengths of cloth, money, shares."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import INCH, YARD, Units, format_size
from reports.run.buying import write_length
from reports.sheets.table import Column, Number, Row

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from reports.sheets.table import Cell


def size(mm: float, units: Units) -> Number:
    """A size, as on a tape."""
    return Number(mm / (INCH if units is Units.INCHES else 10.0), format_size(mm, units))


def size_column(heading: str, units: Units) -> Column:
    """A column of sizes."""
    return Column(heading, "size", "in" if units is Units.INCHES else "cm")


def cloth(mm: float, units: Units, text: str = "") -> Number:
    """A length of cloth, as the shop writes it."""
    return Number(mm / (YARD if units is Units.INCHES else 1000.0), text or write_length(mm, units))


def cloth_column(heading: str, units: Units) -> Column:
    """A column of lengths of cloth."""
    return Column(heading, "length", "yd" if units is Units.INCHES else "m")


def whole(number: int) -> Number:
    """A number of things."""
    return Number(number, str(number))


def money(amount: Decimal | None) -> Cell:
    """An amount; nothing where there is none."""
    return "" if amount is None else Number(amount, f"{amount:.2f}")


def share(of_one: float) -> Number:
    """A share, in percent."""
    return Number(of_one, f"{of_one:.1%}")


def rows_of(lines: Iterable[Iterable[Cell]]) -> tuple[Row, ...]:
    """Plain lines."""
    return tuple(Row(tuple(cells)) for cells in lines)
