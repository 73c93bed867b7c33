"""What of an SVG is seen: by its look, by the copy that shows it, by the sides that cut it off.

Sources, from memory: SVG 1.1, 4.2 and 7.10 (lengths), 5.6 (copies inherit from the use), 5.8 (switch), 11 (painting),
14.3 (clipping to the sides of an inner drawing); CSS 2.1, 6.4 (which rule holds).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from tests.make.drawings import area, read, svg

if TYPE_CHECKING:
    from pathlib import Path

LINE = 'fill="none" stroke="black"'
FRONT = f'<rect x="200" width="90" height="80" {LINE}/>'
BARE = '<defs><rect id="a" width="50" height="40"/></defs>'


@pytest.mark.parametrize(
    ("inside", "areas"),
    [
        (f'{BARE}<use href="#a" fill="none" stroke="black"/>', [2000]),
        (f'{BARE}<g fill="none" stroke="black"><use href="#a"/><use href="#a" y="60" stroke="none"/></g>', [2000]),
        (f'{BARE}{FRONT}<use href="#a" fill="none"/>', [7200]),
        (f'{BARE}{FRONT}<use href="#a" visibility="hidden"/>', [7200]),
        (f'<g display="none"><rect id="a" width="50" height="40" {LINE}/></g><use href="#a"/>', [2000]),
        (f'{FRONT}<rect width="30" height="30" fill="rgba(0, 0, 0, 0)"/>', [7200]),
        (f'<style>.b{{display:none}} .a{{display:inline}}</style>{FRONT}<rect class="a b" width="50" height="40"/>',
         [2000, 7200]),
        (f'<switch><g requiredExtensions="x"><rect width="20" height="30"/></g>{FRONT}<path d="M0 0h9v9z"/></switch>',
         [7200]),
        (f'<circle cx="50%" cy="50%" r="10%" {LINE}/>', [math.pi * 1250]),
        (f'<svg x="50" y="50" width="50%" height="100"><rect width="50%" height="50%" {LINE}/></svg>', [5000]),
        (f'<symbol id="s" viewBox="0 0 10 10" overflow="visible"><rect width="20" height="10" {LINE}/></symbol>'
         '<use href="#s" width="100" height="100"/>', [20000]),
    ],
)  # fmt: skip
def test_what_is_seen_is_read(tmp_path: Path, inside: str, areas: list[float]) -> None:
    """A copy looks as what shows it says; shares of lengths are of what they lie in; what nobody sees is no piece."""
    found = sorted(area(piece) for piece in read(svg(tmp_path / "a.svg", inside), grain=0).pieces)
    assert found == pytest.approx(areas, rel=2e-3)


@pytest.mark.parametrize(
    ("inside", "said"),
    [
        ('<use href="#a" fill="none" stroke="white"/>', "drawn only in white"),
        ('<rect width="50" height="40" fill="none" stroke="hsl(0, 0%, 100%)"/>', "drawn only in white"),
        ('<g color="white"><rect width="50" height="40" fill="none" stroke="currentColor"/></g>', "only in white"),
        ('<symbol id="s" viewBox="0 0 10 10"><rect width="15" height="10"/></symbol>'
         '<use href="#s" width="100" height="100"/>', "beyond the sides"),
        ('<symbol id="s"><rect x="-20" width="60" height="30"/></symbol><use href="#s" x="50"/>', "beyond the sides"),
        ('<svg width="50" height="50"><rect width="100" height="30"/></svg>', "beyond the sides"),
        ('<rect x="350" width="60" height="80"/>', "off the page"),
        ('<rect width="10em" height="80"/>', "is not a length known here"),
        ('<circle cx="60" cy="60" r="20" style="r:50px"/>', r"moves or resizes it \(r\)"),
        ('<rect width="50" height="40" style="scale:2"/>', r"moves or resizes it \(scale\)"),
        ('<path d="M0 0h9v90z" transform="rotate(9)" transform-origin="5 5"/>', "transform-origin is ignored"),
        ('<rect width="50" height="40"><set attributeName="width" to="90"/></rect>', "parts that move or change"),
        ('<text x="210" y="40" fill="white">front</text>', "written only in white"),
        ('<rect width="50" height="40" style="display:var(--x)"/>', "uses a variable"),
        ("<style>.h { display: none</style>", "style sheet has rules"),
        ("<style>@layer a { .h { display: none } }</style>", "style sheet has rules"),
        ('<path id="a" d="M0 0h9v90z"/><use href="#a" y="99"/>', "several things have the id"),
        ("<style>@import url(x.css);</style>", "style sheet has rules"),
        ("<style>rect { display: inline !important }</style>", "style sheet has rules"),
        ('<switch><path systemLanguage="xx" d="M0 0h9v90z"/><path d="M0 0h90v90z"/></switch>', "alternatives"),
        ('<svg id="d" width="9" height="9"/><use href="#d"/>', "a copy of a whole drawing"),
    ],
)  # fmt: skip
def test_what_is_not_followed_is_said(tmp_path: Path, inside: str, said: str) -> None:
    """It is said beside a front that is read, and refused by a strict reading."""
    path = svg(tmp_path / "a.svg", BARE + FRONT + inside)
    assert any(said.replace("\\", "") in line for line in read(path, grain=0).report.unsure())
    with pytest.raises(FormatError, match=said):
        read(path, strict=True, grain=0)


def test_white_ground_that_is_a_piece_is_said(tmp_path: Path) -> None:
    """A white area without a line is told of, unless it is a frame."""
    path = svg(tmp_path / "a.svg", '<path d="M0 0h90v80h-50z" fill="white"/>')
    assert any("only in white" in guess for guess in read(path, grain=0).report.guesses)
    ground = svg(tmp_path / "b.svg", f'<rect width="400" height="300" fill="white"/><path d="M50 50h90v80z" {LINE}/>')
    assert read(ground, grain=0, strict=True).pieces.pieces[0].width == pytest.approx(80)


@pytest.mark.parametrize(
    ("within", "rule", "kind"),
    [("v50h20v-50z", "", "cutout"), ("h20v50h-20z", "", "line"), ("h20v50h-20z", 'fill-rule="evenodd"', "cutout"),
     ("h20v50h-20z", 'style="fill-rule: evenodd"', "cutout")],
)  # fmt: skip
def test_what_is_filled_is_no_cutout(tmp_path: Path, within: str, rule: str, kind: str) -> None:
    """By the rule that holds unless another is said, an outline that runs the same way as the one round it is filled.

    SVG 1.1, 11.3: it is a hole if it runs the other way, or if the rule is evenodd.
    """
    path = svg(tmp_path / "a.svg", f'<path d="M0 0h100v100h-100z M25 25{within}" fill="grey" {rule}/>')
    found = read(path, grain=0)
    assert [line.kind for line in found.pieces.pieces[0].inner] == [kind]
    assert bool(found.report.guesses[:1]) == (kind == "line")  # which is guessed, and refused by a strict reading


def test_parts_of_a_text_that_are_not_seen_are_not_read(tmp_path: Path) -> None:
    """A count that nobody sees is none; it is told of as hidden."""
    text = '<text x="210" y="40">front<tspan x="210" dy="9" display="none">cut 5</tspan></text>'
    found = read(svg(tmp_path / "a.svg", FRONT + text), grain=0)
    assert [(piece.name, piece.cut) for piece in found.pieces] == [("front", 1)]
    assert found.report.account.count("hidden") == 1


@pytest.mark.parametrize(
    ("head", "side", "said"),
    [
        ('width="100%" viewBox="0 0 100 100" style="width: 400mm; max-width: 9mm; height:400mm"', 200.0, ""),
        ('width="200mm" height="200mm" viewBox="0 0 100 100" style="width:100%;height:auto"', 100.0, ""),
        ('width="200mm" height="20cm" viewBox="0 0 100 100" style="width:200mm;height:200mm"', 100.0, ""),
        ('width="200mm" height="200mm" viewBox="0 0 100 100" style="width:400mm"', 100.0, "in its style"),
        ('width="96in" height="96in" viewBox="0 0 100"', 50 * 25.4 / 96, "is not valid and is ignored"),
    ],
)
def test_sides_of_the_drawing(tmp_path: Path, head: str, side: float, said: str) -> None:
    """A style may say how large a drawing is; what contradicts, or is no view box, is told (SVG 1.1, 7.7; 96 px/in)."""
    found = read(svg(tmp_path / "a.svg", f'<rect width="50" height="50" {LINE}/>', head), grain=0)
    assert found.pieces.pieces[0].length == pytest.approx(side)
    assert said in " ".join(found.report.guesses) and bool(said) == bool(found.report.guesses)


def test_style_sheet_outside_of_the_file_is_said(tmp_path: Path) -> None:
    """It is never fetched: what it hides is read as seen."""
    path = svg(tmp_path / "a.svg", FRONT)
    path.write_text('<?xml version="1.0"?><?xml-stylesheet href="a.css"?>' + path.read_text(), encoding="utf-8")
    assert any("style sheet from another file" in guess for guess in read(path, grain=0).report.guesses)
