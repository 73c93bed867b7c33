"""DXF of pieces and markers, read back with ezdxf, a general-purpose library."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from ezdxf import bbox, filemanagement
from pytest import FixtureRequest, TempPathFactory

from pieces import PieceSet
from pieces.exchange.read.reader import import_pieces
from pieces.piece.notched import NotchCut
from reports.export.dxf import MARKER_LAYERS, PIECE_LAYERS, write_marker_dxf, write_pieces_dxf
from reports.export.way import FileWay
from reports.rows import marker_rows
from tests.make.exported import HOSTILE, farther, hostile_set, laid, square

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.layouts.blocklayout import BlockLayout
    from ezdxf.layouts.layout import Modelspace

    from nesting.marker.marker import Marker
    from pieces import Piece

NEAR = 0.21
"""How far a drawn cut line may lie from the one that is laid and checked, mm."""

MILLIMETRES = 4
"""The header's $INSUNITS by the DXF reference, from memory."""


@pytest.fixture(scope="module")
def document(jacket: PieceSet, tmp_path_factory: TempPathFactory) -> Drawing:
    """The model jacket's pieces, written and read back."""
    return written(write_pieces_dxf, jacket, tmp_path_factory.mktemp("dxf") / "pieces.dxf")


def written(write: Callable[..., Any], what: Marker | PieceSet, path: Path) -> Drawing:
    """Write a file, and read it back; the audit must find nothing."""
    write(what, path)
    document = filemanagement.readfile(path)
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    return document


def on(layout: BlockLayout | Modelspace, kind: str, layer: str) -> list[Any]:
    """The entities of a kind on a layer."""
    return [entity for entity in layout.query(kind) if entity.dxf.layer == layer]


def points(entities: list[Any]) -> list[Any]:
    """Where points lie, in order."""
    return sorted((e.dxf.location.x, e.dxf.location.y) for e in entities)


def apart(one: Any, other: Any) -> float:
    """How far two closed lines are from one another, by shapely, points between corners looked at as well."""
    return float(shapely.hausdorff_distance(shapely.LinearRing(one), shapely.LinearRing(other), 0.02))


def records(block: BlockLayout | Modelspace) -> dict[str, str]:
    """The records of text of a block."""
    return dict(text.dxf.text.split(": ", 1) for text in on(block, "TEXT", "1"))


def test_one_block_a_piece(document: Drawing, jacket: PieceSet) -> None:
    """Each piece is a block with its cut line, sew line, grainline, notches and fold where the convention puts them.

    Layers 1, 4, 6, 7 and 14 by the table of ASTM D6673, from memory.
    """
    assert len([b for b in document.blocks if not b.is_any_layout]) == len(jacket)
    for piece in jacket:
        block = document.blocks[piece.name.replace(" ", "_")]
        (cut,) = on(block, "LWPOLYLINE", "1")
        assert cut.closed
        assert apart(cut.get_points("xy"), piece.cut_line) < NEAR
        sewn = [list(e.get_points("xy")) for e in on(block, "LWPOLYLINE", "14")]
        sewn += [[(e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y)] for e in on(block, "LINE", "14")]
        long = sum(edge.length for edge in piece.edges if edge.kind != "fold")
        assert sum(shapely.LineString(run).length for run in sewn) == pytest.approx(long, rel=1e-3)
        assert points(on(block, "POINT", "14")) == sorted(notch.point for notch in piece.notches)
        outline = shapely.LinearRing(cut.get_points("xy"))
        assert len(on(block, "POINT", "4")) == len(piece.notches)
        for notch in on(block, "POINT", "4"):
            assert outline.distance(shapely.Point(notch.dxf.location.vec2)) < 0.03
            assert 0 < notch.dxf.thickness <= 6.0
        (grain,) = on(block, "LINE", "7")
        assert farther([grain.dxf.start.vec2, grain.dxf.end.vec2], piece.grain) < 1e-9
        assert len(on(block, "LINE", "6")) == piece.on_fold


def test_the_mirror_line_is_the_fold_of_the_cut_line(document: Drawing, jacket: PieceSet) -> None:
    """Mirrored over its mirror line, the half has the area of the whole piece by shapely."""
    back = document.blocks["back"]
    (fold,) = on(back, "LINE", "6")
    assert fold.dxf.start.y == fold.dxf.end.y
    (cut,) = on(back, "LWPOLYLINE", "1")
    half = shapely.Polygon(cut.get_points("xy"))
    whole = half.union(shapely.transform(half, lambda at: at * (1, -1) + (0, 2 * fold.dxf.start.y)))
    assert whole.area == pytest.approx(shapely.Polygon(jacket["back"].unfolded).area, rel=3e-4)
    centre = shapely.LineString([(-5000, fold.dxf.start.y), (5000, fold.dxf.start.y)])
    assert abs(fold.dxf.end.x - fold.dxf.start.x) == pytest.approx(whole.intersection(centre).length, abs=0.05)


