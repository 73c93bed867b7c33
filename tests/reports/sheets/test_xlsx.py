"""The workbook, read back by another library (openpyxl): numbers, formulas, words, and how it is printed."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import openpyxl
import pytest
from openpyxl.utils import range_boundaries
from pytest import FixtureRequest

from pieces import Units
from pieces.units import format_size
from reports.sheets.report import Lines, Page, Report
from reports.sheets.table import Column, Number, Row, Table
from reports.sheets.xlsx import workbook
from tests.make import hostile

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell
    from openpyxl.workbook.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

    from reports.chart.chart import Chart
    from reports.plan.plan import Plan
    from reports.run.plan import RunPlan

LETTER, A4 = 1, 9  # ECMA-376 part 1, 18.3.1.63, pageSetup: paperSize


def read(report: Report, *, values: bool = False) -> Workbook:
    """The workbook of a report: its formulas, or the values kept beside them."""
    return openpyxl.load_workbook(io.BytesIO(workbook(report)), data_only=values)


def static(report: Report) -> Report:
    """A report whose pages are all sheets of sums: without the living ones, which have tests of their own."""
    pages = tuple(replace(page, goes="everywhere") for page in report.told("page"))
    return replace(report, pages=pages, living=None)


@pytest.fixture(scope="module")
def run_book(run_told: Report) -> Workbook:
    """The pages of the run."""
    return read(static(run_told))


@pytest.fixture(scope="module")
def plan_book(plan_told: Report) -> Workbook:
    """The pages of the job."""
    return read(static(plan_told))


def worked_out(sheet: Worksheet, cell: Cell) -> Any:
    """What a cell comes to, worked out anew: SUM adds up all, SUBTOTAL(9, …) all but other SUBTOTALs."""
    if cell.data_type != "f":
        return cell.value if isinstance(cell.value, int | float) else 0
    name, where = re.fullmatch(r"=(SUM|SUBTOTAL)\((?:9,)?([A-Z]+\d+(?::[A-Z]+\d+)?)\)", cell.value).groups()
    left, top, right, bottom = range_boundaries(where)
    assert top <= bottom
    summed = [sheet.cell(row, column) for row in range(top, bottom + 1) for column in range(left, right + 1)]
    assert cell.coordinate not in {one.coordinate for one in summed}
    return sum(worked_out(sheet, one) for one in summed if name == "SUM" or "SUBTOTAL" not in str(one.value))


@pytest.mark.parametrize("which", ["run_told", "plan_told"])
def test_formulas_agree_with_their_values(which: str, request: FixtureRequest) -> None:
    """Every formula comes to the value that is kept beside it for programs that do not calculate."""
    report = static(request.getfixturevalue(which))
    book, kept = read(report), read(report, values=True)
    formulas = [cell for sheet in book for row in sheet for cell in row if cell.data_type == "f"]
    assert len(formulas) >= (3 if which == "plan_told" else 20)
    for cell in formulas:
        value = kept[cell.parent.title][cell.coordinate].value
        assert worked_out(cell.parent, cell) == pytest.approx(value, abs=1e-6), (cell.parent.title, cell.coordinate)


def test_totals_are_the_answer(the_run: RunPlan, run_book: Workbook) -> None:
    """The formulas of buying list and cost sheet come to what is bought and what the run costs."""
    costs: list[Any] = [one.cost for one in the_run.bought]
    for sheet, label, total in (
        ("Buying list", "all", sum(costs, Decimal(0))),
        ("Cost sheet", "total", the_run.costing.cost.run.total),
    ):
        rows = [row for row in run_book[sheet] if row[0].value == label]
        (last,) = [cell for cell in rows[-1] if cell.data_type == "f"]
        assert worked_out(last.parent, last) == pytest.approx(float(total), abs=1e-6)


def test_words_are_no_formulas(run_book: Workbook, plan_book: Workbook) -> None:
    """Names that look like a formula or like markup stay words; the only formulas are our sums; there are no links."""
    cells = [cell for book in (run_book, plan_book) for sheet in book for row in sheet for cell in row]
    words = {cell.value for cell in cells if cell.data_type == "s"}
    assert {hostile.FORMULA, hostile.MINUS, hostile.AT, hostile.SCRIPT, hostile.IMAGE, hostile.BRACES} <= words
    assert all(re.match(r"=(SUM|SUBTOTAL)\(", cell.value) for cell in cells if cell.data_type == "f")
    assert all(cell.hyperlink is None for cell in cells)


def test_numbers_are_numbers(the_run: RunPlan, run_book: Workbook, plan: Plan, plan_book: Workbook) -> None:
    """Quantities, money and sizes are numbers with a format of their own; the unit stands in the heading."""
    sheet = run_book["Buying list"]
    (head,) = [row for row in sheet if row[0].value == "what" and "supplier" in {cell.value for cell in row}]
    heads = {cell.value: cell.column for cell in head}
    first: Any = the_run.bought[0]
    found = {name: sheet.cell(head[0].row + 1, heads[name]) for name in ("quantity", "unit", "cost")}
    assert found["quantity"].value == pytest.approx(first.number)
    assert found["unit"].value == first.unit
    assert found["cost"].value == pytest.approx(float(first.cost))
    assert found["cost"].number_format == "#,##0.00"
    sheet = plan_book["Buying list"]
    (head,) = [row for row in sheet if row[0].value == "cloth"]
    columns = {cell.value: cell.column for cell in head}
    marker = sheet.cell(head[0].row + 1, columns["marker (in)"]).value
    assert marker * 25.4 == pytest.approx(plan.markers[0][1].result.marker.length)
    assert sheet.cell(head[0].row + 1, columns["to buy (yd)"]).value * 8 == pytest.approx(
        round(plan.markers[0][1].purchase.buy / 914.4 * 8)
    )


def test_quantities_are_those_in_words(the_run: RunPlan) -> None:
    """The bare number of what is bought, with its unit, is the quantity in words, read as a person would."""
    for one in the_run.bought:
        words, unit = one.quantity.rsplit(" ", 1)
        whole = sum(
            int(part.split("/")[0]) / int(part.split("/")[1]) if "/" in part else float(part.replace(",", ""))
            for part in words.split()
        )
        assert (whole, unit) == (pytest.approx(one.number), one.unit)


def test_chart_numbers(chart: Chart, plan_book: Workbook) -> None:
    """The chart's figures are yards in eighths, the same as in words."""
    sheet = plan_book["Chart"]
    (head,) = [row for row in sheet if row[0].value == "nap"]
    figures = [[cell.value for cell in row[2:4]] for row in sheet.iter_rows(head[0].row + 1, head[0].row + 2)]
    expected = [[chart.cell(column, False, i).purchase.buy / 914.4 for column in chart.columns] for i in range(2)]
    assert [n for row in figures for n in row] == pytest.approx([n for row in expected for n in row])
    assert all((float(n) * 8).is_integer() for row in figures for n in row)


