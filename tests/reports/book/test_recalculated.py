"""The living workbook, recalculated by an office suite without a window, is what the program works out: to the cent.

Before and after changes, by hand and by chance. The suite is started once, for all workbooks.
"""

from __future__ import annotations

import random
import shutil
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import openpyxl
import pytest

from reports.ask.order.order import parse_order
from reports.book.book import live_book
from reports.book.formula import AGAIN
from reports.buy.living import making_of_plan
from reports.buy.report import plan_report
from reports.errors import PriceError
from reports.run.living import making_of
from reports.run.plan import plan_run
from reports.run.report import run_report
from reports.sheets.xlsx import workbook
from tests.make.living import JOB, PLAIN, RICH, bare_workbook, exact_steps, job_planned
from tests.make.office import IS_ON, LEFT_OUT, differences, recalculated, with_inputs
from tests.make.orders import lay
from tests.make.recosted import file_with, order_of, random_changes, recosted, recosted_plan

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.book.making import LiveMaking
    from reports.run.plan import RunPlan
    from reports.sheets.living import LiveBook

if not IS_ON:  # CI sets it: there, a suite that is missing is a failure
    pytest.skip(LEFT_OUT, allow_module_level=True)

SEED = 18

WIPED = "a price is wiped out"

BY_HAND: dict[str, dict[str, Any]] = {
    "the price of cloth": {"fabric.0.price": 17.25},
    "minutes": {"operation.1.minutes": 23.5, "cutting.cut_minutes": 9.5},
    "percentages": {"pricing.overhead": 12.5, "pricing.markup": 60, "pricing.tax": 19},
    "garments ordered": {"ordered['rust', 'S']": 1, "ordered['navy', 'L']": 5},
    "nothing for labour": {"pricing.rate": 0, "pricing.overhead": 0, "pricing.waste": 0, "cutting.lay_minutes": 0},
    "the step": {"fabric.1.step": 1, "rib.0.step": 0.5},
    "the price of rib": {"rib.0.price": 9.99},
    "trims": {"trim.0.price": 3.1, "trim.2.minimum": 10, "trim.1.amount['L']": 180},
    "a lower price that pays": {"fabric.0.breaks.0.price": 2.0, "trim.0.breaks.0.from": 9},
}


@dataclass(frozen=True)
class Case:
    """A workbook with inputs changed, and the sheets that the program makes of the changed file."""

    name: str
    data: bytes
    ours: LiveBook


def keys_of(making: LiveMaking) -> list[str]:
    """The keys of all inputs of a workbook that stand in its file."""
    sheet = live_book(making).sheets[0]
    return [key for key, place in sheet.places.items() if sheet.cells[place].role == "input"]


def run_cases(run: RunPlan, text: str, by_hand: dict[str, dict[str, Any]], rounds: int) -> list[Case]:
    """A run, and the same with inputs changed by hand and by chance."""
    making = making_of(run)

    def ours(changes: dict[str, Any]) -> LiveMaking:
        return making_of(recosted(run, order_of(file_with(text, making, changes))))

    return told_cases(making, workbook(run_report(run)), ours, {"as it is": {}, **by_hand}, rounds)


def job_cases(rounds: int) -> list[Case]:
    """A job, likewise; what its trims take is no entry of its file."""
    plan = job_planned(JOB)
    making = making_of_plan(plan)

    def ours(changes: dict[str, Any]) -> LiveMaking:
        return making_of_plan(recosted_plan(plan, JOB, changes, making))

    by_hand = {"as it is": {}, "the other cloth is cheaper": {"fabric.0.price": 99.5}}
    return told_cases(making, workbook(plan_report(plan)), ours, by_hand, rounds)


def told_cases(
    making: LiveMaking,
    data: bytes,
    ours: Callable[[dict[str, Any]], LiveMaking],
    by_hand: dict[str, dict[str, Any]],
    rounds: int,
) -> list[Case]:
    """A workbook with each of the changes, and so many by chance."""
    book, dice = live_book(making), random.Random(SEED)
    keys = [key for key in keys_of(making) if not (making.choices and key.startswith("trim."))]
    changes = dict(by_hand)
    while len(changes) < len(by_hand) + rounds:
        drawn = random_changes(making, keys, dice, 8)
        if is_allowed(making, ours, drawn):
            changes[f"round {len(changes)}: {drawn}"] = drawn
    bare = bare_workbook(book)  # of one case all sheets, of the others those that live
    return [
        Case(name, with_inputs(bare if by else data, book, by), live_book(ours(by))) for name, by in changes.items()
    ]


