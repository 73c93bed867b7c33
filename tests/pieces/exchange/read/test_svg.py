"""Pieces out of SVG: shapes, transforms, units and viewBox; what is unsafe is refused."""

from __future__ import annotations

import math
import time
from typing import TYPE_CHECKING

import pytest
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen

from pieces.errors import FormatError
from tests.make.drawings import FRONT, area, corners, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path

DISC = math.pi * 50**2


@pytest.mark.parametrize(
    ("inside", "wanted"),
    [
        ('<rect x="10" y="10" width="100" height="80"/>', 8000),
        ('<circle cx="60" cy="60" r="50"/>', DISC),
        ('<ellipse cx="60" cy="60" rx="50" ry="25"/>', DISC / 2),
        ('<polygon points="0,0 100,0 0,100"/>', 5000),
        ('<polyline points="0,0 100,0 0,100 0,0"/>', 5000),
        ('<path d="M10 60 A50 50 0 1 1 110 60 A50 50 0 1 1 10 60 Z"/>', DISC),
        ('<path d="m 10 10 h 100 v 80 h -100 z"/>', 8000),
        ('<path d="M0 0 Q 60 90 120 0 Z"/>', 2 / 3 * 120 * 45),
        ('<line x1="0" y1="0" x2="100" y2="0"/><path d="M0 0 L0 100 L100 0"/>', 5000),
        ('<g transform="translate(50 50) rotate(30) scale(2)"><rect width="50" height="40"/></g>', 8000),
        ('<defs><rect id="r" width="100" height="80"/></defs><use href="#r" x="5" y="5"/>', 8000),
    ],
)
def test_shapes(tmp_path: Path, inside: str, wanted: float) -> None:
    """Each shape has the area that geometry gives it."""
    (piece,) = read(svg(tmp_path / "a.svg", inside)).pieces
    assert area(piece) == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize(
    ("head", "asked", "side"),
    [
        ('width="100mm" height="100mm" viewBox="0 0 100 100"', None, 50),
        ('width="10in" height="10in" viewBox="0 0 100 100"', None, 127),
        ('width="100mm" height="100mm" viewBox="0 0 1000 1000"', None, 5),
        ('width="200mm" height="100mm" viewBox="0 0 100 100"', None, 50),
        ('width="10cm" height="10cm"', None, 50 * 25.4 / 96),
        ('viewBox="0 0 100 100"', "in", 50 * 25.4),
        ('width="100" height="100" viewBox="0 0 1000 1000"', "cm", 500),
    ],
)
def test_units_and_view_box(tmp_path: Path, head: str, asked: str | None, side: float) -> None:
    """Size and viewBox give the scale; without them a pixel is 1/96 in (CSS 2.1, 4.3.2), or numbers count as asked."""
    path = svg(tmp_path / "a.svg", '<rect width="50" height="50"/>', head)
    assert read(path, units=asked).pieces.pieces[0].length == pytest.approx(side, abs=1e-3)


@pytest.mark.parametrize("head", ["", 'width="100" height="100"', 'width="100%" height="100%" viewBox="0 0 9 9"'])
def test_size_unknown(tmp_path: Path, head: str) -> None:
    """A drawing that does not say how large it is, is refused with what to do."""
    with pytest.raises(FormatError, match=r"--units.*mm, cm, m, in, ft, yd or px"):
        read(svg(tmp_path / "a.svg", '<rect width="50" height="50"/>', head))


def test_outline_of_a_pen(tmp_path: Path) -> None:
    """A path that fontTools' pens wrote, turned by a quarter, comes back corner by corner, not mirrored."""
    pen = SVGPathPen(None)
    turned = TransformPen(pen, (0, 1, -1, 0, 200, 0))
    turned.moveTo((0, 0))
    for point in ((120, 0), (120, 40), (30, 90)):
        turned.lineTo(point)
    turned.closePath()
    (piece,) = read(svg(tmp_path / "a.svg", f'<path d="{pen.getCommands()}"/>')).pieces
    assert {(x, -y) for x, y in corners(piece)} == {(200, 0), (200, 120), (160, 120), (110, 30)}


