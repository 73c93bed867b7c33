"""The living workbook as it is written: inputs in one place, our values beside formulas, nothing that a suite minds."""

from __future__ import annotations

import io
import re
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import openpyxl
import pytest

from reports.book.book import live_book
from reports.book.formula import AGAIN, cents, holding, steps_up, whole_units
from reports.buy.living import living_plan
from reports.buy.report import plan_report
from reports.run.living import living_run, making_of
from reports.run.report import run_report
from reports.sheets.living_xlsx import LIMITS
from reports.sheets.xlsx import workbook
from tests.make import hostile
from tests.make.living import JOB, bare_workbook, exact_steps, job_planned
from tests.make.office import alike

if TYPE_CHECKING:
    from openpyxl.workbook.workbook import Workbook

    from reports.plan.plan import Plan
    from reports.run.plan import RunPlan
    from reports.sheets.living import LiveBook

FUNCTIONS = {
    "ROUND", "ROUNDUP", "SUM", "SUMIF", "SUMPRODUCT", "IF", "AND", "MIN", "MAX", "COUNT", "INDEX", "MATCH", "ISNUMBER",
    "NA", "ROW",
}  # fmt: skip
"""All that is used: none is volatile, and suites read them alike."""


@pytest.fixture(scope="module")
def job() -> Plan:
    """A job with a cost, and offers side by side."""
    return job_planned(JOB)


@pytest.fixture(scope="module")
def books(the_run: RunPlan, job: Plan) -> dict[str, LiveBook]:
    """The living sheets of a run with hostile names, and of the job."""
    return {"run": living_run(the_run), "job": living_plan(job)}


def opened(book: LiveBook, *, values: bool = False) -> Workbook:
    """The workbook of living sheets: its formulas, or the values kept beside them."""
    return openpyxl.load_workbook(io.BytesIO(bare_workbook(book)), data_only=values)


def value_of(book: LiveBook, read: Workbook, key: str) -> Any:
    """What a cell holds, by its key."""
    title, row, column = book.place(key)
    return read[title].cell(row + 1, column + 1).value


def test_values_are_the_programs(the_run: RunPlan, books: dict[str, LiveBook]) -> None:
    """For viewers that do not recalculate, each formula holds what the program worked out: here the main figures."""
    read, costing = opened(books["run"], values=True), the_run.costing
    prices = costing.rule.prices(costing.cost.garment.total)
    bought: list[Any] = [one.cost for one in the_run.bought]
    for key, wanted in (
        ("run.total", costing.cost.run.total),
        ("mean.total", costing.cost.garment.total),
        ("mean.wholesale", prices.wholesale),
        ("mean.retail", prices.retail),
        ("quote.total", costing.quote.total),
        ("quote.tax", costing.quote.tax),
        ("bought", sum(bought, Decimal(0))),
    ):
        assert value_of(books["run"], read, key) == pytest.approx(float(wanted or 0), abs=1e-9), key


@pytest.mark.parametrize("which", ["run", "job"])
def test_only_known_functions(which: str, books: dict[str, LiveBook]) -> None:
    """Formulas hold functions of the list alone, and no name of a user's; each has a value beside it."""
    read, kept = opened(books[which]), opened(books[which], values=True)
    formulas = [cell for sheet in read for row in sheet for cell in row if cell.data_type == "f"]
    assert len(formulas) > 100
    for cell in formulas:
        assert set(re.findall(r"([A-Z]+)\(", cell.value)) <= FUNCTIONS, cell.value
        assert "192.0.2.1" not in cell.value and "script" not in cell.value
    for sheet in books[which].sheets:
        for (row, column), cell in sheet.cells.items():
            value = kept[sheet.title].cell(row + 1, column + 1).value
            assert not cell.formula or alike(value, cell.value)


def test_no_circle(books: dict[str, LiveBook]) -> None:
    """No formula rests on itself, however far round."""
    for book in books.values():
        cells = {(s.title, r, c): cell.formula for s in book.sheets for (r, c), cell in s.cells.items() if cell.formula}
        rests = {at: set(references(formula)) & cells.keys() for at, formula in cells.items()}
        while free := [at for at, on in rests.items() if not on & rests.keys()]:
            for at in free:
                del rests[at]
        assert rests == {}


def references(formula: str) -> list[tuple[str, int, int]]:
    """The cells that a formula names, ranges cell by cell."""
    from openpyxl.utils import range_boundaries

    found = []
    for title, where in re.findall(r"'([^']+)'!(\$[A-Z]+\$\d+(?::\$[A-Z]+\$\d+)?)", formula):
        left, top, right, bottom = range_boundaries(where)
        found += [(title, r - 1, c - 1) for r in range(top, bottom + 1) for c in range(left, right + 1)]
    return found


