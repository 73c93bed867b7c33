"""Pictures in files: the same bytes every time, whole or not at all."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import pytest
from matplotlib.figure import Figure

from pieces import PieceSet, Units
from reports.draw.kit.files import save
from reports.draw.kit.sheet import new_page
from reports.draw.pieces import pieces_page
from reports.errors import OutputError
from tests.make.drawn import overlapping

KINDS = {"svg": b"<?xml", "png": b"\x89PNG\r\n\x1a\n", "pdf": b"%PDF-"}


def page(jacket: PieceSet) -> Figure:
    """Any picture with lines, areas and words."""
    return pieces_page(jacket, title="pieces", units=Units.INCHES)


@pytest.mark.parametrize("kind", KINDS)
def test_same_bytes(jacket: PieceSet, kind: str, tmp_path: Path) -> None:
    """Drawn and saved twice, a picture is the same to the byte, under whatever settings; it starts as its kind does."""
    first, second = tmp_path / f"one.{kind}", tmp_path / f"two.{kind}"
    save(page(jacket), first)
    with matplotlib.rc_context({"font.family": "serif", "svg.hashsalt": "other", "pdf.fonttype": 3}):
        save(page(jacket), second)
    assert first.read_bytes() == second.read_bytes()
    assert first.read_bytes().startswith(KINDS[kind])
    assert b"CreationDate" not in first.read_bytes() and b"dc:date" not in first.read_bytes()


def test_svg_is_sound(jacket: PieceSet, tmp_path: Path) -> None:
    """The SVG is well-formed, as large as the page, and its words are text, not outlines of letters."""
    figure, path = page(jacket), tmp_path / "pieces.svg"
    save(figure, path)
    root = ElementTree.parse(path).getroot()
    assert float(root.attrib["width"].removesuffix("pt")) == pytest.approx(figure.get_size_inches()[0] * 72)
    assert "front facing" in {"".join(node.itertext()) for node in root.iter() if node.tag.endswith("}text")}


@pytest.mark.parametrize("there", [False, True])
def test_failed_save_leaves_nothing(there: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If writing breaks off half-way, no new file is left, and an old one is as it was."""
    path = tmp_path / "picture.svg"
    if there:
        path.write_text("old")

    def break_off(self: Path, data: bytes) -> None:
        with self.open("wb") as file:
            file.write(data[: len(data) // 2])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", break_off)
    with pytest.raises(OutputError, match=r"cannot write .*picture\.svg: no space left"):
        save(Figure(), path)
    assert [file.name for file in tmp_path.iterdir()] == ["picture.svg"] * there
    assert not there or path.read_text() == "old"


@pytest.mark.parametrize("name", ["picture", "picture.gif", "picture.svgz"])
def test_other_endings(name: str, tmp_path: Path) -> None:
    """Another ending is refused with the endings there are, before anything is written."""
    with pytest.raises(OutputError, match=r"\.svg, \.png, \.pdf"):
        save(Figure(), tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_no_pyplot() -> None:
    """Drawing leaves matplotlib's global state alone: pyplot is never imported."""
    drawing = "reports.draw.marker, reports.draw.pieces, reports.draw.kit.files"
    code = f"import sys, {drawing}; print('matplotlib.pyplot' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"


def test_overlaps_are_found() -> None:
    """The check that other tests rely on sees words on words, and words off the page."""
    figure, sheet = new_page()
    sheet.text(100, 100, "one")
    assert overlapping(figure) == []
    sheet.text(104, 101, "two")
    sheet.text(-5, 300, "three")
    assert len(overlapping(figure)) == 2
