"""The folder of an answer: which files there are, and that they say the same as the screen. Pictures are left blank."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from pytest import MonkeyPatch

import reports.draw.kit.files
from reports.ask.job import parse_job
from reports.buy.files import planned_files
from tests.make.model import MODEL, RIB, with_fabrics
from tests.make.recheck import recheck

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

PICTURES = ("svg", "png", "pdf")
TWO = with_fabrics('name = "tape"\nwidth = "10 in"', 'name = "twill"\nwidth = "60 in"\nnap = true', rib=RIB)


@pytest.fixture
def blank(monkeypatch: MonkeyPatch) -> None:
    """Pictures are touched, not drawn: others test how they look."""
    monkeypatch.setattr(reports.draw.kit.files, "save", lambda figure, path: path.touch())


def test_planned(tmp_path: Path) -> None:
    """Files are named before any work is done: four for the pieces, four a cloth, three a rib, two for the answer."""
    job = parse_job(TWO)
    names = {path.name for path in planned_files(job, tmp_path, ["pieces", "markers", "rib", "answer"])}
    assert names == (
        {f"{stem}.{kind}" for stem in ("pieces", "marker-1", "marker-2", "rib-1") for kind in PICTURES}
        | {"pieces.json", "marker-1.json", "marker-2.json", "buy.json", "buy.txt"}
    )


def test_draft(job_file: Callable[[str], Path], run: Callable[..., Ran], blank: None, tmp_path: Path) -> None:
    """`draft --out` writes the pieces, and the same object to stdout if asked."""
    said = run("draft", job_file(MODEL), "--out", "answer", "--json")
    assert said.code == 0
    assert {path.name for path in (tmp_path / "answer").iterdir()} == {f"pieces.{kind}" for kind in ("json", *PICTURES)}
    assert json.loads((tmp_path / "answer" / "pieces.json").read_text()) == json.loads(said.out)


def test_lay(job_file: Callable[[str], Path], run: Callable[..., Ran], blank: None, tmp_path: Path) -> None:
    """`lay` writes pieces and markers; a cloth that will not do leaves a gap in the numbers, and its reason."""
    said = run("lay", job_file(TWO), "--effort", 0)
    assert said.code == 0
    assert "tape will not do: 'back' needs 13 7/8 in" in said.out
    folder = tmp_path / "job-marker"
    stems = {path.stem for path in folder.iterdir()}
    assert stems == {"pieces", "marker-2"}
    assert all(path.name in said.out for path in folder.iterdir())
    marker, drafted = (json.loads((folder / name).read_text()) for name in ("marker-2.json", "pieces.json"))
    recheck(marker, drafted, nap=True)


def test_buy(job_file: Callable[[str], Path], run: Callable[..., Ran], blank: None, tmp_path: Path) -> None:
    """`buy --out` writes everything: the answer for machines as printed by --json, and for people in words."""
    said = run("buy", job_file(TWO), "--effort", 0, "--json", "--out", "answer")
    assert (said.code, said.err) == (0, "")
    folder = tmp_path / "answer"
    assert {path.stem for path in folder.iterdir()} == {"pieces", "marker-2", "rib-1", "buy"}
    answer = json.loads((folder / "buy.json").read_text())
    assert answer == json.loads(said.out)
    words = (folder / "buy.txt").read_text(encoding="utf-8")
    assert f"Buy {answer['fabrics'][1]['buy']} of twill" in words
    assert f"Buy {answer['ribs'][0]['buy']} of tube rib" in words


def test_buy_again(job_file: Callable[[str], Path], run: Callable[..., Ran], blank: None) -> None:
    """The same command a second time overwrites nothing, unless it is forced."""
    job = job_file(TWO)
    command = ("buy", job, "--effort", 0, "--out", "answer")
    assert [run(*command).code, run(*command).code, run(*command, "--force").code] == [0, 2, 0]
