"""Rolls that the order gives are not bought again: what they hold is there, what is short is still to buy."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import openpyxl
import pytest

from pieces.units import round_up
from reports.printed import printed
from reports.run.plain import run_to_plain
from reports.run.report import run_report
from reports.run.words import run_parts
from reports.sheets.files import write_report
from tests.make.orders import planned

if TYPE_CHECKING:
    from pathlib import Path

    from reports.run.plan import RunPlan

YARD = 914.4


def given(rolls: str) -> RunPlan:
    """A small order with rolls of its rust cloth."""
    return planned((r"^# rolls = .*$", f"rolls = [{rolls}]"))


@pytest.fixture(scope="module")
def short() -> RunPlan:
    """Rolls of a yard and a half: they give a ply or none of a lay."""
    return given('"3 yd", "1 1/2 yd"')


def test_cloth_that_is_there_is_not_bought() -> None:
    """Of cloth whose rolls give every ply nothing is to buy; its cost counts all the same."""
    run = given('"50 yd"')
    answer = run_to_plain(run)
    names = [one["what"] for one in answer["buy"]]
    rust = run.lots[0].lot.cloths["rust"].name
    assert rust not in names and len(names) == len(run.bought) - 1
    (one,) = answer["given"]
    assert (one["what"], one["plies"], one["to_buy"]) == (rust, one["plies_with_roll"], "")
    assert f"You have {rust}: 1 roll, 50.00 yd. Nothing to buy of it." in printed(*run_parts(run)).splitlines()
    assert run.costing.cost.run.total > sum((one.cost or Decimal(0) for one in run.bought), Decimal(0))


def test_what_is_short_is_bought(short: RunPlan) -> None:
    """The lengths of the plies that found no roll, with their ends, up to the next step of the shop: that is to buy."""
    plan = short.lots[0]
    lacking = sum(length for plies in plan.without_roll("rust").values() for length in plies)
    assert lacking > 0
    cloth = plan.lot.cloths["rust"]
    (bought,) = (one for one in short.to_buy if one.what == cloth.name)
    assert bought.purchase is not None
    assert bought.purchase.buy == pytest.approx(round_up(lacking, cloth.sold_by.mm))
    text = printed(*run_parts(short))
    assert f"You have part of {cloth.name}: 2 rolls, 4.50 yd;" in text and f"Still to buy: {bought.quantity}" in text


def test_the_workbook_says_it(short: RunPlan, tmp_path: Path) -> None:
    """The buying list of the workbook has what is still to buy beside the whole need, with its sum."""
    write_report(run_report(short), tmp_path / "report.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "report.xlsx", data_only=True)["Buying list"]
    rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    heads = next(row for row in rows if row[0] == "what")
    rest, costs = heads.index("still to buy"), heads.index("costs")
    name = short.lots[0].lot.cloths["rust"].name
    own = next(row for row in rows if row[0] == name)  # below it, its lower prices
    (bought,) = (one for one in short.to_buy if one.what == name)
    assert (own[rest], own[costs]) == (bought.quantity, pytest.approx(float(bought.cost or 0)))
    total = next(row for row in rows if row[0] == "all")
    assert total[costs] == pytest.approx(float(sum((one.cost or Decimal(0) for one in short.to_buy), Decimal(0))))
