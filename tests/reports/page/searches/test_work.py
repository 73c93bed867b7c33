"""The searches behind the page: the command's answer for the same job, shown as it gets better, stopped any time."""

from __future__ import annotations

import json
import time
import tomllib
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from nesting.errors import PieceTooWideError
from pieces.exchange.own.plain import to_plain
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.order.order import parse_order
from reports.errors import StateError
from reports.ledger.journal import Journal
from reports.ledger.record import record
from reports.page.answers.kept import kept_of_payload
from reports.page.errors import FieldsError
from reports.page.searches import laying, work
from reports.page.searches.files import Answered, download, laid_again
from reports.page.searches.pace import Pace
from reports.page.work_folder import markers_of
from reports.plan.effort import Effort
from reports.run import plan
from reports.run.plain import run_to_plain
from tests.make.model import HEAD, MODEL, edited
from tests.make.orders import SMALL, changed, lay
from tests.make.recheck import recheck

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nesting.marker.marker import Marker
    from tests.reports.conftest import Ran

JOB = tomllib.loads(MODEL)
MANY: dict[str, tuple[dict[str, Any], list[Any]]] = {
    "widths": (
        {"from": "54 in", "to": "60 in", "step": "6 in"},
        ["--from", "54 in", "--to", "60 in", "--step", "6 in"],
    ),
    "chart": ({"widths": "60 in", "nap": "with"}, ["--widths", "60 in", "--nap", "with"]),
    "saves": ({"fabric": 1}, ["--fabric", 1]),
}


def never() -> bool:
    """Nobody says stop."""
    return False


