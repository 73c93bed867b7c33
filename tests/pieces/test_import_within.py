"""Outlines in one another, and words: frames, sizes, pieces on pieces, counts, folds, materials."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
import shapely
import shapely.affinity

from pieces.errors import FormatError
from pieces.exchange.words import is_size, read_words
from tests.pieces.drawings import SQUARE, area, dxf, read, svg

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces.exchange.imported import Imported

FRONT = [(20.0, 20.0), (220.0, 20.0), (220.0, 180.0), (120.0, 220.0), (20.0, 180.0)]
"""Of 36,000 mm² by the shoelace formula, worked out by hand: 200 × 160 and a triangle of 200 × 40 over it."""


def path(points: Sequence[tuple[float, float]], more: str = "") -> str:
    """A closed path of SVG."""
    return f'<path d="M {" L ".join(f"{x} {y}" for x, y in points)} Z" {more}/>'


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

    def draw(_: Any, space: Any) -> None:
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
    assert any("piece of its own" in line for line in found.report.lines())


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

        def draw(_: Any, space: Any) -> None:
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
    with pytest.raises(FormatError, match="no size 'XXL'"):
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
    assert len(found.pieces) == 2 and any("over one another" in guess for guess in found.report.guesses)


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
    assert len(found.pieces) == 1 and any("check a print" in line for line in found.report.lines())


SAID = {
    "cut 2": (2, False, False, None),
    "Cut 2 (1 pair)": (2, True, False, None),
    "cut 1 pair lining": (2, True, False, "lining"),
    "cut 1 on fold": (1, False, True, None),
    "CUT 4 INTERFACING": (4, False, False, "interfacing"),
    "x2": (2, False, False, None),
    "2x zuschneiden": (2, False, False, None),
    "1x im Stoffbruch": (1, False, True, None),
    "2x gegengleich": (2, True, False, None),
    "2 x Futter": (2, False, False, "lining"),
    "2 Paar": (4, True, False, None),
    "1x Einlage": (1, False, False, "interfacing"),
    "couper 2 fois": (2, False, False, None),
    "couper 1 au pli": (1, False, True, None),
    "couper 1 paire": (2, True, False, None),
    "doublure": (None, False, False, "lining"),
    "2x entoilage": (2, False, False, "interfacing"),
    "place on fold": (None, False, True, None),
    "cut two": (2, False, False, None),
}


@pytest.mark.parametrize(("text", "wanted"), SAID.items())
def test_words(text: str, wanted: tuple[Any, ...]) -> None:
    """How many, in pairs, on the fold, of what: in English, German and French. Common practice, no source."""
    said = read_words(text)
    cut = said.cuts[0] if said.cuts else (None, False, None)
    assert (cut[0], cut[1], said.fold, cut[2]) == wanted and not said.rest


@pytest.mark.parametrize("text", ["10 x 12 cm", "front", "scale 1:1", "Rückenteil", "1/2 in", "size 38", "section A"])
def test_words_that_say_nothing(text: str) -> None:
    """Measures, names and scales are no counts."""
    assert not read_words(text).says_how and read_words(text).rest == [text]


def test_words_of_several_materials() -> None:
    """A piece that is cut of several materials has a count for each."""
    assert read_words("cut 2 fabric, 1 interfacing").cuts == [(2, False, "shell"), (1, False, "interfacing")]
    assert read_words("2x Stoff, 2x Futter").cuts == [(2, False, "shell"), (2, False, "lining")]
    assert is_size("XL") and is_size("size 38") and not is_size("collar")


def test_words_beside_and_inside(tmp_path: Path) -> None:
    """Words in a piece and beside it give its name, count, fold and material; all that was read is listed."""

    def draw(_: Any, space: Any) -> None:
        space.add_lwpolyline([(0, 0), (300, 0), (300, 100), (0, 120)], close=True)
        space.add_text("back", dxfattribs={"insert": (50, 50)})
        space.add_text("cut 1 on fold", dxfattribs={"insert": (50, 30)})
        space.add_lwpolyline([(600, 0), (700, 0), (700, 100), (600, 100)], close=True)
        space.add_mtext("collar\\Pcut 2, lining", dxfattribs={"insert": (620, 50)})

    found = read(dxf(tmp_path / "a.dxf", draw))
    back, collar = found.pieces
    assert (back.name, back.cut, back.on_fold) == ("back", 1, True)
    assert shapely.Polygon(back.unfolded).area == pytest.approx(2 * 33_000)
    assert (collar.name, collar.cut, collar.material) == ("collar", 2, "lining")
    assert ("back", "cut 1 on fold", "cut 1, on fold") in found.report.words
    assert any(line.startswith("words: 'cut 1 on fold'") for line in found.report.lines())
    assert any("straight edge" in guess for guess in found.report.guesses)


def test_fold_at_its_words(tmp_path: Path) -> None:
    """Of two straight edges, the one that the words "on fold" stand at lies on the fold, and the grain along it."""
    inside = '<rect x="20" y="20" width="100" height="200"/><text x="100" y="120" font-size="6">on fold</text>'
    (piece,) = read(svg(tmp_path / "a.svg", inside)).pieces
    assert piece.on_fold and piece.length == pytest.approx(200) and piece.width == pytest.approx(200)


@pytest.mark.parametrize("kind", ["label", "layer", "block"])
def test_names_of_objects(tmp_path: Path, kind: str) -> None:
    """What a label, a layer or a block is called says name, count, pair and material of the piece."""
    name = "sleeve cut 1 pair lining"
    if kind == "block":

        def draw(document: Any, space: Any) -> None:
            document.blocks.new("SLEEVE_CUT_1_PAIR_LINING").add_lwpolyline(FRONT, close=True)
            space.add_blockref("SLEEVE_CUT_1_PAIR_LINING", (0, 0))

        made = dxf(tmp_path / "a.dxf", draw)
    else:
        space = 'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
        label = f'{space} inkscape:label="{name}"'
        inside = (
            path(FRONT, label)
            if kind == "label"
            else f'<g inkscape:groupmode="layer" id="layer1" {label}>{path(FRONT)}</g>'
        )
        made = svg(tmp_path / "a.svg", inside)
    (piece,) = read(made).pieces
    assert (piece.name.lower(), piece.cut, piece.mirrored_pair, piece.material) == ("sleeve", 2, True, "lining")


def test_cut_of_two_materials(tmp_path: Path) -> None:
    """A piece that its words cut of shell and of lining is there twice, each with its count; one outline was read."""
    found = read(svg(tmp_path / "a.svg", path(FRONT) + '<text x="60" y="90">front cut 2 shell, cut 1 lining</text>'))
    assert [(p.name, p.cut, p.material) for p in found.pieces] == [
        ("front", 2, "shell"),
        ("front (lining)", 1, "lining"),
    ]
    assert counts(found) == {"piece": 1, "words read": 1}


def test_words_that_contradict(tmp_path: Path) -> None:
    """Two counts for one piece are said, and refused by a strict reading."""
    inside = path(FRONT, 'id="front cut 4"') + '<text x="60" y="90">cut 2</text>'
    found = read(svg(tmp_path / "a.svg", inside))
    assert found.pieces.pieces[0].cut == 2 and any("both cut 2 and cut 4" in guess for guess in found.report.guesses)


@pytest.mark.parametrize("name", ["path12", "rect4-7", "Layer 1", "g10", "id3", "Ebene 2", "line7"])
def test_automatic_names(tmp_path: Path, name: str) -> None:
    """Names that a program gave say nothing: neither a name, nor a part, nor a piece of its own."""
    found = read(
        svg(
            tmp_path / "a.svg",
            path(FRONT, f'id="{name}"') + f'<rect id="{name}b" x="50" y="60" width="60" height="70"/>',
        )
    )
    assert [piece.name for piece in found.pieces] == ["piece 1"]


@pytest.mark.parametrize(
    ("side", "unit", "asks"),
    [(15, "mm", True), (3100, "mm", True), (25, "mm", False), (200, "in", True), (8, "ft", False)],
)
def test_is_the_unit_right(tmp_path: Path, side: float, unit: str, asks: bool) -> None:
    """A piece under 2 cm or over 3 m asks whether the unit is right, by name."""
    (tmp_path / "a.csv").write_text(f"piece,x,y\na,0,0\na,{side},0\na,{side},{side}\n", encoding="utf-8")
    found = read(tmp_path / "a.csv", units=unit)
    assert any("'a' measures" in remark and "unit right" in remark for remark in found.report.remarks) == asks


@pytest.mark.parametrize(
    ("unit", "per_inch", "side"),
    [("px", 96, 254 / 96 * 10), ("px", 72, 254 / 72 * 10), ("m", 96, 100_000), ("ft", 96, 30_480)],
)
def test_more_units(tmp_path: Path, unit: str, per_inch: float, side: float) -> None:
    """Pixels at 96 to the inch (CSS 2.1, 4.3.2) or as asked, metres, and feet of 304.8 mm (1959)."""
    made = svg(tmp_path / "a.svg", '<rect width="100" height="50"/>', 'width="400" height="300"')
    assert read(made, units=unit, per_inch=per_inch).pieces.pieces[0].length == pytest.approx(side, rel=1e-6)
    half = svg(
        tmp_path / "b.svg", '<rect width="100" height="50"/>', 'width="400px" height="300px" viewBox="0 0 800 600"'
    )
    if unit == "px":
        assert read(half, units=unit, per_inch=per_inch).pieces.pieces[0].length == pytest.approx(side / 2, rel=1e-6)


def test_advice_for_pixels(tmp_path: Path) -> None:
    """A drawing in pixels is told of --units px first, not to take its numbers for millimetres."""
    with pytest.raises(FormatError, match="say --units px"):
        read(svg(tmp_path / "a.svg", path(SQUARE), 'width="800px" height="600px"'))


HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'
HEAD += '<rect width="80" height="90"/></svg>'

DOCTYPES = {
    "public": '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">',
    "bare": "<!DOCTYPE svg>",
    "empty": "<!DOCTYPE svg []>",
    "attributes": '<!DOCTYPE svg [<!ATTLIST svg version CDATA "1.1">]>',
}


@pytest.mark.parametrize("doctype", DOCTYPES.values(), ids=DOCTYPES.keys())
def test_harmless_doctype(tmp_path: Path, doctype: str) -> None:
    """A DOCTYPE that defines no entity is harmless, for nothing is fetched: the file is read."""
    (tmp_path / "a.svg").write_text('<?xml version="1.0"?>\n' + doctype + HEAD, encoding="utf-8")
    assert area(read(tmp_path / "a.svg").pieces.pieces[0]) == pytest.approx(7200)


@pytest.mark.parametrize(
    "entity",
    ['<!ENTITY a "b">', '<!ENTITY x SYSTEM "file:///etc/hostname">', '<!ENTITY % p SYSTEM "http://localhost/x">'],
)
def test_entities_are_refused(tmp_path: Path, entity: str) -> None:
    """Definitions of entities are refused, in the file or outside, used or not."""
    (tmp_path / "a.svg").write_text(f"<!DOCTYPE svg [{entity}]>" + HEAD, encoding="utf-8")
    with pytest.raises(FormatError, match="defines an entity"):
        read(tmp_path / "a.svg")


@pytest.mark.parametrize("turn", [0, 17, 90])
def test_two_alike_or_a_pair(tmp_path: Path, turn: float) -> None:
    """Cut 2 of an outline that is not its own mirror image (by shapely) may mean left and right: that is asked."""
    lopsided = [(120.0, 120.0), (220.0, 120.0), (220.0, 170.0), (120.0, 200.0)]
    for points, asks in ((FRONT, False), (lopsided, True)):
        ring = shapely.affinity.rotate(shapely.Polygon(points), turn).exterior.coords[:-1]
        found = read(svg(tmp_path / "a.svg", path(ring) + '<text x="150" y="145">cut 2</text>'))
        assert any("not symmetric" in guess for guess in found.report.guesses) == asks


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1"])
def test_encodings_that_are_declared(tmp_path: Path, encoding: str) -> None:
    """XML in the encoding that it names is read: an umlaut in a label stays one (XML 1.0, 4.3.3)."""
    text = f'<?xml version="1.0" encoding="{encoding}"?>' + HEAD.replace("<rect ", '<rect id="Ärmel" ')
    (tmp_path / "a.svg").write_bytes(text.encode(encoding))
    assert [piece.name for piece in read(tmp_path / "a.svg").pieces] == ["Ärmel"]
