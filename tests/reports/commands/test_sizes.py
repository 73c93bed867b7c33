"""The command `sizes`: tables with their sources, one of them, and a garment in all its sizes."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch
from shapely import Polygon

from pieces import Units
from pieces.body.sizes import TABLES, find_table, read_table
from reports.ask.job import parse_job
from reports.sizes.sizes import draft_sizes, graded_to_plain, table_csv
from reports.sizes.words import drafted_lines
from tests.make.model import MODEL, edited

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran


def test_list(run: Callable[..., Ran]) -> None:
    """Without a table, all are listed with their sources, for people and for machines."""
    said = run("sizes")
    assert said.code == 0
    for name in TABLES:
        assert f"\n{name}: {find_table(name).source}\n" in said.out
    tables = json.loads(run("sizes", "--json").out)["tables"]
    assert [table["name"] for table in tables] == list(TABLES)
    assert all(table["source"] and table["sizes"] for table in tables)


def test_one(run: Callable[..., Ran], tmp_path: Path) -> None:
    """One table is shown with what each size measures, and where that comes from; a person's own just so."""
    said = run("sizes", "children", "--units", "in")
    assert said.code == 0
    assert "UM-HSRI-77-17" in said.out
    assert "23 7/8 in" in said.out  # bust of size 122: 605 mm
    (tmp_path / "own.csv").write_text("size;bust (cm)\nS;86,5\n")
    own = json.loads(run("sizes", "own.csv", "--json").out)
    assert [size["measures_mm"]["bust"] for size in own["sizes"]] == pytest.approx([865])
    assert own["source"] == "own table, own.csv"


def test_garment_in_all_sizes(
    run: Callable[..., Ran], job_file: Callable[[str], Path], monkeypatch: MonkeyPatch, tmp_path: Path
) -> None:
    """With a job, every size is drafted and the files are written, once; the table is read back as it was."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    command = ("sizes", "women-letters", "--job", job_file(MODEL), "--out", "out")
    said = run(*command)
    assert said.code == 0
    assert {path.name for path in (tmp_path / "out").iterdir()} == {
        *("sizes.json", "sizes.csv", "nest.svg", "nest.png", "nest.pdf")
    }
    assert run(*command).code == 2
    assert "The same as in the job in every size: length, sleeve, ease" in said.out
    plain = json.loads((tmp_path / "out" / "sizes.json").read_text())
    assert plain == json.loads(run(*command[:4], "--json").out)
    backs = [
        Polygon(piece["cut_line"]).area
        for size in plain["sizes"]
        for piece in size["garment"]["pieces"]
        if piece["name"] == "back"
    ]
    assert len(backs) == 6
    assert backs == sorted(backs)
    again, table = read_table(tmp_path / "out" / "sizes.csv"), find_table("women-letters")
    for size in table.sizes:
        assert again.measures(size) == pytest.approx(table.measures(size), abs=0.02)


@pytest.mark.parametrize("units", list(Units))
def test_table_with_commas(units: Units, tmp_path: Path) -> None:
    """A table written with commas, in inches or centimetres, is read again to 0.02 mm."""
    path = tmp_path / "men.csv"
    path.write_text(table_csv(find_table("men"), units))
    for size, row in read_table(path).rows.items():
        assert row == pytest.approx(find_table("men").measures(size), abs=0.02)


def test_size_that_cannot_be_drafted(tmp_path: Path) -> None:
    """A size whose measurements do not go together is named with its reason; the others are drafted."""
    path = tmp_path / "own.csv"
    path.write_text("size,across_shoulder,neck\nS,16 in,14 in\nodd,12 in,25 in\n")
    graded = draft_sizes(parse_job(MODEL), read_table(path))
    assert list(graded.drafted) == ["S"]
    assert "neck is wider than the shoulder" in graded.refused["odd"]
    assert any(line.startswith("– size odd: the neck") for line in drafted_lines(graded))
    assert "refused" in graded_to_plain(graded)["sizes"][1]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("mens",), "no such file or built-in table; the built-in tables are women"),
        ((os.devnull,), "holds no sizes"),
        (("women", "--job", "none.toml"), "cannot read none.toml"),
        (("women", "--job", "job.toml", "--align", "knee", "--out", "out"), "no piece has a notch 'knee'"),
        (("--out", "out"), "choose the sizes"),
    ],
)
def test_bad_input(
    job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path, options: tuple[Any, ...], said: str
) -> None:
    """A mistake is one line and exit code 2, and leaves no files."""
    job_file(edited(('closure = "buttons"', 'closure = "zip"')))
    answer = run("sizes", *options)
    assert (answer.code, answer.out, answer.err.count("\n")) == (2, "", 1)
    assert said in answer.err
    assert not (tmp_path / "out").exists()
