"""The shopping list: everything to buy, each with its quantity, its price and where it is used."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest
from rich.console import Console

from reports.ask.job import parse_job
from reports.buy.report import plan_report
from reports.plan.effort import Effort
from reports.plan.plan import Plan, plan_job
from reports.plan.shopping import shopping_left_out, shopping_of, shopping_rows, shopping_to_plain, trims_of
from reports.plan.words import shopping_table
from reports.sheets.table import Table
from tests.make.model import MODEL, edited

if TYPE_CHECKING:
    from reports.plan.shopping import ShoppingLine

PRICES = """
[[trim]]
name = "buttons or snaps"
price = "$0.40 / piece"
[[trim]]
name = "thread"
price = "$3 / piece"
sold_by = "50 m"
"""


def planned(text: str) -> Plan:
    """The plan by first layouts only."""
    return plan_job(parse_job(text), Effort(0))


def by_name(plan: Plan) -> dict[str, ShoppingLine]:
    """The lines of a list."""
    return {line.name: line for line in shopping_of(plan)}


@pytest.fixture(scope="module")
def plan() -> Plan:
    """The model job, two prices given."""
    return planned(MODEL + PRICES)


def test_every_kind_is_there(plan: Plan) -> None:
    """Cloth and rib as they are bought, then the trims with their own prices."""
    lines, ((_, cloth),), ((_, rib),) = by_name(plan), plan.markers, plan.rib_plans
    assert (lines["navy twill, wide"].buy, lines["navy twill, wide"].cost) == (cloth.purchase.text, cloth.cost)
    assert (lines["tube rib"].buy, lines["tube rib"].where) == (rib.text, ("cuff", "hem band", "neckband"))
    buttons, thread = lines["buttons or snaps"], lines["thread"]
    assert buttons.count and buttons.cost == buttons.count * Decimal("0.40")
    assert thread.sold == 50_000 and thread.count and thread.cost == 3 * thread.count
    assert lines["label"].price is None and lines["label"].cost is None
    assert lines["interfacing"].count is None and "no pieces are drafted" in lines["interfacing"].buy


def test_garments_multiply(plan: Plan) -> None:
    """Three garments take three times the buttons and labels, and thread rounded up once."""
    one, three = by_name(plan), by_name(planned(edited(("[body]", "garments = 3\n[body]")) + PRICES))
    for name in ("buttons or snaps", "label"):
        assert three[name].count == 3 * (one[name].count or 0)
    thread = three["thread"]
    assert thread.trim and thread.count == -(-3 * thread.trim.needed // 50_000)


def test_a_zip(plan: Plan) -> None:
    """A zip says its length, and one that shops do not sell that it is made to order."""
    short = planned(edited(('closure = "buttons"', 'closure = "zip"')))
    zip_line = by_name(short)["separating zip"]
    assert zip_line.sold and zip_line.buy.startswith("1, ") and zip_line.buy.endswith(" in long")
    long = planned(edited(('closure = "buttons"', 'closure = "zip"'), ('length = "30 in"', 'length = "46 in"')))
    rows = {line.name: words for line, words in shopping_rows(long)}
    assert rows["separating zip"][1].endswith("(made to order)")
    assert "buttons or snaps" not in by_name(short)


def test_what_is_not_offered_is_named() -> None:
    """A job without rib still says that its bands need some."""
    lines = by_name(planned(MODEL[: MODEL.index("[[rib]]")]))
    assert lines["rib"].buy == "not worked out: the job offers none" and "cuff" in lines["rib"].where


def test_faces(plan: Plan) -> None:
    """Terminal, report and JSON have the same lines."""
    console = Console(width=160)
    with console.capture() as shown:
        console.print(shopping_table(plan))
    names = [line.name for line in shopping_of(plan)]
    assert all(name in shown.get() for name in names) and "no price given" in shown.get()
    tables = [part for page in plan_report(plan).pages for part in page.parts if isinstance(part, Table)]
    table, _ = (one for one in tables if one.name == "shopping")  # the other is the workbook's, without prices
    assert [row.cells[0] for row in table.rows] == names
    plain = json.loads(json.dumps(shopping_to_plain(plan), allow_nan=False))
    assert [line["name"] for line in plain["lines"]] == names and plain["trims_known"]
    places = by_name(plan)["thread"].where
    words = {line.name: words for line, words in shopping_rows(plan)}["thread"][5]
    assert len(places) > 3 and words == f"{places[0]}, {places[1]} and {len(places) - 2} more"


@pytest.mark.parametrize(("takes", "is_said"), [((), False), (("1.25 yd",), True)])
def test_what_is_on_hand_stands_in_the_list(plan: Plan, takes: tuple[str, ...], is_said: bool) -> None:
    """The list is of all that the job takes: of what is there and need not be bought, that is said."""
    there: Any = SimpleNamespace(cover=SimpleNamespace(takes=takes), fitted=None)
    assert ("What you have is in this list" in shopping_left_out(replace(plan, on_hand=(there,)))) is is_said


def test_imported_pieces_have_no_known_trims(plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is not known is said, not left out in silence."""
    unknown = replace(plan.job.model(), trims=None)
    monkeypatch.setattr(type(plan.job), "model", lambda self: unknown)
    assert trims_of(plan) is None and not shopping_to_plain(plan)["trims_known"]
    assert "not worked out" in shopping_left_out(plan)
    assert {line.kind for line in shopping_of(plan)} == {"cloth", "rib"}


@pytest.mark.parametrize(("units", "step", "price"), [("in", "1/8 yd", "2.00 / yd"), ("cm", "0.1 m", "2.00 / m")])
def test_elastic_by_the_length(units: str, step: str, price: str) -> None:
    """Elastic is bought in whole steps of its length, for all garments at once, and paid by it."""
    text = MODEL.replace('units = "in"', f'units = "{units}"')
    text = "garments = 3\n" + text.replace("[style]", '[style]\nends = "elastic"')
    plan = plan_job(parse_job(text + f'\n[[trim]]\nname = "elastic"\nprice = "{price}"\n'), Effort(0.0), rib=False)
    (line,) = (one for one in shopping_of(plan) if one.name == "elastic")
    assert line.trim is not None and line.sold is not None
    unit = {"in": 914.4, "cm": 1000.0}[units]
    whole = {"in": 914.4 / 8, "cm": 100.0}[units]
    needed = 3 * line.trim.needed
    assert needed - 1e-6 <= line.sold < needed + whole
    assert abs(line.sold / whole - round(line.sold / whole)) < 1e-6
    assert float(line.cost or 0) == pytest.approx(2 * line.sold / unit, abs=0.006)
    assert line.buy.endswith(" wide") and line.sold_by == step
