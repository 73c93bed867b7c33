"""A table of a report: columns of words and of real numbers, and lines that sum up those above them."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeVar

if TYPE_CHECKING:
    from decimal import Decimal

ColumnKind = Literal["text", "whole", "number", "length", "size", "money", "share"]

T = TypeVar("T")

LONGEST = 2000
"""Words of a cell are cut off beyond so many signs."""

HIDDEN = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
"""Signs that turn the direction of writing, so that words look other than they are."""


@dataclass(frozen=True)
class Number:
    """A number, and how it is written for people."""

    value: float | Decimal
    text: str


Cell = str | Number


@dataclass(frozen=True)
class Column:
    """A column.

    Parameters
    ----------
    unit
        Of its numbers, where all are in one; for people each number names its own.
    sums_from
        Index of the column from which on each line is summed up here, if it is.
    names_unit
        Whether it says what the numbers of the column before it are in: for bare numbers alone.
    """

    heading: str
    kind: ColumnKind = "text"
    unit: str = ""
    sums_from: int | None = None
    names_unit: bool = False

    @property
    def full_heading(self) -> str:
        """The heading with the unit of bare numbers."""
        return f"{self.heading} ({self.unit})" if self.unit else self.heading


@dataclass(frozen=True)
class Row:
    """A line; numbers of a `"subtotal"` sum up those since the last one, of a `"total"` all lines above."""

    cells: tuple[Cell, ...]
    role: Literal["line", "subtotal", "total"] = "line"


@dataclass(frozen=True)
class Table:
    """A table.

    Parameters
    ----------
    name
        For files: small letters, digits and hyphens; unique in a report.
    lines
        What stands below the title.
    starts_page
        Whether a new page begins with it on paper.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    lines: tuple[str, ...] = ()
    starts_page: bool = False

    def shown(self, cells: tuple[T, ...]) -> list[T]:
        """Of things that stand a column each, those to show where numbers are written with their units."""
        return [cell for cell, column in zip(cells, self.columns, strict=True) if not column.names_unit]


def written(cell: Cell) -> str:
    """A cell for people."""
    return cell.text if isinstance(cell, Number) else clean(cell)


def clean(words: str) -> str:
    """Words without signs that no file of text or XML may hold, or that make them look other than they are."""
    kept = (" " if _is_control(sign) else sign for sign in words if sign not in HIDDEN)
    return "".join(kept)[:LONGEST]


def _is_control(sign: str) -> bool:
    is_no_character = ord(sign) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(sign) <= 0xFDEF
    return is_no_character or unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp")