def test_inputs_stand_in_one_place(books: dict[str, LiveBook]) -> None:
    """Inputs are on the sheet of inputs, the numbers of the estimate on its own; each says what may be typed."""
    for book in books.values():
        with_inputs = {sheet.title for sheet in book.sheets for cell in sheet.cells.values() if cell.limit}
        assert with_inputs <= {"Inputs", "Quantities"}
        marked = [cell for sheet in book.sheets for cell in sheet.cells.values() if cell.role == "input" and cell.limit]
        assert {cell.limit for cell in marked} == set(LIMITS)
        assert len(marked) > 20 and not any(cell.formula for cell in marked)


def test_names_stay_words(the_run: RunPlan) -> None:
    """Names that look like formulas are kept as text in the whole workbook."""
    read = openpyxl.load_workbook(io.BytesIO(workbook(run_report(the_run))))
    words = {cell.value for sheet in read for row in sheet for cell in row if cell.data_type == "s"}
    assert {hostile.FORMULA, hostile.MINUS, hostile.AT, hostile.SCRIPT, hostile.IMAGE, hostile.BRACES} <= words


def test_workbook_has_no_second_list(the_run: RunPlan) -> None:
    """The living sheets stand first, and no sheet of the pages says the same once more."""
    read = openpyxl.load_workbook(io.BytesIO(workbook(run_report(the_run))))
    assert read.sheetnames == [
        "Inputs", "Buying list", "Cost sheet", "One garment", "Quote", "Quantities", "Notes", "Lays", "Cut tickets",
    ]  # fmt: skip
    for name in read.sheetnames[:6]:
        sheet = read[name]
        assert sheet.freeze_panes and "&D" in str(sheet.oddHeader.right.text)
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)


def test_workbook_of_a_job_has_the_rest(job: Plan) -> None:
    """How offers lie and where things are used stand behind the living sheets, without the prices."""
    read = openpyxl.load_workbook(io.BytesIO(workbook(plan_report(job))))
    assert read.sheetnames == [
        "Inputs", "Buying list", "Cost sheet", "One garment", "Quote", "As planned", "Pieces", "Markers",
    ]  # fmt: skip
    words = [cell.value for row in read["As planned"] for cell in row if cell.data_type == "s"]
    assert {"laid", "marker (in)", "used at"} <= set(words) and not {"price", "cost"} & set(words)


def test_a_cloth_whose_price_is_wiped_out_is_not_free(job: Plan) -> None:
    """Where a price is emptied, no cost stands there, and no sheet takes it for 0: the choice counts costs."""
    book = living_plan(job)
    sheet = next(sheet for sheet in book.sheets if sheet.title == "Buying list")
    for key in ("fabric.0.held", "fabric.0.cost"):
        formula = sheet.cells[sheet.places[key]].formula or ""
        assert re.search(r"""IF\('Inputs'!\$D\$\d+="","",""", formula), formula


def test_job_without_cost_has_a_buying_list() -> None:
    """No price, no pay: quantities stand there, and a price may be typed in."""
    book = live_book(exact_steps())
    assert [sheet.title for sheet in book.sheets] == ["Inputs", "Buying list"]
    buys = [value_of(book, opened(book, values=True), f"rib.{i}.buy") for i in range(4)]
    assert buys == [7.25, 7.25, 7.25, 7.5]  # yd: to the nearest thousandth of a mm, then whole quarters


def test_formulas_by_hand() -> None:
    """A billionth goes on to cents and off steps; lower prices are asked from the last on."""
    assert cents("A1*2") == "ROUND(A1*2+1E-9,2)"
    assert steps_up("A1", "0.25") == "ROUNDUP(MAX(0,(A1)/(0.25)-1E-9),0)"
    assert whole_units("A1", "B1", 914.4).endswith("*B1") and "914.4" in whole_units("A1", "B1", 914.4)
    assert holding("Q", "P", [("A", "X"), ("B", "Y")]) == "IF(Q+1E-9>=B,Y,IF(Q+1E-9>=A,X,P))"


def test_what_rests_on_the_plan_asks_for_a_new_one(the_run: RunPlan) -> None:
    """Every line of cloth, rib and cutting, and all sums, ask whether as many are cut as were planned."""
    book = live_book(making_of(the_run))
    for key in (
        "run.total",
        "mean.total",
        "mean.wholesale",
        "quote.total",
        "break_even",
        "fabric.0.cost",
        "rib.0.enough",
    ):
        title, row, column = book.place(key)
        (sheet,) = (one for one in book.sheets if one.title == title)
        assert f'"{AGAIN}"' in sheet.cells[row, column].formula
    assert AGAIN not in book.sheets[1].cells[book.place("trim.0.cost")[1:]].formula
