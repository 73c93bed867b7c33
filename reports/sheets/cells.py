"""Numbers of a report in the order's own units: sizes, lengths of cloth, money, shares."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.units import INCH, YARD, Units, format_bound, format_need, format_size, percent_reached
from reports.money.lengths import write_length
from reports.sheets.table import Column, Number, Row

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from reports.money.sums import SumLine
    from reports.sheets.table import Cell


def size(mm: float, units: Units) -> Number:
    """A size, as on a tape."""
    return Number(mm / (INCH if units is Units.INCHES else 10.0), format_size(mm, units))


def need(mm: float, units: Units) -> Number:
    """A size that must be there: its words rounded up."""
    return replace(size(mm, units), text=format_need(mm, units))


def bound(mm: float, units: Units) -> Number:
    """A size that nothing undercuts: its words rounded down."""
    return replace(size(mm, units), text=format_bound(mm, units))


def line(shown: SumLine, units: Units) -> Number:
    """A line of a sum, as it is shown."""
    return replace(size(shown.mm, units), text=shown.text)


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
    """A share that is reached, in percent."""
    return Number(of_one, percent_reached(of_one))


def rows_of(lines: Iterable[Iterable[Cell]]) -> tuple[Row, ...]:
    """Plain lines."""
    return tuple(Row(tuple(cells)) for cells in lines)