def test_records(document: Drawing, jacket: PieceSet) -> None:
    """Every block says its name, quantity (left and right apart) and material; the style says its unit."""
    told = [records(b) for b in document.blocks if not b.is_any_layout]
    pairs = {piece.name: f"{piece.cut // 2},{piece.cut // 2}" for piece in jacket if piece.mirrored_pair}
    assert pairs
    assert [(t["PIECE NAME"], t["QUANTITY"], t["MATERIAL"]) for t in told] == [
        (piece.name, pairs.get(piece.name, str(piece.cut)), piece.material) for piece in jacket
    ]
    assert records(document.modelspace())["UNITS"] == "METRIC"
    assert document.header["$INSUNITS"] == MILLIMETRES


def test_turn_and_curve_points(document: Drawing, jacket: PieceSet) -> None:
    """Points on layers 2 and 3 lie on the vertices of the lines; the corners of rib bands are turns, and none a curve.

    The layers by the table of ASTM D6673, from memory.
    """
    for piece in jacket:
        block = document.blocks[piece.name.replace(" ", "_")]
        lines = [entity for layer in ("1", "8", "11", "14") for entity in on(block, "LWPOLYLINE", layer)]
        ends = [p for e in block.query("LINE") for p in ((e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y))]
        vertices = np.array([*(point for line in lines for point in line.get_points("xy")), *ends])
        turns, curves = points(on(block, "POINT", "2")), points(on(block, "POINT", "3"))
        for point in (*turns, *curves):
            assert np.hypot(*(vertices - point).T).min() < 1e-6
        assert len(turns) >= 4
        assert bool(curves) == (piece.material != "rib")
        corners = shapely.MultiPoint([edge.points[0] for edge in piece.edges if edge.allowance])
        assert all(shapely.MultiPoint(turns).distance(corner) < 0.3 for corner in corners.geoms) or not corners


def test_extents_and_attributes(document: Drawing, jacket: PieceSet) -> None:
    """The header says how far the pieces reach; each placed block has its records as hidden attributes."""
    boxes = [bbox.extents(on_cut(insert)) for insert in document.modelspace().query("INSERT")]
    low, high = (np.array([tuple(getattr(box, end).vec2) for box in boxes]) for end in ("extmin", "extmax"))
    assert tuple(document.header["$EXTMIN"])[:2] == pytest.approx(tuple(low.min(axis=0)), abs=NEAR)
    assert tuple(document.header["$EXTMAX"])[:2] == pytest.approx(tuple(high.max(axis=0)), abs=NEAR)
    for insert, piece in zip(document.modelspace().query("INSERT"), jacket, strict=True):
        told = {attribute.dxf.tag: attribute.dxf.text for attribute in insert.attribs}
        assert (told["PIECE_NAME"], told["MATERIAL"]) == (piece.name, piece.material)
        assert all(attribute.is_invisible for attribute in insert.attribs)


def test_inserted_once_and_clear_of_one_another(document: Drawing, jacket: PieceSet) -> None:
    """Every block is inserted once, full size, and no two pieces overlap in the drawing."""
    inserts = document.modelspace().query("INSERT")
    assert len(inserts) == len(jacket) == len({insert.dxf.name for insert in inserts})
    boxes = [bbox.extents(on_cut(insert)) for insert in inserts]
    shapes = [shapely.box(*box.extmin.vec2, *box.extmax.vec2) for box in boxes]
    assert shapely.union_all(shapes).area == pytest.approx(sum(shape.area for shape in shapes))
    sizes = sorted(tuple(np.round(np.ptp(piece.cut_line, axis=0), 6)) for piece in jacket)
    found = sorted(tuple(np.round(box.size.vec2, 6)) for box in boxes)
    assert found == [pytest.approx(size, abs=2 * NEAR) for size in sizes]


def on_cut(insert: Any) -> list[LWPolyline]:
    """What an insert shows on the layer of the cut line, but for words."""
    return [e for e in insert.virtual_entities() if e.dxf.layer == "1" and e.dxftype() == "LWPOLYLINE"]


def test_same_bytes(jacket: PieceSet, tmp_path: Path) -> None:
    """The same pieces, written twice, are the same file."""
    one, other = tmp_path / "one.dxf", tmp_path / "other.dxf"
    write_pieces_dxf(jacket, one)
    write_pieces_dxf(jacket, other)
    assert one.read_bytes() == other.read_bytes()


