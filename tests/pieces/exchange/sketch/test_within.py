"""Outlines in one another: frames, sizes, pieces on pieces, letters, pairs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
import shapely
import shapely.affinity

from pieces.errors import FormatError
from pieces.exchange.read.reader import import_pieces
from tests.make.drawings import FRONT, area, dxf, path, read, svg

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

    from pieces.exchange.imported import Imported


HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">'


def counts(found: Imported) -> dict[str, int]:
    """How many things ended where."""
    return found.report.account.places()


def grown(points: Sequence[tuple[float, float]], share: float) -> list[tuple[float, float]]:
    """Points the same way from the first corner, by a share farther off."""
    x0, y0 = points[0]
    return [(x0 + (x - x0) * share, y0 + (y - y0) * share) for x, y in points]


@pytest.mark.parametrize("where", ["page", "name", "label", "guess"])
def test_frames_in_svg(tmp_path: Path, where: str) -> None:
    """A background as large as the page, and outlines called so or drawn round others, swallow no piece."""
    frame = {
        "page": '<rect width="400" height="300" fill="white"/>',
        "name": '<rect id="frame" x="2" y="2" width="380" height="290"/>',
        "label": '<rect data-name="Rahmen" x="2" y="2" width="380" height="290"/>',
        "guess": '<rect x="5" y="5" width="385" height="285" fill="none" stroke="#000"/>',
    }[where]
    other = '<circle cx="310" cy="100" r="50"/>'
    found = read(svg(tmp_path / "a.svg", frame + path(FRONT) + other))
    assert sorted(area(piece) for piece in found.pieces) == pytest.approx([7854, 36_000], rel=1e-3)
    assert counts(found) == {"piece": 2, "frame": 1}
    assert any("frame or background" in line for line in found.report.lines())
    if where == "guess":
        with pytest.raises(FormatError, match="frame"):
            read(tmp_path / "a.svg", strict=True, grain=0)
    else:
        assert len(read(tmp_path / "a.svg", strict=True, grain=0).pieces) == 2


def test_frame_and_title_block_in_dxf(tmp_path: Path) -> None:
    """A drawing frame with a title block, both rectangles, round two pieces with words: the pieces alone are cut."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (841, 0), (841, 594), (0, 594)], close=True)
        space.add_lwpolyline([(641, 0), (841, 0), (841, 60), (641, 60)], close=True)
        space.add_text("coat, scale 1:1", dxfattribs={"insert": (650, 20)})
        space.add_lwpolyline([(x + 100, y + 100) for x, y in FRONT], close=True)
        space.add_text("front", dxfattribs={"insert": (150, 150)})
        space.add_lwpolyline([(500, 200), (600, 200), (600, 300), (500, 300)], close=True)
        space.add_text("pocket, cut 2", dxfattribs={"insert": (510, 250)})

    found = read(dxf(tmp_path / "a.dxf", draw))
    assert {piece.name: piece.cut for piece in found.pieces} == {"front": 1, "pocket": 2}
    assert counts(found) == {"piece": 2, "frame": 2, "words read": 2, "left out": 1}


@pytest.mark.parametrize("how", ["label", "layer", "words", "title"])
def test_pocket_drawn_on_the_front(tmp_path: Path, how: str) -> None:
    """An outline within another that has a name, a layer or words of its own is a piece, and both are whole."""
    bare, front = '<rect x="50" y="60" width="60" height="70"/>', path(FRONT, 'data-name="front"')
    pocket = {
        "label": '<g id="jacket">' + front + bare.replace("<rect", '<rect id="pocket"') + "</g>",
        "layer": f'<g id="front">{path(FRONT)}</g><g id="pocket">{bare}</g>',
        "words": path(FRONT) + bare + '<text x="120" y="40">front</text>'
        '<text x="55" y="100" font-size="8">pocket</text>',
        "title": path(FRONT, 'id="front"') + '<rect x="50" y="60" width="60" height="70"><title>pocket</title></rect>',
    }[how]  # fmt: skip
    found = read(svg(tmp_path / "a.svg", pocket))
    assert {piece.name: round(area(piece)) for piece in found.pieces} == {"front": 36_000, "pocket": 4200}
    assert not found.pieces["front"].inner
    assert any("separate piece" in line for line in found.report.lines())


