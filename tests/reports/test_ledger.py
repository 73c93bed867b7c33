"""The ledger from the command line, as a person uses it; and `buy` and `run`, that look in it."""

from __future__ import annotations

import csv
import json
from typing import TYPE_CHECKING, Any

import pytest
from openpyxl import load_workbook

from pieces.units import Units
from reports.folder import own_folder
from reports.ledger.asked import folder_asked, journal_in
from reports.ledger.entry import KINDS
from reports.ledger.journal import Journal
from reports.ledger.record import record
from reports.ledger.sheets.files import ledger_files, write_ledger
from reports.ledger.sheets.report import ledger_report
from reports.ledger.standing import standing_of
from reports.run.ledger_order import order_told
from reports.run.on_hand import run_on_hand
from reports.run.plain import run_to_plain
from reports.stock.on_hand import on_hand_lines
from tests.make.ledger import shelf
from tests.make.model import MODEL
from tests.make.orders import SMALL, changed

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.run.plan import RunPlan
    from tests.reports.conftest import Ran


@pytest.fixture
def ledger(run: Callable[..., Ran], tmp_path: Path) -> Callable[..., Ran]:
    """The command, on a ledger of its own."""
    return lambda action, *arguments: run("ledger", action, *arguments, "--folder", tmp_path / "kept")


def test_where_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is where the page keeps its work, unless a folder is named; it is asked only if that is wanted."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert own_folder() == tmp_path / "ellwand" == journal_in(None).folder == folder_asked(True, None)
    assert folder_asked(False, None) is None and folder_asked(False, tmp_path) == tmp_path


def test_a_roll_through_the_workroom(ledger: Callable[..., Ran], tmp_path: Path) -> None:
    """A roll comes in, some is used, a mistake is corrected: what is left is said, and everything is in the history."""
    assert "empty" in ledger("show").out and not (tmp_path / "kept").exists()
    said = ledger("bought", "cloth", "Grüner Köper, schwer", "25 yd", "--width", "60 in", "--lot", "A12")
    assert (said.code, said.err) == (0, "") and "roll 1: 25.00 yd left." in said.out
    ledger("used", "roll 1", "2 1/2 yd", "--note", "a sample, red")
    assert "roll 1: 23.00 yd left" in ledger("used", "1", "2 yd", "--corrects", 2).out
    assert "roll 1: 25.00 yd left" in ledger("strike", 3).out
    lines = ledger("history", "--item", "roll 1").out.splitlines()
    assert [line.split()[0] for line in lines if line.strip()[:1].isdigit()] == ["1", "2", "3", "4"]
    assert any("used 2 1/2 yd of roll 1 (struck by entry 4)" in line and "a sample, red" in line for line in lines)
    assert "Grüner Köper, schwer" in ledger("show").out


WRONG: dict[str, tuple[tuple[Any, ...], str]] = {
    "no such day": (("used", "1", "1 m", "--date", "30.2.2026"), "--date: write a day as year, month, day"),
    "tomorrow": (("used", "1", "1 m", "--date", "2999-01-01"), "in the future"),
    "negative": (("used", "1", "-1 m"), "begins with a minus"),
    "unknown unit": (("used", "1", "1 cubit"), "unknown unit 'cubit'"),
    "too much": (("used", "1", "11 m"), "roll 1 has 8.80 m left"),
    "no size": (("cut", "forty", "rust", "4"), "such as M=8 L=6"),
    "twice": (("cut", "forty", "rust", "M=1", "M=2"), "size M stands twice"),
    "no order": (("order", "none.toml"), "cannot read none.toml"),
    "strike what": (("strike", 77), "there is no entry 77: there are 4"),
    "no minutes": (("minutes", "forty", "sewing", "soon", "--garments", 1), "MINUTES"),
}


@pytest.mark.parametrize("how", WRONG)
def test_mistakes(how: str, ledger: Callable[..., Ran], tmp_path: Path) -> None:
    """A mistake is one line and exit code 2, and nothing is entered."""
    journal = shelf(tmp_path / "kept")
    arguments, words = WRONG[how]
    said = ledger(*arguments)
    assert (said.code, said.out, said.err.count("\n")) == (2, "", 1)
    assert words in said.err
    assert len(journal.entries()) == 4


def test_every_kind_can_be_entered(ledger: Callable[..., Ran], tmp_path: Path) -> None:
    """Each kind of entry has an action, and answers with what it entered."""
    (tmp_path / "small.toml").write_text(changed(*SMALL), encoding="utf-8")
    for arguments in (
        ("bought", "trim", "zip", "40"),
        ("bought", "cloth", "canvas", "10 m", "--width", "150 cm"),
        ("remnant", "", "1 m", "--from", "roll 2"),
        ("order", "small.toml"),
        ("used", "trim 1", "all", "--for", "small"),
        ("cut", "small", "rust", "S=2", "L=1"),
        ("sewn", "small", "rust", "S=1"),
        ("delivered", "small", "rust", "S=1"),
        ("minutes", "small", "sewing", 55, "--garments", 2),
        ("strike", 1 + 4),
    ):
        said = ledger(*arguments, "--json")
        assert (said.code, said.err) == (0, ""), said.err
        (entry,) = json.loads(said.out)["entries"]
        assert entry["kind"] == {"strike": "struck"}.get(str(arguments[0]), arguments[0])
    kept = json.loads(ledger("history", "--json").out)
    assert {entry["kind"] for entry in kept["entries"]} == set(KINDS)
    assert kept["orders"][0]["total"] == {"ordered": 8, "cut": 3, "sewn": 1, "delivered": 1}
    assert kept["minute_rates"][0]["minutes"] == 27.5 and kept["minute_rates"][0]["runs"] == 1