def test_groups_name_pieces_and_marks(tmp_path: Path) -> None:
    """A piece is called by its group; marks are told by the trade's words; a cross for a notch is its middle."""
    inside = (
        '<g id="yoke"><path class="cut" d="M0 0 h200 v100 h-200 z"/><path class="grain" d="M20 50 h100"/>'
        '<path class="notch" data-name="elbow" d="M98 0 h4 M100 -2 v4"/><path class="sew" d="M10 10 h180"/></g>'
        '<g id="pocket"><rect x="300" width="60" height="60"/><circle cx="330" cy="30" r="2"/></g>'
    )
    yoke, pocket = read(svg(tmp_path / "a.svg", inside)).pieces
    assert (yoke.name, pocket.name) == ("yoke", "pocket")
    assert [(n.name, n.point) for n in yoke.notches] == [("elbow", (pytest.approx(100), pytest.approx(0, abs=1e-9)))]
    assert [line.kind for line in yoke.inner] == ["sew"]
    assert yoke.grain[0] == pytest.approx((20, -50)) and len(pocket.drill_points) == 1


UNSAFE = {
    "entities": '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><svg>&b;</svg>',
    "external entity": '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg><text>&x;</text></svg>',
    "doctype": '<!DOCTYPE svg PUBLIC "x" "http://localhost/x.dtd"><svg/>',
    "too deep": '<svg xmlns="http://www.w3.org/2000/svg">' + "<g>" * 5000,
    "too many": '<svg xmlns="http://www.w3.org/2000/svg">' + "<g/>" * 100_001 + "</svg>",
    "copies of copies": '<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in">'
    + '<g id="g0"><rect width="1" height="1"/></g>'
    + "".join(f'<g id="g{i}">' + f'<use href="#g{i - 1}"/>' * 9 + "</g>" for i in range(1, 9))
    + '<use href="#g8"/></svg>',
    "copy of itself": '<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in">'
    '<g id="a"><use href="#a"/></g></svg>',
    "cut short": '<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in"><rect wid',
    "another file": "<html><body/></html>",
    "no xml": "0\nSECTION\n",
}


@pytest.mark.parametrize("text", UNSAFE.values(), ids=UNSAFE.keys())
def test_unsafe(tmp_path: Path, text: str) -> None:
    """Entities, depth, copies of copies and damaged files are refused in one line, at once."""
    path = tmp_path / "a.svg"
    path.write_text(text, encoding="utf-8")
    began = time.process_time()
    with pytest.raises(FormatError) as refused:
        read(path)
    assert "\n" not in str(refused.value) and time.process_time() - began < 30


def test_references_out_of_the_file_are_left_out(tmp_path: Path) -> None:
    """Pictures, scripts, style sheets and copies from elsewhere are left out, and told."""
    inside = (
        '<style>@import url("http://localhost:9/x.css");</style><image href="http://localhost:9/x.png" width="9"/>'
        '<use href="http://localhost:9/x.svg#a"/><script>alert(1)</script><rect width="100" height="80"/>'
    )
    found = read(svg(tmp_path / "a.svg", inside))
    assert len(found.pieces) == 1
    assert [out.what for out in found.report.left_out] == ["<image>", "<use>", "<script>"]


@pytest.mark.parametrize("number", ["nan", "1e999", "1e300", "-1e12"])
def test_absurd_numbers(tmp_path: Path, number: str) -> None:
    """A shape with a number that no cloth has is left out; without another there is no piece."""
    bad = f'<path d="M0 0 L{number} 0 L0 {number} Z"/>'
    with pytest.raises(FormatError):
        read(svg(tmp_path / "a.svg", bad))
    found = read(svg(tmp_path / "b.svg", bad + '<rect x="200" width="100" height="80"/>'))
    assert [area(piece) for piece in found.pieces] == [pytest.approx(8000)]


def test_pixels_unless_told_otherwise(tmp_path: Path) -> None:
    """96 pixels are an inch (CSS 2.1, 4.3.2): a rectangle of 960 x 480 of them is 254 x 127 mm."""
    path = svg(tmp_path / "a.svg", '<rect width="960" height="480"/>', 'width="1000px" height="600px"')
    (piece,) = read(path, units="px").pieces
    assert area(piece) == pytest.approx(254 * 127)


@pytest.mark.parametrize(
    ("unit", "side"),
    [("pt", 100 * 25.4 / 72), ("pc", 100 * 25.4 / 6), ("q", 25.0), ("cm", 1000.0), ("in", 2540.0), ("mm", 100.0)],
)
def test_units_of_a_page(tmp_path: Path, unit: str, side: float) -> None:
    """A page of 100 by 100 of each unit, and a square as large: 72 points or 6 picas an inch, 4 q a mm (CSS 2.1)."""
    head = f'width="100{unit}" height="100{unit}" viewBox="0 0 100 100"'
    (piece,) = read(svg(tmp_path / "a.svg", '<rect width="100" height="100"/>', head)).pieces
    assert area(piece) ** 0.5 == pytest.approx(side, rel=1e-6)


