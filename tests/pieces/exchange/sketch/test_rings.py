"""Outlines out of lines, each once; what is not closed says what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.exchange.sketch.rings import SAME
from tests.make.drawings import FRONT, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path


def moved(by: float) -> list[tuple[float, float]]:
    """The front, moved aside."""
    return [(x + by, y) for x, y in FRONT]


@pytest.mark.parametrize(("by", "pieces"), [(0.0, 1), (0.7 * SAME, 1), (0.4, 2)])
def test_an_outline_drawn_twice_but_for_a_hair(by: float, pieces: int, tmp_path: Path) -> None:
    """It is one piece, under its name, and that is told with how far it is off; farther off, there are two."""
    found = read(svg(tmp_path / "a.svg", path(moved(by)) + path(FRONT, 'id="yoke"')))
    assert len(found.pieces.pieces) == pieces
    assert pieces == 2 or by == 0 or [piece.name for piece in found.pieces] == ["yoke"]
    assert pieces == 2 or any("drawn twice" in out.why for out in found.report.left_out)
    assert any("'yoke'" in said and ("move one" in said or "overlap" in said) for said in found.report.guesses)


def test_an_outline_without_a_name_is_drawn_twice(tmp_path: Path) -> None:
    """No name is made up for the one that is kept."""
    (out,) = read(svg(tmp_path / "a.svg", path(FRONT) + path(moved(0.7 * SAME)))).report.left_out
    assert out.why == f"it lies on another, but for {0.7 * SAME:.2f} mm, and is taken for the same, drawn twice"


def test_a_line_that_is_nearly_closed_says_what_to_do(tmp_path: Path) -> None:
    """It is named, with the gap, and the option that closes it; that option does."""
    gap = "M250,20 H350 V120 H250 V20.7"
    drawn = svg(
        tmp_path / "a.svg", path(FRONT, 'id="front"') + f'<path id="pocket" d="{gap}" fill="none" stroke="red"/>'
    )
    (out,) = read(drawn).report.left_out
    assert out.what == "the open line 'pocket'" and "--join '0.7 mm'" in out.why
    assert [piece.name for piece in read(drawn, join=0.7).pieces] == ["front", "pocket"]


def test_what_was_dropped_is_told_of_its_own_outline(tmp_path: Path) -> None:
    """A line without length somewhere else is no repair of a piece; one on its outline is."""
    far = svg(tmp_path / "a.svg", path(FRONT) + '<path d="M300,250 L300,250" fill="none" stroke="red"/>')
    assert read(far).report.repairs == []
    lines = "".join(
        f'<path d="M{a[0]},{a[1]} L{b[0]},{b[1]}" fill="none" stroke="red"/>'
        for a, b in zip(FRONT, [*FRONT[1:], FRONT[0]], strict=True)
    )
    twice = svg(tmp_path / "b.svg", lines + '<path d="M20,20 L220,20" fill="none" stroke="red"/>')
    assert [repair.what for repair in read(twice).report.repairs] == ["1 line dropped, drawn twice or with no length"]


LAYER = '<g inkscape:groupmode="layer" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'


def test_sizes_of_one_digit(tmp_path: Path) -> None:
    """Layers 8, 10 and 12 over one another are three sizes; none of them is left out of the list."""
    drawn = [[(20 + (x - 20) * k, 20 + (y - 20) * k) for x, y in FRONT] for k in (1, 1.03, 1.06)]
    layers = (
        f'{LAYER} inkscape:label="{size}">{path(points)}</g>'
        for size, points in zip(("8", "10", "12"), drawn, strict=True)
    )
    found = read(svg(tmp_path / "a.svg", "".join(layers)), size="8")
    assert (found.report.sizes, found.report.size, len(found.pieces.pieces)) == (("8", "10", "12"), "8", 1)


def test_sizes_counted_from_one(tmp_path: Path) -> None:
    """The layer ``1`` is a size like ``2`` and ``3``, and no piece of its own beside them."""
    drawn = {size: [(x * k, y * k) for x, y in FRONT] for size, k in (("1", 1), ("2", 1.03), ("3", 1.06))}
    layers = (f'{LAYER} inkscape:label="{size}">{path(points)}</g>' for size, points in drawn.items())
    found = read(svg(tmp_path / "a.svg", "".join(layers)), size="2")
    assert (found.report.sizes, len(found.pieces.pieces)) == (("1", "2", "3"), 1)


def test_marks_of_other_sizes_are_not_on_this_one(tmp_path: Path) -> None:
    """Each layer has a notch and words of its own, and keeps them; a grainline drawn in one counts for all."""
    inside = ""
    for at, size in enumerate(("8", "10", "12")):
        points = [(20 + (x - 20) * (1 + 0.03 * at), 20 + (y - 20) * (1 + 0.03 * at)) for x, y in FRONT]
        notch = f'<path class="notch" stroke="black" d="M{60 + 10 * at},20 v5"/>'
        grain = '<path class="grain" stroke="black" d="M120,60 v90"/>' * (size == "12")
        words = f'<text x="60" y="{90 + 20 * at}" font-size="5">cut {at + 1}</text>'
        inside += f'{LAYER} inkscape:label="{size}">{path(points)}{notch}{grain}{words}</g>'
    found = read(svg(tmp_path / "a.svg", inside), size="10")
    (piece,) = found.pieces
    assert (piece.cut, len(piece.notches), found.report.account.count("another size")) == (2, 1, 6)
    assert found.drawn[piece.name].grain is not None


def test_triangles_on_the_edge(tmp_path: Path) -> None:
    """A small triangle that touches the edge is a notch, which is told; one within is a mark."""
    marks = '<path d="M100,20 l-3,6 h6 z"/><path d="M100,100 l-3,6 h6 z"/>'
    found = read(svg(tmp_path / "a.svg", path(FRONT) + f'<g fill="none" stroke="red">{marks}</g>'))
    (piece,) = found.pieces
    assert (len(piece.notches), len(piece.drill_points)) == (1, 1)
    assert any("small triangles on its edge are taken as notches" in said for said in found.report.guesses)


def test_the_grain_is_told_of_pieces_alone(tmp_path: Path) -> None:
    """What is left out has no grain to be guessed; signs that an editor writes by number are read in names."""
    bow = '<path id="bow" d="M250,20 L350,120 L350,20 L250,120 Z" fill="none" stroke="red"/>'
    found = read(svg(tmp_path / "a.svg", bow + path(FRONT, 'id="Front_x5F_cut_2"')))
    assert [(piece.name, piece.cut) for piece in found.pieces] == [("Front", 2)]
    assert any(said.startswith("'Front': no grainline is drawn") for said in found.report.guesses)
