"""The command `chart`: yardage by size and width, with and without a nap."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from reports.ask.job import parse_job
from reports.ask.sizes import Size, graded_sizes
from reports.batch.series import WidthMarker, cloth_of
from reports.batch.study import study
from reports.chart.chart import Chart, chart_csv, chart_rows, chart_to_plain, plan_chart
from reports.chart.draw import chart_page
from reports.chart.words import chart_lines
from reports.draw.kit.sheet import PAGE_WIDTH
from reports.plan.effort import Effort
from tests.make.drawn import overlapping, texts
from tests.make.model import MODEL
from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.reports.conftest import Ran

INCH = 25.4
QUICK = ("--effort", "0", "--workers", "1", "--no-cache")


def made(
    text: str = MODEL,
    widths: tuple[Any, ...] = (45, 60),
    nap: Any = "both",
    sizes: list[Size] | None = None,
    spread: Any = None,
) -> Chart:
    """A chart of first layouts."""
    job = parse_job(text)
    columns = graded_sizes(job)[2:4] if sizes is None else sizes
    mm = [width * INCH for width in widths]
    chart = plan_chart(job, cloth_of(job), columns, mm, nap=nap, spread=spread, effort=Effort(0))
    chart.lay(lambda problems, effort: study(problems, effort).markers)
    return chart


@pytest.fixture(scope="module")
def model() -> Chart:
    """The model job in two sizes on two widths, open."""
    return made(spread="open")


def lengths(chart: Chart, nap: bool) -> list[Any]:
    """For each size the lengths by width, mm; None where there is none."""
    cells = [[chart.cell(column, nap, i) for i in range(len(chart.widths))] for column in chart.columns]
    return [[cell.length if isinstance(cell, WidthMarker) else None for cell in row] for row in cells]


def test_order(model: Chart) -> None:
    """Wider cloth never takes more length, and a nap never takes less."""
    without, with_nap = lengths(model, False), lengths(model, True)
    for row in (*without, *with_nap):
        laid = [length for length in row if length is not None]
        assert laid == sorted(laid, reverse=True)
    for plain, napped in zip(without, with_nap, strict=True):
        assert all(a is None or a <= b for a, b in zip(plain, napped, strict=True))
    assert all(length is not None for row in (*without, *with_nap) for length in row)


def test_rounded_up_as_charts_are(model: Chart) -> None:
    """A yardage is a whole number of eighths, no less than marker and ends, and less than an eighth more."""
    for column in model.columns:
        for i in range(len(model.widths)):
            cell = model.cell(column, True, i)
            if isinstance(cell, WidthMarker):
                eighths = cell.purchase.buy / (914.4 / 8)
                assert eighths == pytest.approx(round(eighths))
                assert 0 <= cell.purchase.buy - (cell.length + 20.0) < 914.4 / 8
    metric = made(MODEL.replace('units = "in"', 'units = "cm"'), widths=(60,), nap="without")
    cell = metric.cell(metric.columns[0], False, 0)
    assert cell.purchase.text.endswith(" m")
    assert cell.purchase.buy % 100 == pytest.approx(0)


def test_csv_and_json_agree(model: Chart) -> None:
    """The table with commas has a line for each nap and width; its figures are those of the JSON."""
    rows = list(csv.DictReader(io.StringIO(chart_csv(model))))
    assert [(row["nap"], row["width"]) for row in rows] == [
        (nap, width) for nap in ("without nap", "with nap") for width in ("45 in", "60 in")
    ]
    plain = chart_to_plain(model)
    assert len(plain["cells"]) == 2 * 2 * 2
    for cell in plain["cells"]:
        words = ("with nap" if cell["nap"] else "without nap", f"{round(cell['width_mm'] / INCH)} in")
        (row,) = [row for row in rows if (row["nap"], row["width"]) == words]
        assert row[cell["size"]] == cell.get("buy", "")
        assert cell["checked"] == ("refused" not in cell)


def test_sizes_that_do_not_fit_are_named() -> None:
    """Where a size is too wide for a cloth, a dash stands in its place and the reason below."""
    chart = made(widths=(20, 60), nap="without")
    assert "refused" in chart_to_plain(chart)["cells"][0]
    text = "\n".join(chart_lines(chart))
    assert re.search(r"^– 20 in, size 40 1/2 in, 42 in: '\w+' needs .* across", text, re.M)


def test_size_that_cannot_be_drafted() -> None:
    """A size whose measurements do not go together is left out with its reason; the others are laid."""
    job = parse_job(MODEL)
    odd = job.model_copy(update={"body": job.body | {"across_shoulder": "12 in", "neck": "25 in"}})
    chart = made(widths=(60,), nap="without", sizes=[Size("odd", odd), Size("own", job, True)])
    assert lengths(chart, False)[0] == [None]
    assert lengths(chart, False)[1][0] > 0
    assert any(line.startswith("– 60 in, size odd:") for line in chart_lines(chart))


def test_interrupted_chart_shows_what_there_is() -> None:
    """Cells that were not searched say so, and show no figure, not even that of narrower cloth, which would hold."""
    job = parse_job(MODEL)
    mm = [45 * INCH, 60 * INCH]
    chart = plan_chart(job, cloth_of(job), graded_sizes(job)[3:5], mm, nap="without", spread="open", effort=Effort(0))
    chart.lay(lambda problems, effort: study(problems[:1], effort).markers + [None] * (len(problems) - 1))
    (narrow, wide), others = lengths(chart, False)
    assert narrow > 0
    assert [wide, *others] == [None] * 3
    assert [texts for _, _, texts in chart_rows(chart)][1] == ["not searched", "not searched"]
    assert chart_csv(chart).count("not searched") == 3
    plain = [cell for cell in chart_to_plain(chart)["cells"] if not cell["checked"]]
    assert [cell["searched"] for cell in plain] == [False] * 3
    assert any(line.startswith("Cut short") for line in chart_lines(chart))


@pytest.mark.parametrize("units", ["in", "cm"])
def test_picture_is_legible(units: str) -> None:
    """No words stand on one another or leave the page; every yardage is there, and every size's name."""
    chart = made(MODEL.replace('units = "in"', f'units = "{units}"'), widths=(20, 45, 60))
    figure = chart_page(chart)
    assert overlapping(figure) == []
    assert figure.get_size_inches()[0] * 72 == pytest.approx(PAGE_WIDTH)
    written = texts(figure)
    for nap in (False, True):
        for column in chart.columns:
            cell = chart.cell(column, nap, 2)
            assert cell.purchase.text in written
    assert all(any(words.startswith(column.size.name) for words in written) for column in chart.columns)


