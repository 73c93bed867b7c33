"""Tables with commas between, as RFC 4180 has them: bare numbers, words that no spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from typing import TYPE_CHECKING

from reports.sheets.table import Number, clean

if TYPE_CHECKING:
    from reports.sheets.table import Cell, Table

FORMULA = tuple("=+-@\t\r＝＋－＠")
"""Signs that begin a formula in a spreadsheet (OWASP, CSV Injection)."""


def table_csv(table: Table) -> str:
    """A table: its headings with their units, then its lines and totals."""
    stream = io.StringIO()
    writer = csv.writer(stream)
    writer.writerow([safe(column.full_heading) for column in table.columns])
    writer.writerows([_bare(cell) for cell in row.cells] for row in table.rows)
    return stream.getvalue()


def safe(words: str) -> str:
    """Words for a cell: an apostrophe before what a spreadsheet would take for a formula."""
    words = clean(words)
    return f"'{words}" if words.lstrip().startswith(FORMULA) else words


def _bare(cell: Cell) -> str:
    if not isinstance(cell, Number):
        return safe(cell)
    return str(cell.value if isinstance(cell.value, Decimal | int) else round(cell.value, 6) + 0.0)
