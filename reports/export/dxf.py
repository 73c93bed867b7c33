"""DXF, in mm: pieces by the conventions of ASTM D6673, and markers, which that standard leaves out, in our own layers.

Of the conventions (`pieces.exchange.standard` says how sure they are): a block a piece, inserted once; layers by
number; words as ``KEY: value``. A notch is a point on the cut line; how deep it is stands as the point's thickness, and
which way it is cut as its angle (from memory, and not well known). Slits and Vs share a layer, so a record of our own
says which they are; others say how a piece may lie, if not along the grain. The records of a piece stand once more as
hidden attributes of its block. Where pieces are graded,
their turn and curve points are those that have rules; a text beside each says which.
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from itertools import pairwise
from math import atan2, degrees, pi
from typing import TYPE_CHECKING

import numpy as np
from ezdxf import options, units  # type: ignore[attr-defined]  # options is documented, yet not marked as exported
from ezdxf.filemanagement import new

from pieces.exchange.standard import layer_of, notch_layer
from pieces.piece.curve import Line
from pieces.piece.fitted import CORNER
from pieces.piece.true_lines import refined
from reports.draw.pieces import cut_words
from reports.export.dxf_entities import add_line, add_placed, add_point, add_polyline, add_words
from reports.export.dxf_rules import CURVE_POINT, TURN_POINT, add_rules, through, with_spots
from reports.export.lines import LabelLines, PlotLine, cloth_lines, marker_lines, piece_lines, side_by_side
from reports.export.way import USUAL_WAY, FileWay
from reports.export.words import dxf_name, dxf_text, unique
from reports.output import written_whole

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.base import BaseLayout
    from numpy.typing import NDArray

    from nesting.marker.marker import Marker
    from pieces import Piece, PieceSet
    from pieces.piece.curve import Curve, Point
    from pieces.piece.notched import NotchCut
    from reports.ask.choices import CurveShape
    from reports.export.grades import GradedSet
    from reports.export.lines import PieceLines, PlotRole

    Floats = NDArray[np.float64]

VERSION = "R2000"
"""The oldest that says its unit."""

LETTERS, LEAST_LETTERS = 5.0, 1.5
"""Height of the letters of ``KEY: value``: beside all pieces, and on a piece that has no room for them, mm."""

CHORDS = 0.02
"""How far chords stray from the curves that they are written for, mm."""


ATTRIBUTES = ("PIECE NAME", "QUANTITY", "MATERIAL", "NOTCHES", "LIES", "TILT")
"""The records that a placed block has as attributes as well."""

NOTCH_WORDS = {"slit": "slits", "v": "V", "t": "T"}
"""What is said of notches, whose layer is the same for slits and Vs."""

KNOWN_TURNS = ("cut", "sew", "line", "cutout")
"""The lines that have such points: by the standard those of the layers 1, 14, 8 and 11."""

MOST_CORNERS = 30
"""Of a line with more corners and no curves it is not known which of them are points of a curve."""

NOTCH_LETTERS = 2.0
"""Height of the letters of a notch's name, which stands at the notch, mm."""

CROSS, CROSS_SIZE = 3, 4.0
"""How points are shown, by the numbers of DXF, and how large, mm."""

SIZE = "as measured"
"""Of pieces drafted for one body."""


COLOURS: Mapping[PlotRole, int] = {
    "cut": 7,
    "sew": 8,
    "fold": 5,
    "centre": 5,
    "grain": 3,
    "line": 4,
    "cutout": 7,
    "notch": 1,
    "sew-point": 1,
    "drill": 1,
    "label": 6,
    "cloth": 4,
    "fault": 2,
}
"""Of the layers, by the numbers of DXF."""

PIECE_LAYERS: Mapping[PlotRole, str] = {
    "cut": layer_of("outline"),
    "sew": layer_of("sew"),
    "fold": layer_of("fold"),
    "grain": layer_of("grain"),
    "line": layer_of("line"),
    "cutout": layer_of("cutout"),
    "notch": layer_of("notch"),
    "sew-point": layer_of("sew"),
    "drill": layer_of("drill"),
    "label": layer_of("outline"),
}

MARKER_LAYERS: Mapping[PlotRole, str] = {role: role.upper() for role in COLOURS}


