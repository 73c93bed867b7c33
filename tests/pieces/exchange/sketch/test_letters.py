"""Letters that were made outlines, by outlines made here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.exchange.sketch.letters import TALLEST
from tests.make.drawings import FRONT, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path

LINE = 'fill="none" stroke="black"'


def letter(x: float, y: float, tall: float) -> str:
    """A filled L, and beside it a filled I with its dot: the I and the dot look like marks."""
    l_ = f"M{x} {y}v{tall}h{tall * 0.6}v{-tall * 0.2}h{-tall * 0.4}v{-tall * 0.8}z"
    i = f"M{x + tall * 0.7} {y + tall * 0.3}v{tall * 0.7}h{tall * 0.2}v{-tall * 0.7}z"
    dot = f"M{x + tall * 0.7} {y}v{tall * 0.2}h{tall * 0.2}v{-tall * 0.2}z"
    return "".join(f'<path d="{d}" fill="#000"/>' for d in (l_, i, dot))


def test_parts_of_letters_are_no_marks(tmp_path: Path) -> None:
    """An i and its dot beside other letters are writing; a circle away from them is a drill point."""
    drill = '<circle cx="180" cy="150" r="2" fill="none" stroke="black"/>'
    found = read(svg(tmp_path / "a.svg", path(FRONT, LINE) + letter(60, 60, 8) + drill))
    (piece,) = found.pieces
    assert len(piece.drill_points) == 1
    assert found.report.account.count("left out") == 3
    assert sum("letter" in line for line in found.report.lines()) >= 1


def test_a_title_in_large_letters_is_no_piece(tmp_path: Path) -> None:
    """Filled outlines side by side among drawn ones are told as lettering, in a piece and outside of all."""
    for where in (letter(250, 30, 40), letter(60, 60, 40)):
        found = read(svg(tmp_path / "a.svg", path(FRONT, LINE) + where))
        (piece,) = found.pieces
        assert not piece.inner and not piece.drill_points
        assert any("lettering" in line for line in found.report.lines())


def test_a_row_of_dots_is_no_writing(tmp_path: Path) -> None:
    """Three filled circles close to one another are drill points."""
    dots = "".join(f'<circle cx="{60 + 6 * i}" cy="100" r="2" fill="#000"/>' for i in range(3))
    (piece,) = read(svg(tmp_path / "a.svg", path(FRONT, LINE) + dots)).pieces
    assert len(piece.drill_points) == 3


def test_filled_pieces_are_pieces(tmp_path: Path) -> None:
    """Where every piece is filled, or a small one stands alone, none is lettering."""
    filled = path(FRONT) + "".join(f'<rect x="{250 + 60 * i}" y="20" width="50" height="40"/>' for i in range(3))
    assert len(read(svg(tmp_path / "a.svg", filled)).pieces) == 4
    alone = path(FRONT, LINE) + f'<rect x="250" y="20" width="{TALLEST / 2}" height="40"/>'
    assert len(read(svg(tmp_path / "b.svg", alone)).pieces) == 2