def test_splines(jacket: PieceSet, tmp_path: Path) -> None:
    """Read by ezdxf, splines are as near to the checked cut line as chords are, and closed; straight pieces have none.

    Chords for the same curves lie within 0.02 mm of them.
    """
    write_pieces_dxf(jacket, tmp_path / "s.dxf", FileWay(curves="splines"))
    document = filemanagement.readfile(tmp_path / "s.dxf")
    assert not document.audit().errors
    write_pieces_dxf(jacket, tmp_path / "p.dxf")
    chords = filemanagement.readfile(tmp_path / "p.dxf")
    for piece in jacket:
        name = piece.name.replace(" ", "_")
        splines = on(document.blocks[name], "SPLINE", "1")
        if piece.material == "rib":
            assert not splines
            continue
        (spline,) = splines
        drawn = np.array([(p.x, p.y) for p in spline.flattening(0.001)])
        assert np.hypot(*(drawn[0] - drawn[-1])) < 1e-6
        assert apart(drawn, piece.cut_line) < NEAR
        (polyline,) = on(chords.blocks[name], "LWPOLYLINE", "1")
        assert apart(drawn, polyline.get_points("xy")) < 0.022
        assert len(on(document.blocks[name], "SPLINE", "14")) >= 2


def test_t_notches(jacket: PieceSet, tmp_path: Path) -> None:
    """T-notches have a layer of their own: 80 by the table of ASTM D6673, from memory."""
    path = tmp_path / "t.dxf"
    write_pieces_dxf(jacket, path, FileWay(NotchCut("t")))
    blocks = [b for b in filemanagement.readfile(path).blocks if not b.is_any_layout]
    assert not any(on(block, "POINT", "4") for block in blocks)
    assert sum(len(on(block, "POINT", "80")) for block in blocks) == sum(len(piece.notches) for piece in jacket)


def test_slits_are_told_from_vs(jacket: PieceSet, tmp_path: Path) -> None:
    """Both are points on layer 4 by the standard (from memory): a record of the piece and an attribute say which.

    Read by our reader, the record is none of the piece's words.
    """
    for kind, said in (("slit", "slits, up to 5 mm deep"), ("v", "V, up to 5 mm deep")):
        path = tmp_path / f"{kind}.dxf"
        write_pieces_dxf(jacket, path, FileWay(NotchCut(kind, 5.0)))  # type: ignore[arg-type]
        document = filemanagement.readfile(path)
        for insert, piece in zip(document.modelspace().query("INSERT"), jacket, strict=True):
            block = document.blocks[insert.dxf.name]
            assert records(block).get("NOTCHES") == (said if piece.notches else None)
            assert [a.dxf.text for a in insert.attribs if a.dxf.tag == "NOTCHES"] == [said] * bool(piece.notches)
        assert [piece.label for piece in import_pieces(path).pieces] == [piece.label for piece in jacket]


def test_how_a_piece_may_lie_comes_back(tmp_path: Path) -> None:
    """Across the grain, any way round, or off the grain by some degrees: by records of our own, in the DXF alone."""
    ways = {"across": ("cross", 0.0), "free": ("free", 0.0), "tilted": ("straight", 4.5), "plain": ("straight", 0.0)}
    made = [replace(square(name), lies=lies, tilt=tilt) for name, (lies, tilt) in ways.items()]  # type: ignore[arg-type]
    write_pieces_dxf(PieceSet("ways", tuple(made)), tmp_path / "a.dxf")
    found = import_pieces(tmp_path / "a.dxf")
    assert {piece.name: (piece.lies, piece.tilt) for piece in found.pieces} == ways


def test_bands_keep_the_notches_that_are_drawn(jacket: PieceSet, tmp_path: Path) -> None:
    """A band comes back with as many notches as it left with, by name; one without any gets none."""
    write_pieces_dxf(jacket, tmp_path / "a.dxf")
    wanted = {piece.name: [notch.name for notch in piece.notches] for piece in jacket.of("rib")}
    found = import_pieces(tmp_path / "a.dxf").pieces.of("rib")
    assert {piece.name: [notch.name for notch in piece.notches] for piece in found} == wanted
    assert all(near_edge(piece, notch.point) < 1e-9 for piece in found for notch in piece.notches)
    bare = tuple(replace(piece, notches=()) for piece in jacket.of("rib"))
    write_pieces_dxf(PieceSet("bare", bare), tmp_path / "b.dxf")
    assert not any(piece.notches for piece in import_pieces(tmp_path / "b.dxf").pieces)


def near_edge(piece: Piece, point: tuple[float, float]) -> float:
    """How far a point is from the sew line of a piece, mm."""
    return float(shapely.LinearRing(piece.sew_line).distance(shapely.Point(point)))