@pytest.mark.parametrize("is_metric", [False, True])
def test_print_set_up(is_metric: bool, run_told: Report) -> None:
    """Each sheet is one page wide, its title on every page, on the paper that goes with the units."""
    report = Report(run_told.title, "", run_told.pages, is_metric)
    for sheet in read(static(report)):
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)  # 1 where none is given
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.paperSize == (A4 if is_metric else LETTER)
        assert sheet.print_title_rows.startswith("$1:$")
        assert "Page &P of &N" in str(sheet.oddFooter.right.text) + str(sheet.HeaderFooter.oddFooter)


def test_tickets_have_pages_of_their_own(the_run: RunPlan, run_book: Workbook) -> None:
    """On paper each cut ticket begins a page."""
    sheet = run_book["Cut tickets"]
    starts = [row[0].row for row in sheet if str(row[0].value).startswith("Cut ticket ")]
    assert len(starts) == len(the_run.tickets) > 1
    assert [brk.id + 1 for brk in sheet.row_breaks.brk] == starts[1:]


def test_columns_hold_their_words(run_told: Report, run_book: Workbook) -> None:
    """Each column is as wide as its longest number, and no wider than a page bears."""
    page = next(page for page in run_told.pages if page.title == "Cost sheet")
    sheet = run_book["Cost sheet"]
    for table in page.tables:
        for i, column in enumerate(table.columns):
            wide = sheet.column_dimensions[openpyxl.utils.get_column_letter(i + 1)].width
            if column.kind != "text":
                assert max(len(f"{row.cells[i].value:,.2f}") for row in table.rows if row.cells[i]) <= wide <= 45


def test_same_bytes(run_told: Report) -> None:
    """The same answer gives the same workbook, byte for byte."""
    assert workbook(run_told) == workbook(run_told)


def test_any_words() -> None:
    """Words with signs that XML may not hold, and very long ones, give a workbook that opens."""
    nasty = "a\x00b\x07c\ufffe\ud800\u202ed" + "x" * 40_000
    table = Table("t", nasty, (Column(nasty), Column("n", "number")), (Row((nasty, Number(1.5, "1.5"))),), (nasty,))
    book = read(Report(nasty, nasty, (Page("One", (table, Lines((nasty, "=1+1")))),)))
    words = [cell.value for row in book["One"] for cell in row if cell.data_type == "s"]
    assert len(words) >= 5 and all(word.startswith(("a b c", "n", "=1+1")) for word in words)


def test_sizes_in_metric() -> None:
    """A size is a number in centimetres where answers are metric: the same as in words."""
    from reports.sheets.cells import size

    found = size(123.4, Units.METRIC)
    assert (found.value, found.text) == (pytest.approx(12.34), format_size(123.4, Units.METRIC))
