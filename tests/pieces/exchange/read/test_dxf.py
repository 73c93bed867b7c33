"""Pieces out of DXF that ezdxf wrote: the conventions of ASTM D6673, and plain outlines."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pieces.errors import FormatError
from pieces.exchange.sketch.sketch import STRAIGHT
from pieces.exchange.standard import LAYERS, UNITS, label_of, material_of, quantity_of, role_of
from tests.make.drawings import SQUARE, area, corners, dxf, read

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

HALF = [(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 5.0)]


def standard(document: Drawing, space: Modelspace) -> None:
    """A style of two pieces in inches: a front on the fold with all its marks, and a pair of pockets in two sizes."""
    space.add_text("STYLE NAME: coat")
    space.add_text("UNITS: ENGLISH")
    space.add_text("SAMPLE SIZE: M")
    front = document.blocks.new("FRONT-M")
    front.add_polyline2d(HALF, close=True, dxfattribs={"layer": "1"})
    words = ("PIECE NAME: front", "SIZE: M", "QUANTITY: 1", "MATERIAL: main fabric", "ANNOTATION: mind the nap")
    for text in words:
        front.add_text(text, dxfattribs={"layer": "1"})
    front.add_line((0, 0), (10, 0), {"layer": "6"})
    front.add_line((2, 1), (8, 1), {"layer": "7"})
    front.add_line((1, 1), (2, 2), {"layer": "8"})
    front.add_point((10, 2), {"layer": "4"})
    front.add_text("elbow", dxfattribs={"layer": "4", "insert": (10, 2)})
    front.add_circle((5, 2), 0.2, {"layer": "13"})
    front.add_lwpolyline([(1, 1), (9, 1), (9, 3)], dxfattribs={"layer": "14"})
    front.add_point((10, 0), {"layer": "2"})
    for size, side in (("M", 6.0), ("L", 6.5)):
        pocket = document.blocks.new(f"POCKET-{size}")
        pocket.add_lwpolyline([(0, 0), (side, 0), (side, side), (0, side)], close=True, dxfattribs={"layer": "1"})
        for text in ("PIECE NAME: pocket", f"SIZE: {size}", "QUANTITY: 1,1", "MATERIAL: lining"):
            pocket.add_text(text, dxfattribs={"layer": "1"})
        space.add_blockref(f"POCKET-{size}", (0, 0))
    space.add_blockref("FRONT-M", (0, 0))


def test_standard_piece_with_all_its_marks(tmp_path: Path) -> None:
    """A block of the standard comes in whole: inches, fold, grain, notch, drill hole, lines within, words, count."""
    found = read(dxf(tmp_path / "coat.dxf", standard, units=None))
    front = found.pieces["front"]
    assert (front.cut, front.material, front.label, front.on_fold) == (1, "shell", "mind the nap", True)
    assert area(front) == pytest.approx(45 * 25.4**2)
    assert front.width == pytest.approx(2 * 5 * 25.4) and front.length == pytest.approx(10 * 25.4)
    assert front.grain == (pytest.approx((50.8, 25.4)), pytest.approx((203.2, 25.4)))
    assert [(n.name, n.point) for n in front.notches] == [("elbow", pytest.approx((254, 50.8)))]
    assert front.drill_points == (pytest.approx((127, 50.8)),)
    assert sorted(line.kind for line in front.inner) == ["line", "sew"]
    assert "ENGLISH" in found.report.units and not found.report.repairs


def test_a_file_without_a_header_gives_no_unit(tmp_path: Path) -> None:
    """Old files may have no HEADER at all: what the library puts in its place is not taken for the file's word."""
    tags = ["0 SECTION", "2 ENTITIES"]
    for (x, y), (u, v) in pairwise([*SQUARE, SQUARE[0]]):
        tags += ["0 LINE", "8 0", f"10 {x}", f"20 {y}", f"11 {u}", f"21 {v}"]
    path = tmp_path / "bag.dxf"
    path.write_text("\n".join("\n".join(tag.split()) for tag in [*tags, "0 ENDSEC", "0 EOF"]) + "\n")
    with pytest.raises(FormatError, match=r"it does not give the unit it is drawn in: give --units"):
        read(path)
    (piece,) = read(path, units="in").pieces
    assert piece.length == pytest.approx(25.4 * max(x for x, _ in SQUARE))