def test_drill_points_and_a_piece_too_small_for_words(tmp_path: Path) -> None:
    """A drill point is a point on layer 13; a small piece still has all its records, in small letters."""
    document = written(write_pieces_dxf, PieceSet("set", (square("small", 4.0),)), tmp_path / "a.dxf")
    block = document.blocks["small"]
    assert points(on(block, "POINT", "13")) == [pytest.approx((1.0, 4 / 3))]
    assert set(records(block)) == {"PIECE NAME", "SIZE", "QUANTITY", "MATERIAL", "NOTCHES", "ANNOTATION"}


def test_hostile_names(tmp_path: Path) -> None:
    """A name with line breaks, codes and control signs stays one text; blocks have plain names of their own."""
    document = written(write_pieces_dxf, hostile_set(), tmp_path / "a.dxf")
    blocks = [b for b in document.blocks if not b.is_any_layout]
    assert len({block.name.casefold() for block in blocks}) == 3
    named = records(blocks[0])["PIECE NAME"]
    assert named.startswith("=SUM(A1) 0 EOF% %d^ J <b")
    assert HOSTILE not in named
    assert all(sign.isprintable() for sign in named)
    assert [records(block)["PIECE NAME"] for block in blocks[1:]] == ["a/b", "a\\b"]


@pytest.fixture(scope="module", params=["open", "folded"])
def marker(request: FixtureRequest, jacket: PieceSet) -> Marker:
    """A marker with pieces turned over, opened out or on the fold."""
    return laid(jacket, request.param)


def test_marker(marker: Marker, tmp_path: Path) -> None:
    """Cut lines lie where the marker has them, on a layer of their own, and by shapely no two overlap."""
    space = written(write_marker_dxf, marker, tmp_path / "m.dxf").modelspace()
    cut = [np.array(e.get_points("xy")) for e in on(space, "LWPOLYLINE", "CUT")]
    outlines = [row.outline for row in marker_rows(marker)]
    assert len(cut) == len(outlines)
    assert all(apart(a, b) < NEAR for a, b in zip(cut, outlines, strict=True))
    shapes = [shapely.Polygon(outline) for outline in cut]
    assert shapely.union_all(shapes).area == pytest.approx(sum(shape.area for shape in shapes), rel=1e-4)
    edges = on(space, "LINE", "CLOTH") + [e for e in on(space, "LINE", "FOLD") if e.dxf.start.y == e.dxf.end.y == 0]
    assert max(max(e.dxf.start.x, e.dxf.end.x) for e in edges) == pytest.approx(marker.length)
    said = [text.dxf.text for text in on(space, "TEXT", "LABEL")]
    assert all(any(words.startswith(f"{number} ") for words in said) for number in range(1, len(outlines) + 1))


def test_marks_of_a_marker(marker: Marker, tmp_path: Path) -> None:
    """Notches lie as far from the corners of their placement as on the piece; grainlines run along the cloth."""
    space = written(write_marker_dxf, marker, tmp_path / "m.dxf").modelspace()
    drawn = np.array(points(on(space, "POINT", "SEW-POINT")))
    outlines = shapely.MultiLineString([shapely.LinearRing(e.get_points("xy")) for e in on(space, "LWPOLYLINE", "CUT")])
    slits = on(space, "LINE", "NOTCH")
    assert len(slits) == len(on(space, "POINT", "NOTCH")) == len(drawn)
    assert all(outlines.distance(shapely.Point(slit.dxf.start.vec2)) < 0.03 for slit in slits)
    wanted = 0
    for _, item, variant, outline in marker.outlines():
        corners = item.piece.cut_line if variant.on_fold else item.piece.unfolded
        on_centre = 0
        for notch in item.piece.notches:
            away = np.sort(np.hypot(*(corners - notch.point).T))
            placed = np.sort(np.hypot(*(outline - drawn[:, np.newaxis]).transpose(2, 0, 1)), axis=1)
            assert np.abs(placed - away).max(axis=1).min() < 1e-6
            on_centre += item.piece.on_fold and abs(notch.point[1]) < 1e-6
        twice = item.piece.on_fold and not variant.on_fold
        wanted += len(item.piece.notches) * (1 + twice) - on_centre * twice
    assert len(drawn) == wanted > 0
    grain = on(space, "LINE", "GRAIN")
    assert len(grain) == len(marker.placements)
    assert all(abs(line.dxf.start.y - line.dxf.end.y) < 1e-6 for line in grain)


def test_layers_are_as_many_as_roles(marker: Marker, tmp_path: Path) -> None:
    """Nothing lies on a layer that the table does not have; those of pieces are the standard's, from memory."""
    document = written(write_marker_dxf, marker, tmp_path / "m.dxf")
    names = set(MARKER_LAYERS.values())
    assert {entity.dxf.layer for entity in document.modelspace()} <= names
    assert names <= {layer.dxf.name for layer in document.layers}
    assert set(PIECE_LAYERS.values()) == {"1", "4", "6", "7", "8", "11", "13", "14"}