@contextmanager
def _same_each_time() -> Iterator[None]:
    """Without the time of writing and other signs of the day in the file."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


@_same_each_time()
def write_pieces_dxf(pieces: PieceSet, path: Path, how: FileWay = USUAL_WAY, graded: GradedSet | None = None) -> None:
    """Write pieces, each in a block of its own, in its own frame: x along the grain.

    Parameters
    ----------
    graded
        The rules by which they are graded, if they are.
    """
    layers = {**PIECE_LAYERS, "notch": notch_layer(how.notches.kind)}
    document = _document(layers)
    for layer in (TURN_POINT, CURVE_POINT):
        document.layers.add(layer, color=COLOURS["label"])
    size = graded.table.sample if graded else SIZE
    boxes: list[Floats] = []
    names = unique(dxf_name(piece.name) for piece in pieces)
    for name, piece, shift in zip(names, pieces, side_by_side(pieces.pieces), strict=True):
        block = document.blocks.new(name)
        records = _piece_records(piece, size, how.notches)
        lines = piece_lines(piece, words=records, notches=how.notches)
        if lines.label is None or len(lines.label.words) < len(records):  # no room: written across the marks
            x, y = piece.cut_line.mean(axis=0)
            lines = replace(lines, label=LabelLines(records, float(x), float(y), LEAST_LETTERS))
        if graded:
            rules = graded.points[piece.name]
            _draw(block, with_spots(lines, rules), layers, how.curves)
            add_rules(block, rules, layers["notch"])
        else:
            _draw(block, lines, layers, how.curves)
            for stroke in lines.all_strokes():
                _turns(block, stroke)
        said = [words.split(": ", 1) for words in records if words.startswith(ATTRIBUTES)]
        attributes = [(key.replace(" ", "_"), dxf_text(words)) for key, words in said]
        add_placed(document.modelspace(), name, shift, PIECE_LAYERS["cut"], attributes, layers["label"])
        boxes += [piece.cut_line.min(axis=0) + shift, piece.cut_line.max(axis=0) + shift]
    table = (f"GRADING RULE TABLE: {graded.table.name}",) if graded else ()
    style = (f"STYLE NAME: {pieces.garment}", f"SAMPLE SIZE: {size}", *table, "UNITS: METRIC")
    _label(document.modelspace(), LabelLines(style, 0.0, 10 * LETTERS, LETTERS), PIECE_LAYERS["label"])
    _extend(document, boxes)
    _save(document, path)


@_same_each_time()
def write_marker_dxf(marker: Marker, path: Path, how: FileWay = USUAL_WAY) -> None:
    """Write a marker: x along the cloth from its start, y across it."""
    document = _document(MARKER_LAYERS)
    space = document.modelspace()
    cloth, placed = cloth_lines(marker), marker_lines(marker, how.notches)
    for stroke in cloth:
        _stroke(space, stroke, MARKER_LAYERS, how.curves)
    for lines in placed:
        _draw(space, lines, MARKER_LAYERS, how.curves)
        for line in (line for notch in lines.notches for line in notch.strokes):
            _stroke(space, PlotLine("notch", lines.name, line), MARKER_LAYERS, how.curves)
    _extend(document, [*(stroke.points for stroke in cloth), *(lines.cut for lines in placed)])
    _save(document, path)


def _document(layers: Mapping[PlotRole, str]) -> Drawing:
    document = new(VERSION, units=units.MM)
    document.header["$PDMODE"], document.header["$PDSIZE"] = CROSS, CROSS_SIZE
    for name in dict.fromkeys(layers.values()):
        document.layers.add(name, color=next(COLOURS[role] for role, layer in layers.items() if layer == name))
    return document


def _extend(document: Drawing, lines: Sequence[Floats]) -> None:
    """Say how far the drawing goes, so that a program shows all of it at once."""
    points = np.vstack([np.reshape(line, (-1, 2)) for line in lines])
    (left, low), (right, high) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    document.modelspace().reset_extents((left, low, 0.0), (right, high, 0.0))
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (left, low, 0.0), (right, high, 0.0)


def _piece_records(piece: Piece, size: str, notches: NotchCut) -> tuple[str, ...]:
    hands = (piece.cut // 2,) * 2 if piece.mirrored_pair else (piece.cut,)
    return (
        f"PIECE NAME: {piece.name}",
        f"SIZE: {size}",
        f"QUANTITY: {','.join(map(str, hands))}",
        f"MATERIAL: {piece.material}",
        *((f"NOTCHES: {NOTCH_WORDS[notches.kind]}, up to {notches.depth:g} mm deep",) if piece.notches else ()),
        *((f"LIES: {piece.lies}",) if piece.lies != "straight" else ()),
        *((f"TILT: {piece.tilt:g}",) if piece.tilt else ()),
        f"ANNOTATION: {', '.join(filter(None, (cut_words(piece), piece.label)))}",
    )


def _draw(layout: BaseLayout, lines: PieceLines, layers: Mapping[PlotRole, str], curves: CurveShape) -> None:
    for stroke in lines.all_strokes():
        _stroke(layout, stroke, layers, curves)
    for notch in lines.notches:
        inward = degrees(atan2(notch.inward[1], notch.inward[0]))
        add_point(layout, notch.edge, layers["notch"], thickness=notch.depth, angle=inward)
        add_words(layout, dxf_text(notch.name), notch.edge, NOTCH_LETTERS, layers["notch"])
        add_point(layout, notch.sewn, layers["sew-point"])
    for point in lines.drill_points:
        add_point(layout, point, layers["drill"])
    if lines.label:
        _label(layout, lines.label, layers["label"])


def _stroke(layout: BaseLayout, stroke: PlotLine, layers: Mapping[PlotRole, str], curves: CurveShape) -> None:
    layer = layers[stroke.role]
    if stroke.curves and curves == "splines":
        _spline(layout, stroke.curves, layer)
    elif stroke.curves:
        points = through(refined(stroke.curves, CHORDS), stroke.spots, is_closed=_is_closed(stroke.curves))
        add_polyline(layout, points, layer, close=_is_closed(stroke.curves))
    else:
        points = through(stroke.points, stroke.spots, is_closed=stroke.is_closed)
        if len(points) == 2:
            add_line(layout, points, layer)
        else:
            add_polyline(layout, points, layer, close=stroke.is_closed)


def _turns(layout: BaseLayout, stroke: PlotLine) -> None:
    """Points on the corners of a line, and on the joints of its curves, each on its layer of the standard."""
    if stroke.role not in KNOWN_TURNS or not (stroke.curves or len(stroke.points) <= MOST_CORNERS):
        return
    joints, ways = _joints(stroke)
    for point, (before, after) in zip(joints, ways, strict=True):
        turn = pi if before is None or after is None else abs(_angle(before, after))
        add_point(layout, point, TURN_POINT if turn > CORNER else CURVE_POINT)


def _joints(stroke: PlotLine) -> tuple[list[Point], list[tuple[Point | None, Point | None]]]:
    """Where parts of a line meet, and the directions before and after; none at the ends of an open line."""
    curves = stroke.curves or tuple(Line(a, b) for a, b in pairwise(_corners(stroke)))
    leaves = [_way(c.start, c.end if isinstance(c, Line) else c.lead) for c in curves]
    comes = [_way(c.start if isinstance(c, Line) else c.trail, c.end) for c in curves]
    if _is_closed(curves):
        return [c.start for c in curves], list(zip([comes[-1], *comes[:-1]], leaves, strict=True))
    ways: list[tuple[Point | None, Point | None]] = list(zip([None, *comes], [*leaves, None], strict=True))
    return [*(c.start for c in curves), curves[-1].end], ways


def _corners(stroke: PlotLine) -> list[Point]:
    points = [(x, y) for x, y in stroke.points.tolist()]
    return [*points, points[0]] if stroke.is_closed else points


def _way(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def _angle(one: Point, other: Point) -> float:
    return atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])


def _is_closed(curves: Sequence[Curve]) -> bool:
    return bool(np.hypot(*np.subtract(curves[0].start, curves[-1].end)) < 1e-9)


def _spline(layout: BaseLayout, curves: Sequence[Curve], layer: str) -> None:
    """One spline through all: a cubic for each, its knots threefold where they meet, so that corners stay."""
    points = [curves[0].start]
    for curve in curves:
        if isinstance(curve, Line):
            start, end = np.array(curve.start), np.array(curve.end)
            points += [(start + (end - start) / 3).tolist(), (start + (end - start) * 2 / 3).tolist(), curve.end]
        else:
            points += [curve.lead, curve.trail, curve.end]
    spline = layout.add_spline(degree=3, dxfattribs={"layer": layer})
    spline.control_points = [(x, y, 0.0) for x, y in points]
    knots = [float(k) for k in range(len(curves) + 1) for _ in range(3)]
    spline.knots = [knots[0], *knots, knots[-1]]


def _label(layout: BaseLayout, label: LabelLines, layer: str) -> None:
    for words, x, y in label.lines():
        add_words(layout, dxf_text(words), (x, y), label.height, layer, centred=True)


def _save(document: Drawing, path: Path) -> None:
    with written_whole(path) as temporary:
        document.saveas(temporary)
