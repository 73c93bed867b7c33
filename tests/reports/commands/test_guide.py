"""The command `guide`: files, JSON, one cloth of several, and mistakes."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from tests.make.model import MODEL, edited, with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran


@pytest.fixture
def quick_save(monkeypatch: MonkeyPatch) -> None:
    """Drawings come out empty: what is drawn is checked in test_guide, and how files are written in test_draw_files."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())


@pytest.mark.usefixtures("quick_save")
def test_command_writes_text_and_drawings(
    run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path
) -> None:
    """By default all goes to JOB-guide: a text that is also printed, and for each stage a PDF and a PNG."""
    job = job_file(with_fabrics('name = "twill"\nwidth = "45 in"\nspread = "open"', 'width = "60 in"'))
    ran = run("guide", job, "--effort", 0)
    assert (ran.code, ran.err) == (0, "")
    folder = tmp_path / "job-guide"
    kinds = ("pdf", "png")
    drawings = {f"guide-{n}-stage-1.{kind}" for n in (1, 2) for kind in kinds}
    assert {path.name for path in folder.iterdir()} == {"guide-1.txt", "guide-2.txt", *drawings}
    text = (folder / "guide-1.txt").read_text(encoding="utf-8")
    assert text.strip() in ran.out and "on twill" in text
    again = run("guide", job, "--effort", 0)
    assert again.code == 2 and "already exists" in again.err and "--force" in again.err


def test_json_alone(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """`--json` prints one object and writes nothing, the same each time; in cm all places are multiples of 5 mm."""
    job = job_file(edited(('units = "in"', 'units = "cm"')))
    ran = run("guide", job, "--json", "--effort", 0)
    assert (ran.code, ran.err) == (0, "") and ran.out.count("\n") == 1
    told = json.loads(ran.out)
    (one,) = told["guides"]
    assert (told["units"], one["number"], one["tape_step_mm"], one["checked"]) == ("cm", 1, 5.0, True)
    pieces = [piece for stage in one["stages"] for piece in stage["pieces"]]
    assert [p["piece"] for p in pieces] == ["back", *[p["piece"] for p in pieces[1:]]] and pieces[0]["on_fold"]
    for piece in pieces:
        for mm in (piece["from_start_mm"][0], piece["from_edge_mm"][0]):
            assert abs(mm / 5 - round(mm / 5)) < 1e-4 or one["tolerance_mm"] == 2.5
        assert "cm" in piece["text"][2] and " in," not in piece["text"][2]
    assert {path.name for path in tmp_path.iterdir()} == {"job.toml"}
    assert run("guide", job, "--json", "--effort", 0).out == ran.out


@pytest.mark.usefixtures("quick_save")
def test_one_cloth_only(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """`--fabric 2` lays the second cloth alone, and keeps its number."""
    job = job_file(with_fabrics('name = "twill"\nwidth = "45 in"', 'name = "linen"\nwidth = "60 in"'))
    ran = run("guide", job, "--fabric", 2, "--json", "--out", "there", "--effort", 0)
    assert ran.code == 0
    assert [(g["number"], g["fabric"]) for g in json.loads(ran.out)["guides"]] == [(2, "linen")]
    assert {path.name for path in (tmp_path / "there").iterdir()} == {
        "guide-2.txt", "guide-2-stage-1.pdf", "guide-2-stage-1.png",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "arguments", "words"),
    [
        (MODEL, ["--fabric", "0"], ["--fabric 0", "offers 1 cloth", "choose a number from 1 to 1"]),
        (MODEL, ["--fabric", "-1"], ["--fabric -1", "choose a number from 1 to 1"]),
        (with_fabrics('width = "60 in"', 'width = "45 in"'), ["--fabric", "3"], ["--fabric 3", "2 cloths", "1 to 2"]),
        (with_fabrics(), ["--fabric", "1"], ["offers no cloth", "[[fabric]]"]),
        (with_fabrics(), [], ["offers no cloth", "[[fabric]]"]),
        (edited(('width = "60 in"', 'width = "20 in"')), [], ["'back' needs", "choose a wider fabric"]),
        ("garment = 1", [], ["garment", "quotes"]),
        ("", [], ["is empty"]),
    ],
)
def test_mistakes(
    run: Callable[..., Ran],
    job_file: Callable[[str], Path],
    tmp_path: Path,
    text: str,
    arguments: list[Any],
    words: list[str],
) -> None:
    """A mistake is one line that says what to do, exit code 2, and leaves nothing behind."""
    ran = run("guide", job_file(text), *arguments, "--effort", 0)
    assert ran.code == 2 and ran.out == "" and ran.err.count("\n") == 1
    assert all(word in ran.err for word in words), ran.err
    assert {path.name for path in tmp_path.iterdir()} == {"job.toml"}


def test_no_job(run: Callable[..., Ran]) -> None:
    """A job that is not there is one line too."""
    ran = run("guide", "none.toml")
    assert ran.code == 2 and "none.toml" in ran.err and ran.err.count("\n") == 1
