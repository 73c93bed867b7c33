"""The living sheets into a workbook: formulas with the values worked out, inputs marked, ready to print."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING, Any

from reports.sheets.living import WORDS
from reports.sheets.table import clean

if TYPE_CHECKING:
    from reports.sheets.living import CellRole, Limit, LiveBook, LiveCell, LiveSheet

LINE = 15.0
"""Height of a line, points."""

UPRIGHT = 110
"""Sheets wider than so many signs are printed on their side."""

LOOKS: dict[CellRole, dict[str, Any]] = {
    "title": {"bold": True, "font_size": 14},
    "heading": {"bold": True, "font_size": 12},
    "head": {"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"},
    "text": {"text_wrap": True, "valign": "top"},
    "note": {"text_wrap": True, "valign": "top"},
    "input": {"bg_color": "#FFF4CC", "border": 1, "border_color": "#B8A04A", "locked": False},
    "worked": {},
    "plan": {"bg_color": "#E8E8E8"},
    "total": {"bold": True, "top": 1},
}

LIMITS: dict[Limit, tuple[dict[str, Any], str]] = {
    "from 0": ({"validate": "decimal", "criteria": ">=", "value": 0}, "a number, 0 or more"),
    "above 0": ({"validate": "decimal", "criteria": ">", "value": 0}, "a number above 0"),
    "whole": ({"validate": "integer", "criteria": ">=", "value": 0}, "a whole number, 0 or more"),
    "below 100": ({"validate": "decimal", "criteria": "between", "minimum": 0, "maximum": 99.99}, "0 to 99.99"),
}


class LiveWriter:
    """Writes living sheets into a workbook of xlsxwriter."""

    def __init__(self, book: Any, paper: int) -> None:
        self.book, self.paper = book, paper
        self._formats: dict[tuple[CellRole, str, bool], Any] = {}

    def write(self, living: LiveBook) -> None:
        """Write all sheets."""
        for sheet in living.sheets:
            self._sheet(self.book.add_worksheet(sheet.title), sheet)

    def _sheet(self, into: Any, sheet: LiveSheet) -> None:
        own = f"'{sheet.title}'!"
        for column, width in enumerate(sheet.widths):
            into.set_column(column, column, width)
        for (row, column), cell in sheet.cells.items():
            if cell.role == "note" or (cell.role != "head" and cell.limit is None and _is_legend(cell, column)):
                self._merged(into, sheet, row, cell)
            else:
                below = sheet.cells.get((row + 1, column))
                is_words = cell.number == WORDS and not (cell.role == "head" and below and below.number != WORDS)
                self._cell(into, row, column, cell, own, is_words=is_words)
        for row in {row for row, _ in sheet.cells}:
            lines = [self._lines(cell, sheet.widths[column]) for (at, column), cell in sheet.cells.items() if at == row]
            if max(lines) > 1:
                into.set_row(row, LINE * max(lines))
            if (row, 0) in sheet.cells and sheet.cells[row, 0].role == "total":
                self._rule(into, sheet, row)
        _print_set_up(into, sheet, self.paper)

    def _rule(self, into: Any, sheet: LiveSheet, row: int) -> None:
        """The line above a total, over all columns up to the last."""
        last = max(column for at, column in sheet.cells if at == row)
        for column in range(last):
            if (row, column) not in sheet.cells:
                into.write_blank(row, column, None, self._format("total", WORDS, is_words=True))

    def _lines(self, cell: LiveCell, width: int) -> int:
        """Lines that words take in their column."""
        if cell.role not in ("text", "head") or not isinstance(cell.value, str):
            return 1
        return len(wrap(clean(cell.value), max(4, width - 1))) or 1

    def _format(self, role: CellRole, number: str, *, is_words: bool) -> Any:
        key = role, number, is_words
        if key not in self._formats:
            side = (
                {"align": "left", "indent": int(role in ("text", "head", "worked"))} if is_words else {"align": "right"}
            )
            self._formats[key] = self.book.add_format(LOOKS[role] | side | {"num_format": number, "valign": "top"})
        return self._formats[key]

    def _cell(self, into: Any, row: int, column: int, cell: LiveCell, own: str, *, is_words: bool) -> None:
        look = self._format(cell.role, cell.number, is_words=is_words)
        value = clean(cell.value) if isinstance(cell.value, str) else float(cell.value)
        if cell.formula:
            into.write_formula(row, column, "=" + cell.formula.replace(own, ""), look, value)
        elif value == "":
            into.write_blank(row, column, None, look)
        elif isinstance(value, str):
            into.write_string(row, column, value, look)
        else:
            into.write_number(row, column, value, look)
        if cell.limit is not None:
            rule, words = LIMITS[cell.limit]
            refused = {"error_title": "Not a figure for this cell", "error_message": f"Write {words}."}
            into.data_validation(row, column, row, column, rule | refused)

    def _merged(self, into: Any, sheet: LiveSheet, row: int, cell: LiveCell) -> None:
        """A line of words over all columns, as high as it needs to be."""
        words, last = clean(str(cell.value)), min(8, len(sheet.widths) - 1)
        room = sum(sheet.widths[: last + 1])
        look = self._format(cell.role, WORDS, is_words=True)
        into.merge_range(row, 0, row, last, "", look)
        into.write_string(row, 0, words, look)
        into.set_row(row, LINE * len(wrap(words, room - 4) or [""]))


def _is_legend(cell: LiveCell, column: int) -> bool:
    return column == 0 and not cell.formula and cell.role in ("input", "worked", "plan")


def _print_set_up(into: Any, sheet: LiveSheet, paper: int) -> None:
    """One page wide, headings on every page, the date of printing and the page below."""
    into.freeze_panes(*sheet.frozen)
    into.set_paper(paper)
    if sum(sheet.widths) > UPRIGHT:
        into.set_landscape()
    into.fit_to_pages(1, 0)
    into.set_margins(left=0.5, right=0.5, top=0.8, bottom=0.7)
    into.repeat_rows(0, sheet.frozen[0] - 1)
    title = clean(str(sheet.cells[0, 0].value))[:100].replace("&", "&&")
    into.set_header("&RPrinted &D")
    into.set_footer(f"&L{title}&RPage &P of &N")
