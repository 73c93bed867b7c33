"""DXF in space: what does not lie level is no pattern; what a block always shows is read; edges shared by two pieces.

Files are written by ezdxf. Constant attributes: DXF reference, ATTDEF, group code 70, value 2 (from memory).
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import FormatError
from tests.make.drawings import SQUARE, area, dxf, read

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace


def _line(space: Modelspace) -> None:
    space.add_line((300, 0, 0), (400, 0, 90))


def _polyline(space: Modelspace) -> None:
    space.add_polyline3d([(300, 0, 0), (400, 0, 90), (400, 90, 90)], close=True)


def _spline(space: Modelspace) -> None:
    space.add_open_spline([(300, 0, 0), (340, 50, 40), (360, 50, 40), (400, 0, 0)])


@pytest.mark.parametrize("draw", [_line, _polyline, _spline])
def test_lines_that_do_not_lie_level_are_left_out(tmp_path: Path, draw: Callable[[Any], None]) -> None:
    """Seen from above they would be shorter than they are."""

    def both(_: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        draw(space)

    found = read(dxf(tmp_path / "a.dxf", both), grain=0)
    assert [out.why for out in found.report.left_out] == [
        "its points lie at different heights (z): it is not a flat line"
    ]


def test_lines_at_one_height_are_read(tmp_path: Path) -> None:
    """All of a drawing may lie at any height, to a tenth of a millimetre."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_polyline3d([(x, y, 50 + x / 2000) for x, y in SQUARE], close=True)

    assert area(read(dxf(tmp_path / "a.dxf", draw), grain=0, strict=True).pieces.pieces[0]) == pytest.approx(1e4)


def test_constant_attribute_of_a_block_is_read(tmp_path: Path) -> None:
    """It stands in every copy of the block, turned and moved with it; one that is not constant is not drawn."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("yoke")
        block.add_lwpolyline(SQUARE, close=True)
        block.add_attdef("N", (20, 20), text="cut 4").is_const = True
        block.add_attdef("M", (20, 60), text="cut 9")
        space.add_blockref("yoke", (500, 0), {"rotation": 90})

    found = read(dxf(tmp_path / "a.dxf", draw), grain=0)
    assert [piece.cut for piece in found.pieces] == [4]
    assert found.report.account.kinds() == {"closed outline": 1, "words": 1}


def _whole(space: Modelspace) -> None:
    for start, end in pairwise([(0, 0), (180, 0), (180, 80), (0, 80), (0, 0)]):
        space.add_line(start, end)
    space.add_line((90, 0), (90, 80))


def _parted(space: Modelspace) -> None:
    for start, end in pairwise([(0, 0), (90, 0), (180, 0), (180, 80), (90, 80), (0, 80), (0, 0)]):
        space.add_line(start, end)
    space.add_line((90, 0), (90, 80))


def _halves(space: Modelspace) -> None:
    space.add_lwpolyline([(90, 0), (0, 0), (0, 80), (90, 80)])
    space.add_lwpolyline([(90, 0), (180, 0), (180, 80), (90, 80)])
    space.add_line((90, 0), (90, 80))


def _leaning(space: Modelspace) -> None:
    space.add_lwpolyline([(0, 0), (90, 0), (90, 80), (0, 80)], close=True)
    space.add_lwpolyline([(90, 0), (180, 0), (180, 80), (90, 80)])


def _twice(space: Modelspace) -> None:
    for start, end in pairwise([(0, 0), (90, 0), (90, 80), (0, 80), (0, 0)]):
        space.add_line(start, end)
    for start, end in pairwise([(90, 0), (180, 0), (180, 80), (90, 80), (90, 0)]):
        space.add_line(start, end)


@pytest.mark.parametrize("draw", [_whole, _parted, _halves, _leaning, _twice])
def test_an_edge_that_two_pieces_share_is_never_clean(tmp_path: Path, draw: Callable[[Any], None]) -> None:
    """However two pieces with one common edge are drawn, what is made of them is said, and refused when strict."""
    path = dxf(tmp_path / "a.dxf", lambda _, space: draw(space))
    assert read(path, grain=0).report.unsure()
    with pytest.raises(FormatError, match="--strict refuses"):
        read(path, grain=0, strict=True)


def test_a_spline_of_fit_points_is_told(tmp_path: Path) -> None:
    """Programs draw it differently between its points, so that it is a guess; one of control points is none."""

    def fitted(_: Drawing, space: Modelspace) -> None:
        space.add_spline([(0, 0), (100, 0), (100, 100), (0, 100), (0, 0)])

    def controlled(_: Drawing, space: Modelspace) -> None:
        space.add_open_spline([(0, 0), (100, 0), (100, 100), (0, 100), (0, 0)])

    assert "points that it passes through" in read(dxf(tmp_path / "a.dxf", fitted), grain=0).report.guesses[0]
    assert read(dxf(tmp_path / "b.dxf", controlled), grain=0).report.guesses == []
