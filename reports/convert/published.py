"""Published tables of what one and the same garment takes on cloth of different widths."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any

from pieces.data import toml_data
from pieces.errors import FormatError
from pieces.units import INCH

NEAR = 1e-3
"""Two lengths are the same up to this, mm."""

AS_WIDE = 10.0
"""Cloth of a width in centimetres is sold as one in inches (115 cm as 45 in) up to this, mm: common practice, no
source."""


@dataclass(frozen=True)
class WidthColumn:
    """What each garment of a table takes on cloth of some widths, yards.

    Parameters
    ----------
    low, high
        The widths it holds for, mm.
    yards
        Of the garments in the table's order.
    """

    low: float
    high: float
    yards: tuple[Fraction, ...]

    def off(self, width: float) -> float:
        """By how much cloth is narrower or wider than it is for, mm; 0 if it is for that width."""
        return max(self.low - width, width - self.high, 0.0)


@dataclass(frozen=True)
class PublishedTable:
    """A table with its source; `of` says of how many garments it is."""

    name: str
    source: str
    of: str
    columns: tuple[WidthColumn, ...]

    def around(self, width: float) -> tuple[WidthColumn, WidthColumn] | None:
        """The narrower and the wider column next to a width, mm, or its own twice; None where it is outside of all."""
        own = min(self.columns, key=lambda column: column.off(width))
        if own.off(width) <= AS_WIDE:
            return own, own
        narrower = [column for column in self.columns if column.high < width]
        wider = [column for column in self.columns if column.low > width]
        return (narrower[-1], wider[0]) if narrower and wider else None


def shares(one: WidthColumn, other: WidthColumn) -> list[Fraction]:
    """What each garment takes on the other cloth, as a share of what it takes on the one."""
    return [there / here for here, there in zip(one.yards, other.yards, strict=True)]


@cache
def published() -> tuple[PublishedTable, ...]:
    """All tables, that of the most columns first."""
    text = (files("reports") / "tables" / "yardage.toml").read_text(encoding="utf-8")
    data = toml_data(text, "yardage.toml", FormatError)
    return tuple(
        PublishedTable(table["name"], table["source"], table["of"], tuple(map(_column, table["column"])))
        for table in data["table"]
    )


def _column(written: dict[str, Any]) -> WidthColumn:
    yards = (sum((Fraction(part) for part in entry.split()), Fraction(0)) for entry in written["yards"].split(","))
    return WidthColumn(written["from"] * INCH, written["to"] * INCH, tuple(yards))
