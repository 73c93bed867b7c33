"""A sheet of the living workbook while it is built: cells by row and column, each with what was worked out for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from decimal import Decimal

CellRole = Literal["title", "heading", "head", "text", "note", "input", "worked", "plan", "total"]
"""How a cell looks: an input is to be changed, what is worked out follows, what is of the plan stays."""

Limit = Literal["from 0", "above 0", "whole", "below 100"]
"""What may be typed into an input."""

WORDS, PLAIN, WHOLE, NUMBER, LENGTH = "@", "General", "#,##0", "#,##0.00", "#,##0.000"
"""Formats of numbers."""


@dataclass(frozen=True)
class LiveCell:
    """A cell.

    Parameters
    ----------
    value
        A number or words; of a formula what the program worked out, for viewers that do not recalculate.
    number
        The format of a number.
    formula
        Without the equals sign; empty: the value itself.
    limit
        Of an input: what may be typed.
    """

    value: float | Decimal | str
    role: CellRole = "text"
    number: str = WORDS
    formula: str = ""
    limit: Limit | None = None


@dataclass
class LiveSheet:
    """A sheet.

    Attributes
    ----------
    row
        The row that cells are put into next, counted from 0.
    places
        The row and column of each cell that has a key.
    called
        What some rows are called by, where their first cell says more.
    frozen
        Rows and columns that stay in sight.
    """

    title: str
    widths: list[int]
    frozen: tuple[int, int] = (1, 0)
    row: int = 0
    cells: dict[tuple[int, int], LiveCell] = field(default_factory=dict)
    places: dict[str, tuple[int, int]] = field(default_factory=dict)
    called: dict[int, str] = field(default_factory=dict)

    def put(self, column: int, cell: LiveCell, key: str = "") -> str:
        """Put a cell into this row; the reference to it. `key` is a name that other sheets and tests find it by."""
        self.cells[self.row, column] = cell
        if key:
            self.places[key] = self.row, column
        return self.at(self.row, column)

    def at(self, row: int, column: int) -> str:
        """The reference to a cell."""
        from xlsxwriter.utility import xl_rowcol_to_cell

        return f"'{self.title}'!{xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True)}"

    def of(self, key: str) -> str:
        """The reference to the cell with a key."""
        return self.at(*self.places[key])

    def heading(self, words: str) -> None:
        """A heading in a row of its own, after an empty one."""
        self.row += 1
        self.put(0, LiveCell(words, "heading"))
        self.row += 1

    def heads(self, *words: str) -> None:
        """The headings of columns."""
        for column, one in enumerate(words):
            self.put(column, LiveCell(one, "head"))
        self.row += 1

    def notes(self, *lines: str) -> None:
        """Lines of words over all columns."""
        for line in lines:
            self.put(0, LiveCell(line, "note"))
            self.row += 1


@dataclass(frozen=True)
class LiveBook:
    """All living sheets of a workbook."""

    sheets: tuple[LiveSheet, ...]

    def place(self, key: str) -> tuple[str, int, int]:
        """The sheet, row and column of the cell with a key; LookupError if there is none."""
        sheet = next((sheet for sheet in self.sheets if key in sheet.places), None)
        if sheet is None:
            raise LookupError(f"no cell is called {key!r}")
        return sheet.title, *sheet.places[key]


def kind_key(name: str, colour: str, size: str) -> str:
    """The key of a figure of garments of a colour and size."""
    return f"{name}[{colour!r}, {size!r}]"


def size_key(name: str, size: str) -> str:
    """The key of a figure of garments of a size."""
    return f"{name}[{size!r}]"


def span(first: str, last: str) -> str:
    """The reference to all cells from one to another of the same sheet."""
    return f"{first}:{last.rsplit('!', 1)[1]}"
