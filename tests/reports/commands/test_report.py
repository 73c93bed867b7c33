"""The command `report`: which files it writes for a job and for an order, and what it refuses."""

from __future__ import annotations

import csv
import json
from typing import TYPE_CHECKING, Any

import openpyxl
import pytest
from pytest import MonkeyPatch

import reports.run.plan
import reports.sheets.html
from tests.make.model import MODEL
from tests.make.orders import SMALL, changed

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from reports.run.plan import RunPlan
    from tests.reports.conftest import Ran

QUICK = ("--effort", 0, "--workers", 1, "--no-cache")


@pytest.fixture
def blank(monkeypatch: MonkeyPatch) -> Iterator[None]:
    """Pictures are left blank: others test how they look."""
    monkeypatch.setattr(reports.sheets.html, "_data_uri", lambda picture: "data:,")
    reports.sheets.html._template.cache_clear()
    yield
    reports.sheets.html._template.cache_clear()


def test_job(job_file: Callable[[str], Path], run: Callable[..., Ran], blank: None, tmp_path: Path) -> None:
    """A job's report is one page beside it, unless another place is named; nothing is overwritten unasked."""
    job = job_file(MODEL)
    said = run("report", job, *QUICK)
    assert (said.code, said.err) == (0, "")
    page = tmp_path / "job-report.html"
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    before = page.stat().st_mtime_ns
    again = run("report", job, *QUICK)
    assert again.code == 2
    assert "already exists" in again.err and len(again.err.splitlines()) == 1
    assert page.stat().st_mtime_ns == before
    assert run("report", job, *QUICK, "--force").code == 0
    assert page.stat().st_mtime_ns > before


def test_job_with_chart(job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path) -> None:
    """With the chart the workbook has one sheet more, in the sizes and widths asked for; --json says it all."""
    (tmp_path / "our.csv").write_text("size,bust (in),hip (in)\nS,40,46\nM,42,48\n", encoding="utf-8")
    options = ("--widths", "45 in, 60 in", "--sizes", tmp_path / "our.csv", "--out", "job.xlsx", "--json")
    said = run("report", job_file(MODEL), *QUICK, *options)
    assert (said.code, said.err) == (0, "")
    answer = json.loads(said.out)
    assert answer["files"] == ["job.xlsx"]
    assert answer["chart"]["widths_mm"] == [45 * 25.4, 60 * 25.4]
    book = openpyxl.load_workbook(tmp_path / "job.xlsx")
    assert book.sheetnames == ["Inputs", "Buying list", "As planned", "Pieces", "Markers", "Chart"]
    heads = [[cell.value for cell in row] for row in book["Chart"] if row[0].value == "nap"]
    assert [name for name in heads[0] if name] == ["nap", "width of cloth (in)", "S (yd)", "M (yd)"]


def test_order(
    run: Callable[..., Ran], the_run: RunPlan, blank: None, tmp_path: Path, monkeypatch: MonkeyPatch
) -> None:
    """Into a folder go page, workbook and every table; those of an earlier report do not stay behind."""
    monkeypatch.setattr(
        reports.run.plan, "plan_run", lambda order, lay, seed, **kept: the_run
    )  # made once; others test how
    folder = tmp_path / "told"
    folder.mkdir()
    (folder / "report-ticket-99.csv").write_text("old\n", encoding="utf-8")
    (folder / "mine.csv").write_text("mine\n", encoding="utf-8")
    order = tmp_path / "order.toml"
    order.write_text(changed(*SMALL), encoding="utf-8")
    refused = run("report", order, *QUICK, "--out", "told")
    assert refused.code == 2 and "report-ticket-99.csv already exists" in refused.err
    said = run("report", order, *QUICK, "--out", "told", "--force", "--json")
    assert (said.code, said.err) == (0, "")
    answer = json.loads(said.out)
    assert {path.name for path in folder.iterdir()} == {path.split("/")[-1] for path in answer["files"]} | {"mine.csv"}
    with (folder / "report-garments.csv").open(newline="", encoding="utf-8") as file:
        assert list(csv.reader(file))[-1] == ["all", "4", "4", "8"]
    assert len(list(folder.glob("report-ticket-*.csv"))) == len(answer["tickets"])
    assert (folder / "mine.csv").read_text(encoding="utf-8") == "mine\n"


@pytest.mark.parametrize(
    ("text", "options", "said"),
    [
        (MODEL, ("--out", "job.pdf"), "ends in .html or .xlsx"),
        (MODEL, ("--out", "job.toml/inside.html"), "is a file, not a folder"),
        ("", (), "is empty"),
        ("garment = ", (), "not valid TOML"),
        ("\x00", (), "not valid TOML"),
        (MODEL.replace("rib-jacket", "kilt"), (), "unknown garment"),
        (MODEL.replace("[body]", "[quantity]\nrust = { M = 2 }\n[body]"), (), "unknown key 'quantity'"),
        (changed(*SMALL), ("--chart",), "job.toml is an order: a chart needs a job"),
        (changed(*SMALL, (r"^garment = .*$", 'garment = "kilt"')), (), "unknown garment"),
    ],
)
def test_refused(
    job_file: Callable[[str], Path],
    run: Callable[..., Ran],
    tmp_path: Path,
    text: str,
    options: tuple[Any, ...],
    said: str,
) -> None:
    """A mistake is one line and exit code 2, and nothing is written."""
    ended = run("report", job_file(text), *options)
    assert (ended.code, ended.out) == (2, "")
    assert said in ended.err and len(ended.err.splitlines()) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_no_file(run: Callable[..., Ran], tmp_path: Path) -> None:
    """A file that is not there, or a folder, is named in one line."""
    for path in (tmp_path / "none.toml", tmp_path):
        ended = run("report", path)
        assert ended.code == 2 and str(path) in ended.err
