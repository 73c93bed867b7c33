"""A report as a workbook: living sheets, then a sheet a page, real numbers, totals as formulas, ready to print."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from reports.sheets.living_xlsx import LiveWriter
from reports.sheets.report import Lines
from reports.sheets.table import ColumnKind, Number, Table, clean, written

if TYPE_CHECKING:
    from collections.abc import Iterable

    from reports.sheets.report import Page, Report
    from reports.sheets.table import Cell, Row

FORMATS: dict[ColumnKind, str] = {
    "text": "@",
    "whole": "#,##0",
    "number": "#,##0.##",
    "length": "#,##0.000",
    "size": "#,##0.00",
    "money": "#,##0.00",
    "share": "0.0%",
}

MADE = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)
"""Written into every workbook, so that the same answer gives the same bytes."""

LETTER, A4 = 1, 9
"""Paper, by its number in the file format (ECMA-376, part 1, pageSetup)."""

NARROWEST, WIDEST = 8, 42
"""Width of a column, signs."""

LEAST_ACROSS = 90
"""Lines of words take at least so much room across, signs."""

UPRIGHT = 100
"""Sheets wider than so many signs are printed on their side."""

FEW = 8
"""Lines above the only table's headings that are repeated on every page with them, at most."""

LINE = 15.0
"""Height of a line, points."""


def workbook(report: Report) -> bytes:
    """The workbook of a report; the same bytes for the same answer."""
    import xlsxwriter

    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    book.set_properties({"title": clean(report.title), "created": MADE})
    formats = _formats(book)
    if report.living is not None:
        LiveWriter(book, A4 if report.is_metric else LETTER).write(report.living())
    for page in report.told("workbook"):
        _Sheet(book.add_worksheet(page.title), formats, page).write(report)
    book.close()
    return stream.getvalue()


def _formats(book: Any) -> dict[str, Any]:
    own = {
        "title": {"bold": True, "font_size": 14},
        "table": {"bold": True, "font_size": 12},
        "line": {"text_wrap": True, "valign": "top"},
        "head text": {"bold": True, "bottom": 1, "text_wrap": True, "valign": "top", "align": "left", "indent": 1},
        "head number": {"bold": True, "bottom": 1, "text_wrap": True, "valign": "top", "align": "right"},
    }
    for kind, digits in FORMATS.items():
        side = {"align": "left", "indent": 1} if kind == "text" else {"align": "right"}
        own[f"line {kind}"] = {"num_format": digits, "text_wrap": kind == "text", "valign": "top"} | side
        own[f"subtotal {kind}"] = {"num_format": digits, "italic": True, "top": 4} | side
        own[f"total {kind}"] = {"num_format": digits, "bold": True, "top": 1} | side
    return {name: book.add_format(settings) for name, settings in own.items()}


class _Sheet:
    """One sheet while it is written, line by line."""

    def __init__(self, sheet: Any, formats: dict[str, Any], page: Page) -> None:
        self.sheet, self.formats, self.page = sheet, formats, page
        self.widths = _widths(page)
        self.line, self.breaks = 0, list[int]()

    def write(self, report: Report) -> None:
        """Write all of the page, and set up how it is printed."""
        self.sheet.write_string(0, 0, clean(f"{report.title}: {self.page.title.lower()}"), self.formats["title"])
        self.line = 2
        headings = []
        for part in self.page.parts:
            if isinstance(part, Table):
                headings.append(self._table(part))
            elif isinstance(part, Lines):
                self._words(part)
        for i, width in enumerate(self.widths):
            self.sheet.set_column(i, i, width)
        self.sheet.set_paper(A4 if report.is_metric else LETTER)
        if sum(self.widths) > UPRIGHT:
            self.sheet.set_landscape()
        self.sheet.fit_to_pages(1, 0)
        self.sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.6)
        self.sheet.set_h_pagebreaks(self.breaks)
        self.sheet.repeat_rows(0, headings[0] if len(headings) == 1 and headings[0] < FEW else 0)
        title = clean(report.title)[:100].replace("&", "&&")
        self.sheet.set_footer(f"&L{title}&RPage &P of &N")

    def _words(self, part: Lines) -> None:
        """Write lines of words."""
        for words in part.lines:
            self._merged(f"☐ {words}" if part.kind == "checks" else words)
        self.line += 1

    def _merged(self, words: str) -> None:
        """One line of words over all columns, as high as it needs to be."""
        room = sum(self.widths)
        words = clean(words)
        self.sheet.merge_range(self.line, 0, self.line, len(self.widths) - 1, "", self.formats["line"])
        self.sheet.write_string(self.line, 0, words, self.formats["line"])
        self.sheet.set_row(self.line, LINE * len(wrap(words, room) or [""]))
        self.line += 1

    def _table(self, table: Table) -> int:
        """Write a table; the row of its headings."""
        if table.starts_page and self.line > 2:
            self.breaks.append(self.line)
        self.sheet.write_string(self.line, 0, clean(table.title), self.formats["table"])
        self.line += 1
        for words in table.lines:
            self._merged(words)
        heading = self.line
        for i, column in enumerate(table.columns):
            kind = "text" if column.kind == "text" else "number"
            self.sheet.write_string(heading, i, clean(column.full_heading), self.formats[f"head {kind}"])
        self._high(column.full_heading for column in table.columns)
        self.line, start = heading + 1, heading + 1
        for row in table.rows:
            first = heading + 1 if row.role == "total" else start
            self._high("" if isinstance(cell, Number) else cell for cell in row.cells)
            for i, cell in enumerate(row.cells):
                self._cell(table, row, i, cell, first)
            self.line += 1
            start = self.line if row.role == "subtotal" else start
        self.line += 1
        return heading

    def _high(self, cells: Iterable[str]) -> None:
        """Make the line as high as the words of its cells need."""
        lines = [len(wrap(clean(words), width - 1)) for words, width in zip(cells, self.widths, strict=False)]
        self.sheet.set_row(self.line, LINE * max([1, *lines]))

    def _cell(self, table: Table, row: Row, i: int, cell: Cell, first: int) -> None:
        from xlsxwriter.utility import xl_range

        column = table.columns[i]
        look = self.formats[f"{row.role} {column.kind}"]
        if not isinstance(cell, Number):
            self.sheet.write_string(self.line, i, clean(cell), look)
            return
        value = float(cell.value)
        if row.role != "line":
            summed = f"=SUBTOTAL(9,{xl_range(first, i, self.line - 1, i)})"
            self.sheet.write_formula(self.line, i, summed, look, value)
        elif column.sums_from is not None:
            summed = f"=SUM({xl_range(self.line, column.sums_from, self.line, i - 1)})"
            self.sheet.write_formula(self.line, i, summed, look, value)
        else:
            self.sheet.write_number(self.line, i, value, look)


def _widths(page: Page) -> list[int]:
    """Width of each column, signs: what its longest cell takes, and enough for lines of words."""
    number = max([2, *(len(table.columns) for table in page.tables)])
    widths = [NARROWEST] * number
    for table in page.tables:
        for i, column in enumerate(table.columns):
            cells = [len(written(row.cells[i])) for row in table.rows]
            longest = max([max(map(len, clean(column.heading).split() or [""])), len(column.unit) + 2, *cells])
            widths[i] = max(widths[i], min(longest + 2, WIDEST))
    while sum(widths) < LEAST_ACROSS:
        widths.append(min(WIDEST, LEAST_ACROSS - sum(widths)))
    return widths
