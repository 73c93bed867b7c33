"""Tables with commas between, read back by the standard library's reader."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import FixtureRequest

from reports.run.report import ticket_table
from reports.sheets.csv import FORMULA, safe, table_csv
from reports.sheets.table import Number, Table
from tests.make import hostile

if TYPE_CHECKING:
    from reports.run.plan import RunPlan
    from reports.sheets.report import Report


def read(table: Table) -> list[list[str]]:
    """The cells of a table's file."""
    return list(csv.reader(io.StringIO(table_csv(table), newline="")))


@pytest.mark.parametrize("which", ["run_told", "plan_told"])
def test_every_table(which: str, request: FixtureRequest) -> None:
    """Each table comes back line by line: as many cells as columns, numbers as bare numbers, words as words."""
    tables = list(request.getfixturevalue(which).tables())
    assert len({table.name for table in tables}) == len(tables) > 5
    for table in tables:
        heads, *lines = read(table)
        assert len(heads) == len(table.columns)
        assert len(lines) == len(table.rows)
        for line, row in zip(lines, table.rows, strict=True):
            for found, cell in zip(line, row.cells, strict=True):
                if isinstance(cell, Number):
                    assert float(found) == pytest.approx(float(cell.value), abs=1e-6)
                else:
                    assert found.removeprefix("'") == cell


def test_no_formulas(run_told: Report) -> None:
    """No word of a file begins as a formula does (by OWASP on CSV injection); a negative number is no word."""
    cells = [cell for table in run_told.tables() for line in read(table) for cell in line]
    words = {cell for cell in cells if not cell.removeprefix("-").replace(".", "").isdigit()}
    assert {f"'{name}" for name in (hostile.FORMULA, hostile.MINUS, hostile.AT)} <= words
    assert not [word for word in words if word.startswith(("=", "+", "-", "@", "\t", "\r"))]


@given(st.text(max_size=30))
def test_safe(words: str) -> None:
    """Whatever the words, they are one line, encode as UTF-8, and begin with no sign of a formula, blanks aside."""
    found = safe(words)
    assert len(found.splitlines()) <= 1
    assert found.encode("utf-8").decode("utf-8") == found
    assert not found.lstrip().startswith(FORMULA)


def test_tickets_say_what_is_printed(the_run: RunPlan) -> None:
    """A ticket's table has the words of the printed ticket, cell by cell."""
    for ticket in the_run.tickets:
        table = ticket_table(ticket)
        rows = [tuple(cell.text if isinstance(cell, Number) else cell for cell in (*row.cells,)) for row in table.rows]
        assert [tuple(column.heading for column in table.columns), *rows] == list(ticket.cells)
