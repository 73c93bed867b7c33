"""Notches of several lines are one notch, where they meet the outline; notches side by side stay two."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from ezdxf.filemanagement import new

from pieces.errors import FormatError
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sketch.strokes import touching

if TYPE_CHECKING:
    from pathlib import Path

    Lines = list[tuple[tuple[float, float], tuple[float, float]]]

NOTCHES: dict[str, tuple[Lines, list[float]]] = {
    "T": ([((100, 0), (100, 8)), ((96, 8), (104, 8))], [100]),
    "T on the edge": ([((200, 0), (200, 8)), ((196, 0), (204, 0))], [200]),
    "V": ([((147, 0), (150, 6)), ((150, 6), (153, 0))], [150]),
    "V whose lines cross": ([((147, 0), (150.3, 6.2)), ((149.7, 6.2), (153, 0))], [150]),
    "box": ([((240, 0), (240, 5)), ((240, 5), (245, 5)), ((245, 5), (245, 0))], [242.5]),
    "slit": ([((220, 0), (220, 8))], [220]),
    "two slits": ([((260, 0), (260, 6)), ((263, 0), (263, 6))], [260, 263]),
}
"""Lines, and where on the edge from 0 to 300 the notches are."""


@pytest.mark.parametrize("kind", NOTCHES)
@pytest.mark.parametrize("form", ["dxf", "standard dxf", "svg"])
def test_notches_of_several_lines(tmp_path: Path, kind: str, form: str) -> None:
    """In DXF, plain and by the standard, and in SVG: each is one notch on the edge."""
    lines, places = NOTCHES[kind]
    corners = [(0, 0), (300, 0), (300, 200), (0, 200)]
    path = tmp_path / f"a.{form[-3:]}"
    if form == "svg":
        drawn = "".join(f'<path d="M{a} {b}L{c} {d}"/>' for (a, b), (c, d) in lines)
        look = 'fill="none" stroke="#000"'
        path.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">'
            f'<g class="cut" {look}><path d="M0 0H300V200H0Z"/></g><g class="notch" {look}>{drawn}</g></svg>'
        )
    else:
        document = new("R2000", units=4)
        is_plain = form == "dxf"
        layout = document.modelspace() if is_plain else document.blocks.new("A")
        layout.add_lwpolyline(corners, close=True, dxfattribs={"layer": "cut" if is_plain else "1"})
        for start, end in lines:
            layout.add_line(start, end, {"layer": "notch" if is_plain else "80" if kind[0] == "T" else "4"})
        if not is_plain:
            layout.add_text("PIECE NAME: A", dxfattribs={"layer": "1", "insert": (20, 100)})
            document.modelspace().add_blockref("A", (0, 0))
        document.saveas(path)
    found = import_pieces(path)
    (piece,) = found.pieces
    assert [notch.point for notch in piece.notches] == [pytest.approx((x, 0), abs=1e-6) for x in places]
    assert found.report.account.count("notch") == len(lines)


def test_many_lines_are_no_marks() -> None:
    """Names keep marks apart, and so does their size; ten thousand lines over one another are looked at fast."""
    line = np.array([(0.0, 0.0), (0.0, 8.0)])
    bar = np.array([(-4.0, 8.0), (4.0, 8.0)])
    assert touching([[line], [bar]], ["", "x"], 0.5) == [[0, 1]]
    assert touching([[line], [bar]], ["y", "x"], 0.5) == [[0], [1]]
    assert touching([[line], [bar * 6]], ["", ""], 40) == [[0], [1]]
    assert len(touching([[line + (0, k / 1e4)] for k in range(10_000)], [""] * 10_000, 0.5)) == 10_000


def test_a_notch_of_a_block_without_an_outline(tmp_path: Path) -> None:
    """Its only outline is said to be a cutout: nothing is left to cut, which is said in a line."""
    document = new("R2000", units=4)
    block = document.blocks.new("A")
    block.add_lwpolyline([(0, 0), (300, 0), (300, 200), (0, 200)], close=True, dxfattribs={"layer": "1"})
    block.add_line((100, 0), (100, 8), {"layer": "4"})
    block.add_text("PIECE NAME: A", dxfattribs={"layer": "1", "insert": (20, 100)})
    document.modelspace().add_blockref("A", (0, 0))
    document.saveas(tmp_path / "a.dxf")
    with pytest.raises(FormatError, match="you said that number 2"):
        import_pieces(tmp_path / "a.dxf", sidecar=sidecar_of({"line": [{"numbers": [2], "role": "cutout"}]}, "told"))
