"""Which of the cloths on hand will do: yes with a layout, no with a proof, or not found; the smallest first."""

from __future__ import annotations

import json
import time
from typing import TYPE_CHECKING, Any

import jsonschema_rs
import pytest

from nesting.search.stop import Interrupted
from reports.ask.written import loads
from reports.ledger.journal import Journal
from reports.ledger.record import record
from reports.ledger.standing import stock_in
from reports.page.answers.fields import job_of
from reports.plan.effort import Effort
from reports.questions import page_questions
from reports.which.plain import which_to_plain
from reports.which.which import which_will_do
from reports.which.words import which_lines
from tests.make.model import with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.ask.job import Job
    from tests.reports.conftest import Ran

JOB = """
garment = "tote"
[[fabric]]
name = "canvas"
width = "60 in"
selvedge = "1/2 in"
"""

SHELF = (
    ("canvas", "60 in", "2 yd"),  # 1: holds the bag, with much left
    ("twill", "30 in", "20 in"),  # 2: shorter than the bag
    ("Canvas", "59 in", "50 in"),  # 3: holds it with less
    ("twill", "12 in", "3 yd"),  # 4: narrower than the bag
)


def shelf(folder: Path, cloths: tuple[tuple[str, str, str], ...] = SHELF) -> Journal:
    """A ledger with remnants; and a zip, which is no cloth."""
    journal = Journal(folder)
    for name, width, length in cloths:
        record(journal, "remnant", {"name": name, "width": width, "length": length})
    record(journal, "bought", {"what": "trim", "name": "zip", "amount": 1})
    return journal


def job() -> Job:
    """A bag of canvas."""
    return job_of(loads(JOB, "job"))


def answers(found: Any) -> list[tuple[int, str]]:
    """The number of each cloth with its answer, in the order told."""
    return [(one["number"], one["answer"]) for one in which_to_plain(found)["cloths"]]


def test_the_smallest_that_will_do_first(tmp_path: Path) -> None:
    """What holds the bag comes first, the smaller one before the larger; the others are proved not to, with why.

    The bag is cut as one piece 37 3/4 in long and 19 in wide, straps apart (its draft says so below).
    """
    asked, told = job(), []
    found = which_will_do(asked, asked.fabric[0], stock_in(shelf(tmp_path)), Effort(0), lambda *done: told.append(done))
    assert answers(found) == [(3, "yes"), (1, "yes"), (2, "no"), (4, "no")]
    assert told == [(0, 4), (1, 4), (2, 4), (3, 4), (4, 4)]
    assert found.best and found.best.marker and found.best.like is asked.fabric[0]
    plain = {one["number"]: one for one in which_to_plain(found)["cloths"]}
    assert (plain[2]["proof"], plain[4]["proof"]) == ("piece", "width")
    assert plain[3]["needed_mm"] <= 50 * 25.4 and plain[3]["needed_mm"] + plain[3]["left_over_mm"] == pytest.approx(
        1270
    )
    lines = list(which_lines(found))
    assert lines[0].startswith("Yes: remnant 3 will do, 'Canvas', 59 in wide")
    assert any("no, proved: 'bag' alone is at least 37 3/4 in long; there are 20 in" in line for line in lines)
    assert any("ellwand fits job --remnant" in line for line in lines) and "measure it" in lines[-1]


def test_a_layout_goes_on_larger_cloth(tmp_path: Path) -> None:
    """What fits on a cloth fits on any that is as wide and as long, though nothing is searched there any more."""
    asked = job()
    found = which_will_do(asked, asked.fabric[0], stock_in(shelf(tmp_path)), Effort(0), lambda *_: None)
    small, large = found.tried[:2]
    assert large.fitting and large.fitting.tried[0].known
    assert small.marker and large.marker and large.marker.length <= small.marker.length + 0.01


def test_not_found_is_not_no(tmp_path: Path) -> None:
    """Where first layouts do not fit and nothing proves that none does, it is said so; never that they do not fit."""
    asked = job_of(loads(with_fabrics('name = "canvas"\nwidth = "60 in"'), "job"))
    stock = stock_in(shelf(tmp_path, (("canvas", "60 in", "44 in"),)))
    found = which_will_do(asked, asked.fabric[0], stock, Effort(0), lambda *_: None)
    (only,) = found.tried
    assert only.answer == "not found" and only.fitting and only.fitting.answer == "not found"
    assert next(which_lines(found)).startswith("Not found: ") and "Not found is not no" in "".join(which_lines(found))


def test_stopped(tmp_path: Path) -> None:
    """A stop ends it: what was not looked at is named so, and proofs that take no time still stand."""
    asked = job_of(loads(with_fabrics('name = "canvas"\nwidth = "60 in"'), "job"))
    cloths = (("canvas", "60 in", "44 in"), ("canvas", "60 in", "45 in"), ("canvas", "30 in", "12 in"))
    asked_to_stop = Interrupted()
    asked_to_stop.set()
    effort = Effort(interrupt=asked_to_stop)
    found = which_will_do(asked, asked.fabric[0], stock_in(shelf(tmp_path, cloths)), effort, lambda *_: None)
    assert {answer for _, answer in answers(found)} == {"not looked at", "no"} and found.was_stopped
    assert "stopped" in "".join(which_lines(found))


def test_the_command(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """It answers in words and as its schema says; without any cloth on hand it says what to do."""
    path = job_file(JOB)
    shelf(path.parent / "shelf")
    said = run("which", path, "--folder", path.parent / "shelf", "--effort", 0)
    assert (said.code, said.out.splitlines()[0][:22]) == (0, "Yes: remnant 3 will do")
    plain = json.loads(run("which", path, "--folder", path.parent / "shelf", "--effort", 0, "--json").out)
    schema = json.loads(run("schema", "which").out)
    assert jsonschema_rs.Draft202012Validator(schema).is_valid(plain) and plain["best"] == "remnant 3"
    none = run("which", path, "--folder", path.parent / "none")
    assert none.code == 2 and "no cloth is on hand" in none.err


def test_on_the_page(tmp_path: Path) -> None:
    """The page asks it of the ledger beside its saved work, hears how many are done, and gets the same answer."""
    from reports.page.searches.work import run_task

    shelf(tmp_path)
    told: list[dict[str, Any]] = []
    payload = {"job": loads(JOB, "job"), "effort": "first", "folder": str(tmp_path)}
    begun = time.monotonic()
    shown = run_task("which", payload, told.append, lambda: False)
    assert time.monotonic() - begun < 20
    assert shown["best"] == "remnant 3" and {"done": 4, "total": 4} in told
    assert "which" in page_questions()