def test_a_size_of_other_proportions_is_told(tmp_path: Path) -> None:
    """A width and a height that do not fit the view box leave the scale in doubt; what is meant to be stretched not."""
    box = '<rect x="10" y="10" width="100" height="80" fill="none" stroke="#000"/>'
    head = 'width="41cm" height="16cm" viewBox="0 0 802 302"'
    assert "the proportions of its view box, by 3.5%" in read(svg(tmp_path / "a.svg", box, head)).report.guesses[0]
    for fine in (head + ' preserveAspectRatio="none"', 'width="40.1cm" height="15.1cm" viewBox="0 0 802 302"'):
        assert not any("proportions" in said for said in read(svg(tmp_path / "b.svg", box, fine)).report.guesses)


def test_a_drawing_without_any_paint_is_read(tmp_path: Path) -> None:
    """Where nothing has a line or a filling, all is read and told; beside what is drawn, such a shape is hidden."""
    bare = '<path d="M10 10h100v80h-100z" fill="none"/>'
    found = read(svg(tmp_path / "a.svg", bare))
    assert area(found.pieces.pieces[0]) == pytest.approx(8000)
    assert "nothing in it has a line or a filling" in found.report.guesses[0]
    both = read(svg(tmp_path / "b.svg", bare + '<path d="M150 10h100v50h-100z"/>'))
    assert [round(area(piece)) for piece in both.pieces] == [5000]


def test_paths_without_data_and_copies_of_copies(tmp_path: Path) -> None:
    """A path that says nothing draws nothing; a copy of a copy is drawn where both put it."""
    inside = (
        '<path/><defs><rect id="a" width="100" height="80"/><use id="b" href="#a" x="20"/></defs>'
        '<use href="#b" y="30" transform="scale(2)"/>'
    )
    (piece,) = read(svg(tmp_path / "a.svg", inside)).pieces
    assert corners(piece) == {(40, -60), (240, -60), (240, -220), (40, -220)}


@pytest.mark.parametrize("name", ["Background", "line", "page"])
def test_a_layer_for_everything_says_nothing(tmp_path: Path, name: str) -> None:
    """Where all is drawn on one layer, its name makes no frame and no line of what may be pieces."""
    one = '<path d="M10 10h100v80z" fill="none" stroke="#000"/>'
    assert len(read(svg(tmp_path / "a.svg", f'<g id="{name}">{one}</g>')).pieces) == 1


def test_a_notch_is_where_its_line_meets_the_outline(tmp_path: Path) -> None:
    """A tick inwards marks its end on the outline, a V the middle of its mouth, a tick across the edge its middle."""
    ticks = ("M50 100v-8", "M80 100l3 -5l3 5", "M110 96v8")
    notches = "".join(f'<path class="notch" d="{d}" stroke="#000"/>' for d in ticks)
    (piece,) = read(
        svg(tmp_path / "a.svg", f'<path d="M10 10h200v90h-200z" fill="none" stroke="#000"/>{notches}')
    ).pieces
    assert [notch.point for notch in piece.notches] == [(50, -100), (83, -100), (110, -100)]


def test_copies_have_names_of_their_own(tmp_path: Path) -> None:
    """A copy is called by its id or title, in place of what it is a copy of; one without is called as that is."""
    shape = path(FRONT, 'id="tpl"')
    inside = (
        f'<defs>{shape}<g id="sleeve"><path d="M0 0h90v80l-90-5z"/></g></defs><use href="#tpl" id="left_front"/>'
        '<use href="#sleeve" x="250" id="use7"/><use href="#sleeve" x="250" y="100"><title>Cuff</title></use>'
    )
    assert [piece.name for piece in read(svg(tmp_path / "a.svg", inside)).pieces] == ["left front", "sleeve", "Cuff"]


@pytest.mark.parametrize("classes", ["grain", "st0 grain", "grain st0 thin"])
def test_one_class_of_several_is_a_role(tmp_path: Path, classes: str) -> None:
    """A line may have further classes, for its looks."""
    line = f'<path class="{classes}" d="M60,60 V150" fill="none" stroke="black"/>'
    (entry,) = read(svg(tmp_path / "a.svg", path(FRONT) + line)).report.account.entries[1:]
    assert entry.place == "grain"