def is_allowed(making: LiveMaking, ours: Callable[[dict[str, Any]], LiveMaking], drawn: dict[str, Any]) -> bool:
    """Whether the program takes such a file, and lower prices still rise in their lines."""
    try:
        changed = ours(drawn)
    except PriceError:
        return False
    lines = [[[one.key for one in good.breaks] for good in goods] for goods in (making.goods, changed.goods)]
    return lines[0] == lines[1]


def cases() -> list[Case]:
    """All of them."""
    steps = live_book(exact_steps())
    plain, rich = (plan_run(parse_order(text, "order.toml"), lay, effort=1.0) for text in (PLAIN, RICH))
    book = live_book(making_of(plain))
    return [
        *run_cases(plain, PLAIN, BY_HAND, 1),
        *run_cases(rich, RICH, {}, 5),
        *job_cases(2),
        Case("exact steps and half cents", with_inputs(bare_workbook(steps), steps, {}), steps),
        Case(AGAIN, with_inputs(bare_workbook(book), book, {"cut['navy', 'L']": 2}), book),
        Case(WIPED, with_inputs(bare_workbook(book), book, {"fabric.0.price": None}), book),
    ]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[Case, Path]]:
    """Each case with its workbook, recalculated."""
    every = cases()
    folder = tmp_path_factory.mktemp("office")
    return list(zip(every, recalculated(folder, [case.data for case in every]), strict=True))


def test_the_suite_is_there() -> None:
    """What CI asks for is installed."""
    assert shutil.which("soffice")


def test_every_formula_comes_to_what_the_program_works_out(told: list[tuple[Case, Path]]) -> None:
    """All formulas of all cases: money to the cent, quantities, names and words."""
    wrong = {case.name: differences(path, case.ours) for case, path in told if case.name not in (AGAIN, WIPED)}
    assert len(told) > 20
    assert {name: found[:5] for name, found in wrong.items() if found} == {}


def test_changes_change_the_total(told: list[tuple[Case, Path]]) -> None:
    """What is changed by hand reaches cost, quote or break-even: the comparison does not compare what stands still."""
    totals = {}
    for case, path in told[: len(BY_HAND) + 1]:
        sheet = openpyxl.load_workbook(path, data_only=True)["Inputs"]
        totals[case.name] = [sheet.cell(row, 2).value for row in range(7, 17)]
    first = totals.pop("as it is")
    assert all(others != first for others in totals.values())


def test_a_price_that_is_wiped_out_is_not_nothing(told: list[tuple[Case, Path]]) -> None:
    """What rests on the price says that it is not available, up to the quote; what does not, stands."""
    ((case, path),) = [one for one in told if one[0].name == WIPED]
    read = openpyxl.load_workbook(path, data_only=True)

    def of(key: str) -> Any:
        title, row, column = case.ours.place(key)
        return read[title].cell(row + 1, column + 1).value

    for key in ("fabric.0.held", "fabric.0.cost", "bought", "run.total", "quote.total", "break_even"):
        assert of(key) == "#N/A", key
    assert of("fabric.0.buy") > 0 and of("fabric.1.cost") > 0


def test_other_numbers_cut_ask_for_a_new_plan(told: list[tuple[Case, Path]]) -> None:
    """Five are to be cut for four: trims and work follow, and every figure that rests on the plan says so.

    No figure is an error, and none but those of trims, work and what is paid once is a number.
    """
    ((case, path),) = [one for one in told if one[0].name == AGAIN]
    read = openpyxl.load_workbook(path, data_only=True)
    assert [cell.value for sheet in read for row in sheet for cell in row if cell.data_type == "e"] == []

    def of(key: str) -> Any:
        title, row, column = case.ours.place(key)
        return read[title].cell(row + 1, column + 1).value

    for key in ("fabric.0.cost", "rib.0.buy", "run.total", "mean.wholesale", "quote.total", "break_even", "bought"):
        assert of(key) == AGAIN, key
    assert (of("trim.0.cost"), of("trim.1.need"), of("differs")) == (pytest.approx(5 * 2.4), 600, 1)
    lines = {row[0].value: row[6].value for row in read["Cost sheet"].iter_rows(4, 18)}
    assert lines["cuffs, hem and neck rib"] == pytest.approx(28.50)  # 5 × 18 min at 19.00 an hour
    follow = {"zip", "thread", "label", "pattern and grading", "sample"} | {one for one in lines if "seams" in str(one)}
    follow |= {"cuffs, hem and neck rib", "facings and zip", "pressing and checking"}
    assert {name for name, amount in lines.items() if isinstance(amount, int | float)} == follow