def test_outline_without_a_name_within(tmp_path: Path) -> None:
    """An outline within a piece that says nothing is a line on it: said as a guess, and refused by a strict reading."""
    found = read(svg(tmp_path / "a.svg", path(FRONT) + '<rect x="50" y="60" width="60" height="70"/>'))
    assert counts(found) == {"piece": 1, "inner line": 1}
    assert any("taken as inner line" in guess for guess in found.report.guesses)
    with pytest.raises(FormatError, match=r"--strict.*inner line"):
        read(tmp_path / "a.svg", strict=True, grain=0)


def test_seam_line_within_the_cut_line(tmp_path: Path) -> None:
    """A line 10 mm within the outline all round (drawn by shapely's buffer) is a sew line, not a size; said."""
    inner = list(shapely.Polygon(FRONT).buffer(-10, join_style="mitre").exterior.coords)[:-1]
    found = read(svg(tmp_path / "a.svg", path(FRONT) + path(inner)))
    assert [line.kind for line in found.pieces.pieces[0].inner] == ["sew"]
    assert "sew line" in found.report.guesses[0]


def test_hole_of_a_filled_path(tmp_path: Path) -> None:
    """A filled path of two outlines in one another has a hole: a cutout."""
    both = path(FRONT).replace('Z"', 'Z M 50 60 h 60 v 70 h -60 Z" fill="#ccc" fill-rule="evenodd"')
    found = read(svg(tmp_path / "a.svg", both))
    assert [line.kind for line in found.pieces.pieces[0].inner] == ["cutout"] and not found.report.guesses[1:]


@pytest.mark.parametrize("names", [("", "", ""), ("S", "M", "L"), ("36", "38", "40")])
@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_sizes_over_one_another(tmp_path: Path, names: tuple[str, ...], kind: str) -> None:
    """Three sizes in one another are offered as sizes; the one that is asked for has its own area, and no lines."""
    sizes = [grown(FRONT, share) for share in (0.9, 1.0, 1.1)]
    if kind == "svg":
        inside = "".join(
            path(points, f'id="{name}"' if name else "") for name, points in zip(names, sizes, strict=True)
        )
        made = svg(tmp_path / "a.svg", inside + '<text x="100" y="60">front, cut 2</text>')
    else:

        def draw(_: Drawing, space: Modelspace) -> None:
            for name, points in zip(names, sizes, strict=True):
                space.add_lwpolyline(points, close=True, dxfattribs={"layer": name or "0"})
            space.add_text("front, cut 2", dxfattribs={"insert": (100, 60)})

        made = dxf(tmp_path / "a.dxf", draw)
    known = names if names[0] else ("1", "2", "3")
    with pytest.raises(FormatError, match=rf"{', '.join(known)}.*--size"):
        read(made)
    for name, share in zip(known, (0.9, 1.0, 1.1), strict=True):
        (piece,) = read(made, size=name).pieces
        assert area(piece) == pytest.approx(36_000 * share**2) and (piece.name, piece.cut) == ("front", 2)
        assert counts(read(made, size=name)) == {"piece": 1, "another size": 2, "words read": 1}
    with pytest.raises(FormatError, match="no single size 'XXL'"):
        read(made, size="XXL")
    assert len(read(svg(tmp_path / "b.svg", path(FRONT)), size=None).pieces) == 1
    with pytest.raises(FormatError, match="no size 'M'"):
        read(tmp_path / "b.svg", size="M")


def test_sizes_that_cross(tmp_path: Path) -> None:
    """Sizes that are longer and narrower than others cross them; by their layers they are sizes all the same."""
    inside = '<g id="M"><rect x="10" y="10" width="100" height="200"/></g>'
    inside += '<g id="L"><rect x="5" y="20" width="112" height="185"/></g>'
    made = svg(tmp_path / "a.svg", inside)
    with pytest.raises(FormatError, match=r"M, L|L, M"):
        read(made)
    assert area(read(made, size="M").pieces.pieces[0]) == pytest.approx(20_000)


def test_pieces_that_overlap(tmp_path: Path) -> None:
    """Two outlines that overlap and are no sizes are two pieces; that is said."""
    found = read(svg(tmp_path / "a.svg", path(FRONT) + '<circle cx="220" cy="100" r="50"/>'))
    assert len(found.pieces) == 2 and any("overlap in the file" in guess for guess in found.report.guesses)


