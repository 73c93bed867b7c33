"""Which program wrote a file, as far as it says so, and how its lines are marked."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from ezdxf.filemanagement import new

from pieces.exchange.account import Account
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.read.marks import marks_of_svg
from pieces.exchange.read.reader import import_pieces

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("head", "program"),
    [
        ("<!-- Generator: Drawing Desk 12.4 -->", "Drawing Desk"),
        ("<!-- Created with Plan Board (version 3) -->", "Plan Board"),
        ('<svg xmlns="http://www.w3.org/2000/svg" xmlns:b="http://www.board.example/names/1">', "board.example"),
        ("<svg>", ""),
    ],
)
def test_programs_of_svg(head: str, program: str) -> None:
    """By a comment, or by names of their own."""
    assert marks_of_svg(head, Account()).program == program


def test_marks_of_dxf(tmp_path: Path) -> None:
    """Colour and line style of a line are its own, or those of its layer; the comment at the head names the program."""
    document = new()
    document.header["$INSUNITS"] = 4
    document.layers.add("seam", color=1, linetype="CONTINUOUS")
    for layer, more in (("seam", {}), ("seam", {"color": 5}), ("seam", {"true_color": 0x102030})):
        at = 300 * len(document.modelspace())
        corners = [(at, 0), (at + 200, 0), (at + 200, 100), (at, 100)]
        document.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": layer, **more})
    document.saveas(tmp_path / "a.dxf")
    (tmp_path / "a.dxf").write_text("999\nPlan Board 7\n" + (tmp_path / "a.dxf").read_text())
    found = import_pieces(tmp_path / "a.dxf", ReadingChoices())
    assert [entry.mark.colour for entry in found.report.account.entries] == ["#ff0000", "#0000ff", "#102030"]
    assert (found.report.marks.program, found.report.marks.layers) == ("Plan Board", ("seam",))