@pytest.fixture(autouse=True)
def alone(monkeypatch: MonkeyPatch, tmp_path: Path) -> None:
    """One process, first layouts only where many markers are laid, and a cache of the test's own."""
    monkeypatch.setattr(laying, "cores", lambda: 1)
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def test_buy_equals_the_command(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """A search is what `ellwand buy` answers, to the last digit; its markers pass a check of their own."""
    assert work.EFFORTS["good"] == Effort()  # what every command does by default
    told: list[dict[str, Any]] = []
    found = work.run_task("buy", {"job": JOB, "effort": "quick"}, told.append, never)
    asked = json.loads(run("buy", job_file(MODEL), "--effort", work.EFFORTS["quick"].amount, "--json").out)
    for answer in (asked, found["plan"]):
        del answer["job"]
        for fabric in answer["fabrics"]:
            del fabric["seconds"]
    assert found["plan"] == asked
    assert found["words"][0].startswith(f"Buy {asked['fabrics'][0]['buy']}")
    drafted = to_plain(draft_job(parse_job(MODEL)))
    for layout in [*found["markers"], *(each["layout"] for each in told)]:
        recheck(layout, drafted)
    lengths = [each["length_mm"] for each in told]
    assert lengths == sorted(set(lengths), reverse=True)
    assert lengths[-1] >= asked["fabrics"][0]["marker_mm"]
    json.dumps([found, told], allow_nan=False)


@pytest.mark.parametrize("kind", MANY)
def test_many_equal_the_command(run: Callable[..., Ran], job_file: Callable[[str], Path], kind: str) -> None:
    """Curve, chart and savings are what their commands answer."""
    options, arguments = MANY[kind]
    told: list[dict[str, Any]] = []
    found = work.run_task(kind, {"job": JOB, "effort": "quick", "options": options}, told.append, never)
    asked = json.loads(run(kind, job_file(MODEL), *arguments, "--effort", 0, "--workers", 1, "--json").out)
    words = found.pop("words")
    assert words
    assert set(found.pop("said", words)) <= set(words)
    assert found.pop("markers")
    assert found | {"job": ""} == asked | {"job": ""}
    assert told[-1]["done"] == told[-1]["total"]


def test_run_equals_the_command(monkeypatch: MonkeyPatch) -> None:
    """A run by first layouts is planned as its command plans it; the tables it prints stand in the answer as well."""
    order = changed(*SMALL)
    found = work.run_task("run", {"order": order, "effort": "quick"}, lambda told: None, never)
    planned_so = run_to_plain(plan.plan_run(parse_order(order), lay))
    words, text, markers, said = (found.pop(key) for key in ("words", "text", "markers", "said"))
    assert said == []  # no rolls, and the ledger was not asked
    assert len(markers) >= len({ticket["marker_mm"] for ticket in found["tickets"]})
    assert json.loads(json.dumps(found)) == json.loads(json.dumps(planned_so))
    assert all(" ".join(line.split()) in " ".join(text.split()) for line in words)


@pytest.fixture
def without_pictures(monkeypatch: MonkeyPatch) -> None:
    """The files of a run are written, but for its pictures."""
    monkeypatch.setattr("reports.run.files.PICTURES", ())


@pytest.mark.usefixtures("without_pictures")
def test_a_run_looks_in_the_ledger_of_its_folder(tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """With "on-hand" the buying list leaves out what the page's own ledger has; its files say the same."""
    monkeypatch.setattr("reports.run.files.write_packet", lambda run, path: path.touch())
    journal = Journal(tmp_path)
    record(journal, "bought", {"what": "trim", "name": "zip", "amount": "500"})
    asked = {"order": changed(*SMALL), "effort": "quick", "folder": str(tmp_path), "options": {"on-hand": True}}
    found = work.run_task("run", asked, lambda told: None, never)
    assert any(line.startswith("You have zip: 8 of trim 1. Nothing to buy") for line in found["said"])
    assert "zip" not in [one["what"] for one in found["buy"]]
    text, _ = download(Answered.of("run", asked, found), "report.html")
    assert b"You have zip: 8 of trim 1" in text
    record(journal, "used", {"item": "trim 1", "amount": "499"})
    with pytest.raises(StateError, match="what is on hand has changed since this answer"):
        laid_again(work.task_of("run", asked), found, markers_of(asked))


@pytest.mark.usefixtures("without_pictures")
def test_a_run_that_is_stopped_shows_its_first_plan(tmp_path: Path) -> None:
    """Stopped once each size has a marker, a run is planned of those; its files are made of the same plan again."""
    told: list[dict[str, Any]] = []

    def hear(what: dict[str, Any]) -> None:
        told.append(what)
        if what["done"] == what["total"]:
            time.sleep(4 * work.LOOK_EVERY)  # until it is told to stop

    asked = {"order": changed(*SMALL), "effort": "quick", "folder": str(tmp_path)}
    found = work.run_task("run", asked, hear, lambda: bool(told) and told[-1]["done"] == told[-1]["total"])
    assert found["cut_short"] and all(len(ticket["garments"]) == 1 for ticket in found["tickets"])
    data, _ = download(Answered.of("run", asked, found), "packet.pdf")
    assert data.startswith(b"%PDF")


def test_stopped_at_once() -> None:
    """Told to stop before it began, a search for what to buy still has a layout; one of many markers has nothing."""
    found = work.run_task("buy", {"job": JOB, "effort": "long"}, lambda told: None, lambda: True)
    assert found["plan"]["fabrics"][0]["stopped_by"] == "interrupt"
    assert found["plan"]["fabrics"][0]["checked"]
    with pytest.raises(StateError, match="before there was anything to show: start it again and let it run"):
        work.run_task("widths", {"job": JOB, "effort": "long", "options": {}}, lambda told: None, lambda: True)


def test_at_most_five_layouts_a_second(monkeypatch: pytest.MonkeyPatch) -> None:
    """Layouts found within a fifth of a second wait; the last of them is shown as soon as the time has come."""
    clock = [100.0]
    told: list[dict[str, Any]] = []
    monkeypatch.setattr(time, "monotonic", lambda: clock[0])
    job = parse_job(MODEL)
    found = work.run_task("buy", {"job": JOB, "effort": "quick", "options": {}}, lambda each: None, lambda: True)
    marker = work_marker(found)
    shows = laying._Shows(job, lambda: draft_job(job), ("navy twill, wide", "folded"), told.append, set(), Pace(1, 1.0))
    for length in (5000, 4000, 3000):
        shows.on_best(marker(length))
    assert [each["length_mm"] for each in told] == [5000]
    clock[0] += 0.21
    shows.on_step(1, 0.21)
    shows.on_step(2, 0.42)
    assert [(each["length_mm"], each["fabric"], each["spread"]) for each in told[1:]] == [(3000, 0, "folded")]


def test_what_matching_takes_is_not_shown(monkeypatch: MonkeyPatch) -> None:
    """On checked cloth only layouts on its lines are shown, though it is laid without them as well."""
    monkeypatch.setattr("reports.plan.one_cloth.carry", lambda marker, problem: None)
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    monkeypatch.setattr(laying, "SHOW_EVERY", -1)
    job = tomllib.loads(edited(("nap = false", 'nap = false\nrepeat_along = "9 in"')))
    told: list[dict[str, Any]] = []
    found = work.run_task("buy", {"job": job, "effort": "quick"}, told.append, never)
    (fabric,) = found["plan"]["fabrics"]
    lengths = [each["length_mm"] for each in told if "length_mm" in each]  # on a slow machine its pace is told too
    assert fabric["plain_mm"] not in lengths
    assert lengths[-1] == fabric["marker_mm"]


def work_marker(
    found: dict[str, dict[str, int | list[Any] | list[str] | str] | list[Any] | list[dict[str, Any]] | list[str]],
) -> Callable[..., Any]:
    """A marker of the model job, its last outline moved so that it is of any length."""
    marker = kept_of_payload({"job": JOB}).marker(found, 0)
    outlines = [outline for _, _, _, outline in marker.outlines()]
    last = max(range(len(outlines)), key=lambda k: outlines[k][:, 0].max())

    def moved(length: int) -> Marker:
        places = list(marker.placements)
        places[last] = replace(places[last], x=places[last].x + length - marker.length)
        return replace(marker, placements=tuple(places), length=length)

    return moved


def test_no_cloth() -> None:
    """Without a cloth there is nothing to lay: said at the field."""
    with pytest.raises(FieldsError) as refused:
        work.task_of("buy", {"job": tomllib.loads(HEAD)})
    assert [fault.field for fault in refused.value.faults] == ["fabric"]


@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("buy", {"spread": "open"}),
        ("widths", {"from": 3}),
        ("widths", {"spread": "twisted"}),
        ("chart", {"sizes": "/etc/passwd"}),
        ("chart", {"nap": "maybe"}),
        ("saves", {"fabric": True}),
        ("saves", {"fabric": -1}),
        ("buy", {"seed": 2**40}),
        ("buy", {"on-hand": True}),
        ("buy", {"folder": "/etc"}),
    ],
)
def test_options_that_make_no_sense(kind: str, options: dict[str, Any]) -> None:
    """An option that is not known, or holds what it cannot, is refused at its field, before any search."""
    with pytest.raises(FieldsError) as refused:
        work.task_of(kind, {"job": JOB, "options": options})
    assert [fault.field for fault in refused.value.faults] == [f"options.{next(iter(options))}"]


def test_too_narrow() -> None:
    """A cloth on which nothing fits is refused as the command refuses it."""
    job = tomllib.loads(edited(('width = "60 in"', 'width = "20 in"')))
    with pytest.raises(PieceTooWideError, match=r"needs .* across"):
        work.run_task("buy", {"job": job, "effort": "quick"}, lambda told: None, never)
