"""Blocks of the standard, and how they are placed: how often, in mirror image, larger, or nowhere.

Files are written by ezdxf; the records are those of ASTM D6673, from memory.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import FormatError
from tests.make.drawings import area, dxf, read

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

HAND = [(0.0, 0.0), (90.0, 0.0), (90.0, 80.0), (40.0, 80.0)]
"""A piece that has a left and a right: 5600 mm² by the shoelace formula."""


def front(path: Path, *placings: dict[str, Any], words: tuple[str, ...] = ()) -> Path:
    """A front in a block of the standard, placed as often as is said."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("F")
        block.add_lwpolyline(HAND, close=True, dxfattribs={"layer": "1"})
        block.add_line((10, 5), (80, 5), {"layer": "7"})
        for text in ("PIECE NAME: front", *words):
            block.add_text(text, dxfattribs={"layer": "1"})
        for n, placing in enumerate(placings):
            space.add_blockref("F", (500 * n, 0), placing)

    return dxf(path, draw)


@pytest.mark.parametrize(
    ("placings", "cut", "pair"),
    [([{}], 1, False), ([{}, {}], 2, False), ([{}, {"xscale": -1}], 2, True), ([{}, {}, {"xscale": -1}] * 2, 6, False),
     ([{"column_count": 3, "column_spacing": 200}], 3, False)],
)  # fmt: skip
def test_a_piece_is_cut_as_often_as_it_is_placed(tmp_path: Path, placings: Any, cut: int, pair: bool) -> None:
    """Where no record says it: as often as its block is placed, arrays counted; half of it mirrored is a pair."""
    found = read(front(tmp_path / "a.dxf", *placings))
    (piece,) = found.pieces
    assert (piece.cut, piece.mirrored_pair, area(piece)) == (cut, pair, pytest.approx(5600))
    assert bool(found.report.guesses) == (cut == 6)  # two of six in mirror image are no pair: that is said


@pytest.mark.parametrize(
    ("placings", "words", "said"),
    [
        ([{"xscale": 2, "yscale": 2}], (), "placed 2 by 2 times as large"),
        ([{"xscale": 2}], (), "placed 2 by 1 times as large"),
        ([{"xscale": -1}], (), "1 of 1 are placed in mirror image"),
        ([], (), "never placed"),
        ([{}, {}, {}], ("QUANTITY: 1",), "its quantity is 1, but it is placed 3 times"),
        ([{}], ("QUANTITY: 1", "QUANTITY: 4"), "its QUANTITY is '1' and '4'"),
    ],
)
def test_what_contradicts_the_block_is_said(tmp_path: Path, placings: Any, words: tuple[str, ...], said: str) -> None:
    """The block and its first record are taken; what says otherwise is told of, and refused by a strict reading."""
    path = front(tmp_path / "a.dxf", *placings, words=words)
    assert area(read(path).pieces.pieces[0]) == pytest.approx(5600)
    with pytest.raises(FormatError, match=said):
        read(path, strict=True)


def test_several_annotations_are_one_label(tmp_path: Path) -> None:
    """A piece may have several lines of annotation: none is lost."""
    path = front(tmp_path / "a.dxf", {}, words=("ANNOTATION: mind the nap", "ANNOTATION: stay the neck"))
    assert read(path, strict=True).pieces["front"].label == "mind the nap, stay the neck"