@pytest.mark.parametrize("version", ["R12", "R2000"])
def test_old_polylines(tmp_path: Path, version: str) -> None:
    """Polylines with an entity for each point keep layer, bulges and side; one that is smoothed is read as well."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("A")
        bulged = [(0, 0, 1.0), (200, 0, 0.0), (200, 50, 0.0), (0, 50, 0.0)]
        block.add_polyline2d(bulged, format="xyb", close=True, dxfattribs={"layer": "1", "extrusion": (0, 0, -1)})
        block.add_polyline2d([(-20, 0), (-180, 0)], dxfattribs={"layer": "7"})
        smooth = block.add_polyline2d([(-20, 10), (-50, 40), (-90, 10)], dxfattribs={"layer": "8", "flags": 4})
        smooth.vertices[1].dxf.flags = 8
        block.add_text("PIECE NAME: a", dxfattribs={"layer": "1"})

    (piece,) = read(dxf(tmp_path / "a.dxf", draw, version=version), units="mm").pieces
    assert area(piece) == pytest.approx(200 * 50 + math.pi * 100**2 / 2, rel=1e-3)
    assert piece.length == pytest.approx(200, abs=0.1) and len(piece.inner) == 1


def test_standard_size_and_pair(tmp_path: Path) -> None:
    """Of several sizes the sample size is read, or the one asked for; a left and a right are a mirrored pair."""
    path = dxf(tmp_path / "coat.dxf", standard, units=None)
    pocket = read(path).pieces["pocket"]
    assert (pocket.cut, pocket.mirrored_pair, pocket.material) == (2, True, "lining")
    assert pocket.length == pytest.approx(6 * 25.4)
    assert [out.what for out in read(path).report.left_out] == ["'pocket' in size L"]
    assert read(path, size="L").pieces["pocket"].length == pytest.approx(6.5 * 25.4)
    with pytest.raises(FormatError, match=r"no size 'S'.*M, L"):
        read(path, size="S")


def test_layer_table() -> None:
    """The layers are those of the standard, from memory: no copy of its table could be read."""
    wanted = {"1": "outline", "4": "notch", "6": "fold", "7": "grain", "8": "line", "11": "cutout", "13": "drill"}
    assert {layer: LAYERS[layer] for layer in wanted} == wanted and LAYERS["14"] == "sew"
    assert UNITS == {"ENGLISH": "in", "METRIC": "mm"}


@pytest.mark.parametrize(
    ("units", "record", "asked", "side"),
    [(4, "", None, 100.0), (1, "", None, 2540.0), (5, "", None, 1000.0),
     (2, "", None, 30480.0), (6, "", None, 100_000.0), (10, "", None, 91_440.0), (None, "METRIC", None, 100.0),
     (None, "ENGLISH", None, 2540.0), (1, "ENGLISH", None, 2540.0), (4, "", "in", 2540.0), (None, "", "cm", 1000.0)],
)  # fmt: skip
def test_units(tmp_path: Path, units: int | None, record: str, asked: Any, side: float) -> None:
    """Inches, centimetres or millimetres by header, by record, or as asked, which goes before: 1 in is 25.4 mm."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        if record:
            space.add_text(f"UNITS: {record}", dxfattribs={"insert": (500, 500)})

    assert read(dxf(tmp_path / "a.dxf", draw, units), units=asked).pieces.pieces[0].length == pytest.approx(side)


