r"""Signs that DXF writes by their number are read as they are meant, in words, names of layers and of blocks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from ezdxf.filemanagement import new

from pieces.exchange.imported import ReadingChoices
from pieces.exchange.read.dxf_signs import decoded
from pieces.exchange.read.reader import import_pieces

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        (r"R\U+00FCcken", "Rücken"),
        (r"\U+4E2D\U+6587 \M+5B1B1", "中文 北"),
        (r"\U+D83D\U+DE00", "\U0001f600"),
        (r"\U+D83D alone", "\ufffd alone"),
        (r"\\U+00FC", r"\\U+00FC"),
        (r"\U+000A \U+005C \U+00", r"\U+000A \U+005C \U+00"),
        (r"\M+9ABCD \M+1FFFF", r"\M+9ABCD \M+1FFFF"),
        ("a\n  3\nlong \\U+00\n  1\nFC end", "a\n  3\nlong \n  1\nü end"),
        ("  3\nC:\\\n 40\n1.0", "  3\nC:\\\n 40\n1.0"),
    ],
)
def test_signs_by_number(written: str, meant: str) -> None:
    """By four figures, in pairs, by a code page; what would break the file, or is none, stays."""
    assert decoded(written) == meant


def test_names_and_words(tmp_path: Path) -> None:
    """A piece is called, and counted, by a text; a layer is known by a decoded word; degrees are read."""
    document = new("R2000", units=4)
    space = document.modelspace()
    space.add_lwpolyline([(0, 0), (300, 0), (300, 200), (0, 200)], close=True, dxfattribs={"layer": "schnitt"})
    space.add_text(r"R\U+00FCckenteil 2x", dxfattribs={"insert": (50, 50), "height": 8})
    space.add_mtext(
        r"\U+00D6ffnung {\fArial|b0;%%c 5 mm}\P45%%d, %%176", dxfattribs={"insert": (50, 150), "char_height": 5}
    )
    document.layers.add(r"piq\U+00FBre")
    space.add_line((10, 10), (290, 10), dxfattribs={"layer": r"piq\U+00FBre"})
    document.saveas(tmp_path / "a.dxf")
    found = import_pieces(tmp_path / "a.dxf", ReadingChoices())
    (piece,) = found.pieces
    assert (piece.name, piece.cut, [line.kind for line in piece.inner]) == ("Rückenteil", 2, ["sew"])
    assert "Öffnung Ø 5 mm" in piece.label
    assert "45°, °" in piece.label