def test_rules_that_are_not_followed(tmp_path: Path) -> None:
    """A style sheet that could hide things by rules that are not followed here is said, and refused by --strict."""
    made = svg(tmp_path / "a.svg", "<style>g .x {display:none}</style>" + path(FRONT))
    assert "style sheet" in read(made).report.guesses[0]
    with pytest.raises(FormatError, match="style sheet"):
        read(made, strict=True, grain=0)
    followed = svg(
        tmp_path / "b.svg", "<style>* {stroke-linejoin: round} rect.x, #y {display:none}</style>" + path(FRONT)
    )
    assert read(followed, strict=True, grain=0).pieces.pieces[0].name == "piece 1"


def test_a_rectangle_as_large_as_the_page(tmp_path: Path) -> None:
    """With a name of its own it is a piece; with a line and no name it is a frame by guess only."""
    named = '<rect id="towel" width="400" height="300" fill="none" stroke="#000"/>'
    named += '<rect x="50" y="50" width="80" height="60"/>'
    assert [piece.name for piece in read(svg(tmp_path / "a.svg", named)).pieces] == ["towel"]
    with pytest.raises(FormatError, match="as large as the page"):
        read(svg(tmp_path / "b.svg", named.replace('id="towel"', "")), strict=True, grain=0)


def test_letters_drawn_as_outlines(tmp_path: Path) -> None:
    """Letters that were made outlines (fontTools' glyphs of DejaVu Sans) are neither drill points nor pieces; told."""
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.ttLib import TTFont
    from matplotlib import get_data_path

    glyphs = TTFont(f"{get_data_path()}/fonts/ttf/DejaVuSans.ttf").getGlyphSet()
    letters = ""
    for number, letter in enumerate("cut"):
        pen = SVGPathPen(glyphs)
        glyphs[letter].draw(pen)
        for y in (100, 280):
            letters += (
                f'<path transform="translate({60 + 6 * number} {y}) scale(0.004 -0.004)" d="{pen.getCommands()}"/>'
            )
    found = read(svg(tmp_path / "a.svg", path(FRONT) + letters))
    assert counts(found) == {"piece": 1, "left out": 6} and not found.pieces.pieces[0].drill_points
    assert any("letter" in line for line in found.report.lines())


def test_square_to_check_a_print_by(tmp_path: Path) -> None:
    """A square called so is no piece: it is left out, by its name."""
    inside = (
        path(FRONT)
        + '<rect x="300" y="20" width="50" height="50"/><text x="302" y="40" font-size="5">test square 5 cm</text>'
    )
    found = read(svg(tmp_path / "a.svg", inside))
    assert len(found.pieces) == 1 and any("scale of a print" in line for line in found.report.lines())


@pytest.mark.parametrize("turn", [0, 17, 90])
def test_two_alike_or_a_pair(tmp_path: Path, turn: float) -> None:
    """Cut 2 of an outline that is not its own mirror image (by shapely) may mean left and right: that is asked."""
    lopsided = [(120.0, 120.0), (220.0, 120.0), (220.0, 170.0), (120.0, 200.0)]
    for points, asks in ((FRONT, False), (lopsided, True)):
        ring = shapely.affinity.rotate(shapely.Polygon(points), turn).exterior.coords[:-1]
        found = read(svg(tmp_path / "a.svg", path(ring) + '<text x="150" y="145">cut 2</text>'))
        assert any("not symmetric" in guess for guess in found.report.guesses) == asks


def test_one_circle_in_another_may_be_a_hole(tmp_path: Path) -> None:
    """It is guessed to be a sew line; that it may be a hole is said, and asked."""
    line = 'fill="none" stroke="#000"'
    circles = "".join(f'<circle cx="150" cy="150" r="{radius}" {line}/>' for radius in (120, 105))
    (tmp_path / "a.svg").write_text(f"{HEAD}{circles}</svg>")
    found = import_pieces(tmp_path / "a.svg")
    entry = found.report.account.entries[1]
    assert (entry.place, entry.sure) == ("sew line", "guessed")
    assert "may be a hole" in entry.reason
    assert [number for number, _ in found.report.alarms] == [2]
    assert any("may be a hole" in said for said in found.report.guesses)


def test_what_is_as_small_as_a_mark_is_named(tmp_path: Path) -> None:
    """Beside a large piece it is left out, and told by its name."""
    parts = '<path id="Yoke" d="M0 0H300V200H0Z"/><path id="Loop" d="M350 10h8v8h-8z"/>'
    (tmp_path / "a.svg").write_text(f'{HEAD}<g fill="none" stroke="#000">{parts}</g></svg>')
    found = import_pieces(tmp_path / "a.svg")
    assert any(out.what == "'Loop', an outline of 8 × 8 mm" for out in found.report.left_out)
