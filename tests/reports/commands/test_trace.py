"""The command `trace`, and a job that lays what it wrote."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import cv2
import pytest

from reports.photo.seen import seen_files
from tests.make.photos import kept, rendered

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

JOB = """
garment = "imported"
pieces_file = "blouse/pieces.json"
[[fabric]]
width = "60 in"
spread = "folded"
"""

FILES = {"pieces.json", "import.txt", "pieces.svg", "pieces.png", "pieces.pdf", "front.pieces.toml"}
FILES |= {"read.svg", "read.png", "read.pdf", "seen-1.jpg"}


def test_trace_then_lay(run: Callable[..., Ran], tmp_path: Path) -> None:
    """A photo becomes a piece that a job lays, its left side on the fold; what was seen is shown."""
    kept(tmp_path, rendered())
    done = run("trace", "front.jpg", "--out", "blouse", "--fold", "1=left")
    assert done.code == 0
    assert "mm off" in done.out and "pieces_file" in done.out
    assert {path.name for path in (tmp_path / "blouse").iterdir()} == FILES
    assert 'fold = "left"' in (tmp_path / "blouse" / "front.pieces.toml").read_text(encoding="utf-8")
    (path,) = seen_files([tmp_path / "front.jpg"], tmp_path / "blouse")
    assert min(cv2.imread(str(path)).shape[:2]) > 800
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    bought = run("buy", "job.toml", "--effort", "0", "--json")
    assert bought.code == 0 and json.loads(bought.out)["fabrics"][0]["checked"]
    assert "already exists" in run("trace", "front.jpg", "--out", "blouse").err


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("none.jpg",), "cannot read none.jpg"),
        (("front.jpg", "--fold", "left"), "write the number of a piece and its side"),
        (("front.jpg", "--line", "180"), "cannot read the length"),
        (("front.jpg", "--line", "90 mm"), "print the sheet again"),
        (("front.jpg", "--grain", "999"), "from -360 to 360"),
        (("front.jpg", "--one-piece"), "2 to 8 photos"),
        (("front.jpg", "--sheet", "a4", "--mat", "1 in"), "leave out the other"),
        (("front.jpg", "--sheet", "huge"), "name one of"),
        (("front.jpg", "--mat", "1"), "cannot read the length"),
        (("front.jpg",), "is not a JPEG or PNG"),
    ],
)
def test_mistakes_are_one_line(run: Callable[..., Ran], tmp_path: Path, arguments: tuple[str, ...], why: str) -> None:
    """What is wrong is said in one line, with exit code 2."""
    (tmp_path / "front.jpg").write_text("no photo", encoding="utf-8")
    done = run("trace", *arguments)
    assert done.code == 2
    assert why in done.err and done.err.count("\n") == 1


def test_without_opencv(run: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch) -> None:
    """Where OpenCV is not installed, the message says how to install it."""
    import importlib.util

    found = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name, *more: None if name == "cv2" else found(name, *more))
    done = run("trace", "front.jpg")
    assert done.code == 2 and "pip install opencv-python-headless" in done.err