@pytest.mark.parametrize(
    ("units", "record", "said"),
    [(None, "", "does not give"), (4, "ENGLISH", "by its header"), (18, "", "astronomical")],
)
def test_units_in_doubt(tmp_path: Path, units: int | None, record: str, said: str) -> None:
    """A file that does not say its unit, contradicts itself, or says an absurd one is refused, with what to do."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        space.add_text(f"UNITS: {record}" if record else "front")

    with pytest.raises(FormatError, match=rf"{said}.*--units"):
        read(dxf(tmp_path / "a.dxf", draw, units))


def test_loose_lines_joined(tmp_path: Path) -> None:
    """Lines in any order and direction, one drawn twice, with a gap of 0.3 mm: one square, and what was mended."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_line((0, 100.3), (0, 0))
        space.add_line((100, 0), (0, 0))
        space.add_line((100, 100), (100, 0))
        space.add_line((100, 100), (0, 100))
        space.add_line((0, 0), (100, 0))

    path = dxf(tmp_path / "a.dxf", draw)
    found = read(path)
    assert area(found.pieces.pieces[0]) == pytest.approx(10_000, rel=0.01)
    assert max(repair.mm for repair in found.report.repairs) == pytest.approx(0.3)
    assert any("twice" in repair.what for repair in found.report.repairs)
    with pytest.raises(FormatError, match=r"--strict.*more"):
        read(path, strict=True)
    with pytest.raises(FormatError, match=r"ends are"):
        read(path, join=0.1)


def test_curves(tmp_path: Path) -> None:
    """Arc, circle, ellipse, bulge and spline have the areas that geometry gives them, within the tolerance."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_arc((0, 0), 100, 0, 180)
        space.add_line((-100, 0), (100, 0))
        space.add_circle((500, 0), 100)
        space.add_ellipse((1000, 0), (100, 0), 0.5)
        space.add_lwpolyline([(1500, 0, 1.0), (1700, 0, 1.0)], format="xyb", close=True)
        space.add_polyline2d([(2000, 0, -1.0), (2200, 0, 0.0)], format="xyb", close=True)
        space.add_spline([(2500, 0), (2600, 100), (2700, 0)])
        space.add_line((2500, 0), (2700, 0))

    areas = [area(piece) for piece in read(dxf(tmp_path / "a.dxf", draw)).pieces]
    disc = math.pi * 100**2
    assert len(areas) == 6
    for exact in (disc / 2, disc / 2, disc / 2, disc, disc):
        near = min(areas, key=lambda found: abs(found - exact))
        assert near == pytest.approx(exact, rel=2e-3)
        areas.remove(near)
    assert 0.6 * 200 * 100 < areas[0] < 0.7 * 200 * 100  # a parabola through them has two thirds


def test_seen_from_behind(tmp_path: Path) -> None:
    """What is drawn from behind counts x the other way: an arc of 90 degrees closes the other quarter."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_arc((0, 0), 100, 0, 90, dxfattribs={"extrusion": (0, 0, -1)})
        space.add_lwpolyline([(0, 100), (0, 0), (100, 0)], dxfattribs={"extrusion": (0, 0, -1)})

    (piece,) = read(dxf(tmp_path / "a.dxf", draw)).pieces
    assert area(piece) == pytest.approx(math.pi * 100**2 / 4, rel=1e-3)
    assert (-100, 0) in corners(piece)