def test_exported(tmp_path: Path) -> None:
    """Workbook and tables, read by other libraries (openpyxl, csv), have what the ledger has; no cell is a formula."""
    journal = shelf(tmp_path / "kept")
    written = write_ledger(ledger_report(standing_of(journal.entries()), Units.METRIC), tmp_path / "out")
    assert [path.name for path in written] == ledger_files()
    book = load_workbook(tmp_path / "out" / "ledger.xlsx")
    assert book.sheetnames == ["On hand", "Orders", "Rates", "History"]
    with (tmp_path / "out" / "ledger-on-hand.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["item"], row["left"], row["in"]) for row in rows] == [
        ("roll 1", "8.8", "m"),
        ("remnant 2", "1.2", "m"),
        ("trim 4", "30.0", "pieces"),
    ]


def test_buy_looks_in_the_ledger(run: Callable[..., Ran], ledger: Callable[..., Ran], tmp_path: Path) -> None:
    """A roll that holds the marker is named with what it takes; then one too short, and one too narrow for a piece."""
    (tmp_path / "job.toml").write_text(MODEL, encoding="utf-8")
    kept = ("--effort", 0, "--json", "--folder", tmp_path / "kept")
    assert "on_hand" not in json.loads(run("buy", "job.toml", "--effort", 0, "--json").out)
    ledger("bought", "cloth", "navy twill", "4 m", "--width", "60 in")
    answer = json.loads(run("buy", "job.toml", *kept).out)
    cloth, rib = answer["on_hand"]
    needed = answer["fabrics"][0]["buy_mm"] - answer["fabrics"][0]["additions"][-1]["mm"]
    (take,) = cloth["takes"]
    assert (cloth["whole"], take["item"], take["amounts"]) == (True, "roll 1", [pytest.approx(needed)])
    assert (rib["whole"], rib["takes"], rib["to_buy"]) == (False, [], answer["ribs"][0]["buy"])
    ledger("used", 1, "3.5 m")
    ledger("remnant", "navy twill", "40 m", "--width", "10 in")
    cloth, _ = json.loads(run("buy", "job.toml", *kept).out)["on_hand"]
    assert (cloth["whole"], cloth["takes"], cloth["fitted"], cloth["tried"]) == (False, [], None, ["remnant 3"])
    assert cloth["to_buy"] == answer["fabrics"][0]["buy"]


def test_a_narrower_remnant_is_laid(run: Callable[..., Ran], ledger: Callable[..., Ran], tmp_path: Path) -> None:
    """A remnant an inch narrower is offered, as all pieces were laid on it; the command named finds that layout."""
    import shlex

    (tmp_path / "job.toml").write_text(MODEL, encoding="utf-8")
    ledger("remnant", "navy twill", "3 yd", "--width", "59 in")
    said = run("buy", "job.toml", "--effort", 0, "--on-hand", "--folder", tmp_path / "kept").out
    (line,) = [line for line in said.splitlines() if line.startswith("You have navy twill, wide: remnant 1")]
    assert "by a layout for its width, 59 in, laid and checked" in line
    command = shlex.split(line.partition("To draw it:")[2])
    again = run(*command[1 : command.index("--out")], "--effort", 0, "--json")
    assert (again.code, json.loads(again.out)["answer"]) == (0, "yes")


def test_run_looks_in_the_ledger(the_run: RunPlan, tmp_path: Path) -> None:
    """Lays are covered whole or not at all, and of the rest less is to be bought; trims count piece by piece."""
    journal, plan = Journal(tmp_path), the_run.lots[0]
    key, cloth = next(iter(plan.lot.cloths.items()))
    bought = {one.what: one for one in the_run.bought}
    need = bought[cloth.name].purchase
    assert need is not None
    lays = [lay.plies[key] * (lay.length + 2 * cloth.end_allowance) for lay in plan.plan.lays if lay.plies.get(key)]
    scale = need.needed / sum(lays)
    largest = max(lays) * scale
    roll = {"what": "cloth", "name": cloth.name, "amount": f"{largest + 1:.1f} mm", "width": f"{cloth.width} mm"}
    record(journal, "bought", roll)
    trim = next(one for one in the_run.order.trim if not one.amount.by_length)
    record(journal, "bought", {"what": "trim", "name": trim.name, "amount": 3})
    asked = run_on_hand(the_run, journal)
    assert asked.on_hand is not None
    found = {one.name: one for one in asked.on_hand}
    assert list(found) == [one.what for one in the_run.bought]
    part = found[cloth.name]
    (take,) = part.cover.takes
    assert take.amount == pytest.approx(largest) and len(take.groups) == 1
    assert len(part.cover.missing) == len(lays) - 1
    assert (part.buy_mm or 0) < need.buy - largest + cloth.sold_by.mm + 1
    assert found[trim.name].cover.takes[0].amount == 3
    assert f"{bought[trim.name].number - 3:g}" in found[trim.name].to_buy
    (rest,) = (one for one in run_to_plain(asked)["buy"] if one["what"] == trim.name)
    assert rest["number"] == bought[trim.name].number - 3  # the buying list is what is still to buy
    assert "on_hand" in run_to_plain(asked) and "on_hand" not in run_to_plain(the_run)
    assert any(line.startswith(("You have", "You have part of")) for line in on_hand_lines(asked.on_hand, Units.INCHES))
    told = order_told(the_run.order, "small", run_to_plain(the_run))
    assert told["planned"]["cloth"][" ".join(cloth.name.split())] == pytest.approx(sum(lays))