def test_many_sizes_are_drawn() -> None:
    """Forty sizes stand side by side on one page, small but apart."""
    job = parse_job(MODEL)
    sizes = [Size(f"size {n}", job) for n in range(40)]
    assert overlapping(chart_page(made(widths=(60,), nap="without", sizes=sizes))) == []


def test_command(
    job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch
) -> None:
    """`chart` prints both tables, says how it came about, and writes its files, once."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    table = tmp_path / "sizes.csv"
    table.write_text("size,bust,hip\nS,40 in,46 in\nM,42 in,48 in\n")
    options = (job_file(MODEL), "--widths", "45 in,60 in", "--sizes", table, "--out", "c", *QUICK)
    said = run("chart", *options)
    assert said.code == 0
    assert re.search(r"^60 in +[\d /]+ yd +[\d /]+ yd", said.out, re.M)
    assert "Laid folded lengthwise; every figure is a marker laid for real" in said.out
    written = {path.name for path in (tmp_path / "c").iterdir()}
    assert written == {f"chart.{s}" for s in ("json", "csv", "txt", "svg", "png", "pdf")}
    assert run("chart", *options).code == 2
    plain = json.loads(run("chart", *options[:-7], "--nap", "with", "--json", *QUICK).out)
    assert {cell["nap"] for cell in plain["cells"]} == {True}
    assert [size["name"] for size in plain["sizes"]] == ["S", "M"]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--widths", "wide"), "--widths: "),
        (("--widths", "10 in, 12 in"), "none of the widths will do, not even the widest"),
        (("--sizes", "none.csv"), "cannot read none.csv"),
        (("--sizes", "job.toml"), "job.toml"),
        (("--sizes", os.devnull), "holds no sizes"),
    ],
)
def test_bad_input(
    job_file: Callable[[str], Path], run: Callable[..., Ran], options: tuple[str, str], said: str
) -> None:
    """A mistake is one line and exit code 2."""
    answer = run("chart", job_file(MODEL), *options, *QUICK)
    assert (answer.code, answer.out, answer.err.count("\n")) == (2, "", 1)
    assert said in answer.err


def test_ctrl_c(job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Ctrl-C to the whole group, as a terminal sends it: what is done is shown, code 130, no process is left."""
    command = [sys.executable, "-m", "reports", "chart", str(job_file(MODEL)), "--json", "--workers", "2"]
    command += ["--widths", "60 in", "--effort", "0.1"]
    cache = tmp_path / "cache"
    environment = clean_environment() | {"XDG_CACHE_HOME": str(cache)}
    with subprocess.Popen(command, stdout=-1, stderr=-1, text=True, env=environment, start_new_session=True) as process:
        end = time.monotonic() + 60
        while not any(cache.glob("ellwand/*.json")) and time.monotonic() < end and process.poll() is None:
            time.sleep(0.02)
        os.killpg(process.pid, signal.SIGINT)
        out, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (130, "ellwand: interrupted; this is the best found so far\n")
    checked = [cell["checked"] for cell in json.loads(out)["cells"]]
    assert 0 < sum(checked) < len(checked)
    end = time.monotonic() + 20
    while _of_session(process.pid) and time.monotonic() < end:
        time.sleep(0.05)
    assert _of_session(process.pid) == []


def _of_session(number: int) -> list[Any]:
    """Processes that are left of a session."""
    left = []
    for entry in Path("/proc").iterdir():
        try:
            state, _, _, session = (entry / "stat").read_text().rpartition(")")[2].split()[:4]
        except (OSError, ValueError):
            continue
        if session == str(number) and state != "Z":
            left.append(int(entry.name))
    return left