def test_plain_drawing_with_marks(tmp_path: Path) -> None:
    """In a plain drawing, words name the piece, small circles and points are drill points, a layer may be the grain."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(x * 3, y * 3) for x, y in SQUARE], close=True)
        space.add_text("yoke", dxfattribs={"insert": (50, 50)})
        space.add_line((50, 20), (50, 280), {"layer": "Grain line"})
        space.add_circle((200, 200), 3)
        space.add_point((150, 150))
        space.add_circle((100, 200), 40)
        space.add_line((10, 10), (60, 60))
        space.add_line((900, 900), (950, 950))

    found = read(dxf(tmp_path / "a.dxf", draw))
    (piece,) = found.pieces
    assert piece.name == "yoke" and len(piece.drill_points) == 2
    assert piece.grain[0][1] == piece.grain[1][1]
    assert [line.kind for line in piece.inner] == ["line", "line"]
    assert [out.what for out in found.report.left_out] == ["an open line"]


def test_records_in_a_plain_drawing(tmp_path: Path) -> None:
    """Where no block is a piece, records are words on the pieces like others, and none is lost."""

    def draw(document: Drawing, space: Modelspace) -> None:
        for x, words in (
            (0, ("Piece Name: yoke", "Quantity: 2", "Material: lining")),
            (200, ("cuff", "QUANTITY: 1,1")),
        ):
            space.add_lwpolyline([(x + u, v) for u, v in SQUARE], close=True)
            for at, said in enumerate(words):
                space.add_text(said, dxfattribs={"insert": (x + 10, 80 - 20 * at)})

    yoke, cuff = read(dxf(tmp_path / "a.dxf", draw)).pieces
    assert (yoke.name, yoke.cut, yoke.mirrored_pair, yoke.material) == ("yoke", 2, False, "lining")
    assert (cuff.name, cuff.cut, cuff.mirrored_pair) == ("cuff", 2, True)


def test_a_header_with_tabs_gives_its_unit(tmp_path: Path) -> None:
    """Group codes may be set off by tabs in place of spaces."""
    path = dxf(tmp_path / "a.dxf", lambda _, space: space.add_lwpolyline(SQUARE, close=True), 5)
    lines = path.read_text().splitlines()
    path.write_text("\n".join(f"\t{line.strip()}" if at % 2 == 0 else line for at, line in enumerate(lines)) + "\n")
    (piece,) = read(path).pieces
    assert area(piece) == pytest.approx(1e6)


def test_what_lies_on_a_fold_lies_straight(tmp_path: Path) -> None:
    """A record that says otherwise is not dropped without a word."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("BAG")
        block.add_lwpolyline(SQUARE, close=True, dxfattribs={"layer": "1"})
        block.add_line((50, 10), (50, 90), {"layer": "7"})
        block.add_line((0, 0), (0, 100), {"layer": "6"})
        for said in ("PIECE NAME: bag", "LIES: free"):
            block.add_text(said, dxfattribs={"layer": "1"})
        space.add_blockref("BAG", (0, 0))

    found = read(dxf(tmp_path / "a.dxf", draw))
    (bag,) = found.pieces
    assert bag.on_fold and bag.lies == "straight"
    assert any("'bag': it is on a fold, and lies straight, not free" in said for said in found.report.guesses)


def test_placed_blocks(tmp_path: Path) -> None:
    """Blocks of a plain drawing are taken where they are placed, as large as they are placed."""

    def draw(document: Drawing, space: Modelspace) -> None:
        document.blocks.new("A").add_lwpolyline(SQUARE, close=True)
        space.add_blockref("A", (1000, 0), {"xscale": 2, "yscale": 2})
        space.add_blockref("A", (0, 0))

    assert sorted(area(piece) for piece in read(dxf(tmp_path / "a.dxf", draw)).pieces) == pytest.approx([1e4, 4e4])


def test_outline_met_by_other_lines(tmp_path: Path) -> None:
    """Where lines meet an outline between its corners, the outermost outline is the piece."""

    def draw(document: Drawing, space: Modelspace) -> None:
        points = [*SQUARE, SQUARE[0]]
        for start, end in pairwise(points):
            space.add_line(start, end)
        space.add_line((0, 0), (100, 100))

    found = read(dxf(tmp_path / "a.dxf", draw))
    (piece,) = found.pieces
    assert corners(piece) == set(SQUARE) and len(piece.inner) == 1
    assert "other lines meet" in found.report.remarks[0]


def test_self_crossing(tmp_path: Path) -> None:
    """A small loop is cut off, and told; an outline that crosses itself in the middle is left out, with its reason."""

    def loop(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (100, 0), (100, 100), (2, 100), (0, 104), (4, 104)], close=True)

    def eight(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (100, 100), (100, 0), (0, 100)], close=True)

    found = read(dxf(tmp_path / "a.dxf", loop))
    assert "crosses" in found.report.repairs[0].what and found.report.repairs[0].mm > 0.5
    with pytest.raises(FormatError, match="crosses itself so that only 50%"):
        read(dxf(tmp_path / "b.dxf", eight))


def test_half_off_the_grain_is_opened_out(tmp_path: Path) -> None:
    """A half whose mirror line runs across its grain cannot lie on a fold: it comes opened out, twice as large."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("A")
        block.add_lwpolyline(SQUARE, close=True, dxfattribs={"layer": "1"})
        block.add_text("PIECE NAME: yoke")
        block.add_line((0, 0), (0, 100), {"layer": "6"})
        block.add_line((20, 50), (80, 50), {"layer": "7"})

    found = read(dxf(tmp_path / "a.dxf", draw))
    (piece,) = found.pieces
    assert not piece.on_fold and area(piece) == pytest.approx(2e4)
    assert {x for x, _ in corners(piece)} == {-100, 0, 100} or {x for x, _ in corners(piece)} == {-100, 100}
    assert any("opened out" in remark for remark in found.report.remarks)


@settings(max_examples=25)
@example(turn=STRAIGHT, sides=(60.0, 60.0), split=0, units=(4, 1.0))
@example(turn=90 + STRAIGHT, sides=(60.0, 60.0), split=0, units=(1, 25.4))
@example(turn=-90 + STRAIGHT, sides=(60.0, 60.0), split=0, units=(5, 10.0))
@given(
    turn=st.floats(-180, 180),
    sides=st.tuples(st.floats(60, 900), st.floats(60, 900)),
    split=st.integers(0, 40),
    units=st.sampled_from([(4, 1.0), (1, 25.4), (5, 10.0)]),
)
def test_any_turn_and_unit(
    tmp_path_factory: pytest.TempPathFactory, turn: float, sides: tuple[float, float], split: int, units: Any
) -> None:
    """However a rectangle lies, in lines of any order, turned to its grainline it has its own length and width."""
    code, mm = units
    long, wide = sides
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def at(x: float, y: float) -> tuple[float, float]:
        return (c * x - s * y) / mm, (s * x + c * y) / mm

    ends = [at(0, 0), at(long, 0), at(long, wide), at(0, wide)]
    lines = [(ends[i], ends[(i + 1) % 4]) for i in range(4)]

    def draw(document: Drawing, space: Modelspace) -> None:
        for start, end in (lines[split % 4 :] + lines[: split % 4])[:: 1 if split % 2 else -1]:
            space.add_line(*((end, start) if split % 3 else (start, end)))
        space.add_line(at(long * 0.2, wide / 2), at(long * 0.8, wide / 2), {"layer": "grain"})

    (piece,) = read(dxf(tmp_path_factory.mktemp("dxf") / "a.dxf", draw, code)).pieces
    off = abs((turn + 45) % 90 - 45)
    is_straight = off <= STRAIGHT + 1e-9  # a grain this near an axis lies on it, whichever way its last bit is rounded
    near = 0.01 + (math.radians(off) * max(sides) if is_straight else 0.0)
    assert piece.length == pytest.approx(long, abs=near) and piece.width == pytest.approx(wide, abs=near)
    assert area(piece) == pytest.approx(long * wide, rel=1e-6)


def test_words() -> None:
    """Words of records: counts, hands, materials; annotations lose the count that stands beside them anyway."""
    assert quantity_of("2") == (2, False) and quantity_of("1,1") == (2, True) and quantity_of("2,0") == (2, False)
    assert quantity_of("two") is None and quantity_of("0") is None
    assert (
        material_of("Self fabric") == "shell"
        and material_of("FUSIBLE") == "interfacing"
        and material_of("wool") is None
    )
    assert label_of("cut 2 (1 pair)") == "" and label_of("cut 1 on fold, centre back") == "centre back"
    assert (
        role_of("line") == "line"
        and role_of("sew line") == "sew"
        and role_of("front on fold") == "outline"
        and role_of("NOTCHES_2") == "notch"
    )


@pytest.mark.parametrize(
    ("words", "material"),
    [
        ("Body lining", "lining"),
        ("fusible interfacing", "interfacing"),
        ("1x1 rib knit", "rib"),
        ("main cloth", "shell"),
    ],
)
def test_materials_in_several_words(words: str, material: str) -> None:
    """A material is known by the trade's word in what is written of it."""
    assert material_of(words) == material
