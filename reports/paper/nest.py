"""All sizes of each piece over one another at full scale: a layer and a kind of line for each size."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import shapely
import shapely.affinity

from pieces.piece.notched import USUAL_CUT, NotchCut
from reports.draw.kit.label import Label, find_spot
from reports.draw.kit.marks import NOTCH, Marks
from reports.draw.kit.sheet import DASHED, GREY, text_width
from reports.draw.nest import line_of
from reports.draw.pieces import cut_words
from reports.paper.arrange import arrange
from reports.paper.drawing import KeptDrawing
from reports.paper.front import LEGEND, FrontHead, LegendLine
from reports.paper.pattern import CUT, MAGNIFY, draw_nicks, list_pieces, own_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from nesting.problem.transform import Transform
    from pieces import Piece, PieceSet
    from pieces.piece.curve import Point
    from pieces.units import Units
    from reports.paper.size import Paper

    Floats = NDArray[np.float64]

AGAIN, STEP = 150.0, 10.0
"""A size is written again so far on along its cut line, or a little farther where there is no room, mm."""

TRIED = 20
"""Places along a straight stretch that are tried for a size."""

CLEAR = 2.0
"""Between two sizes, or a notch and a size, mm."""

NOWHERE = shapely.Polygon()

WITHIN = 4.0
"""How far from its cut line a size is written, points before they are magnified."""

ROW, SAMPLE = 9.0, 34.0
"""Height of a line of a piece's own legend, and length of the line it shows, points before they are magnified."""

LAYERS = (
    "Each size is a layer: a viewer that shows layers can switch sizes off before printing, and their sew lines on."
)


def draw_nest(sizes: Mapping[str, PieceSet], paper: Paper, notches: NotchCut = USUAL_CUT) -> KeptDrawing:
    """Every piece in all sizes, on the draft's origin.

    Sew lines are on layers of their own, switched off at first. Grainline, fold and label are those of the smallest.
    """
    drawing, order = KeptDrawing(MAGNIFY), list(sizes)
    names = list(dict.fromkeys(piece.name for pieces in sizes.values() for piece in pieces))
    nests = [{size: p for size, pieces in sizes.items() for p in pieces if p.name == name} for name in names]
    poses = arrange([_hull(nest.values()) for nest in nests], names, paper)
    for number, (nest, pose) in enumerate(zip(nests, poses, strict=True), 1):
        marks = {size: Marks.of(piece, pose, opened=False, cut=notches) for size, piece in nest.items()}
        for size, one in marks.items():
            _draw_size(drawing, one, size, order)
        _write_sizes(drawing, nest, marks, pose, order)
        _draw_shared(drawing, nest, pose, number, order)
    return drawing


def nest_head(
    sizes: Mapping[str, PieceSet], title: str, subtitle: str, units: Units, notes: Sequence[str] = ()
) -> FrontHead:
    """The first page's words."""
    lines = [LegendLine(f"cut line, size {size}", line_of(n)[1], line_of(n)[0]) for n, size in enumerate(sizes)]
    told = [*list_pieces(next(iter(sizes.values()))), LAYERS, *notes]
    return FrontHead(title, subtitle, told, units, [*lines, *LEGEND[1:]])


def _draw_size(drawing: KeptDrawing, marks: Marks, size: str, order: Sequence[str]) -> None:
    style, width = line_of(order.index(size))
    r = 0.6 * NOTCH * drawing.pt
    with drawing.layer(f"size {size}"):
        drawing.curve(marks.cut, width, style=style)
        draw_nicks(drawing, marks)
        for line in marks.inner:
            drawing.line(line, min(width, CUT), style=style)
        for x, y in marks.points:
            drawing.area([(x - r, y), (x, y - r), (x + r, y), (x, y + r)], "black")
    with drawing.layer(f"sew line, size {size}", shown=False):
        for run in marks.sewn:
            drawing.line(run, 0.35, style=DASHED, colour=GREY)


def _write_sizes(
    drawing: KeptDrawing, nest: Mapping[str, Piece], marks: Mapping[str, Marks], pose: Transform, order: Sequence[str]
) -> None:
    """Write each size along its cut line, within: once where it runs straight, and again and again where it is free."""
    outlines = {size: pose(piece.cut_line) for size, piece in nest.items()}
    lines = shapely.MultiLineString([shapely.LinearRing(outline) for outline in outlines.values()])
    shapely.prepare(lines)
    taken: list[BaseGeometry] = [shapely.LineString(nick) for each in marks.values() for nick in each.nicks]
    own = {size: _once(drawing, size, outlines[size], _fold(piece, pose), order, taken) for size, piece in nest.items()}
    for size, piece in nest.items():
        ring, fold = shapely.LinearRing(outlines[size]), _fold(piece, pose)
        share = (order.index(size) + 1) / (len(order) + 1)
        with drawing.layer(f"size {size}"):
            at = share * AGAIN
            while at < ring.length - STEP:
                place, turn = _beside(ring, at, drawing.pt)
                box = _box(size, place, turn, drawing.pt)
                free = not lines.intersects(box) and not any(box.distance(other) < CLEAR for other in taken)
                if free and not fold.contains(ring.interpolate(at)) and own[size].distance(box) > AGAIN / 3:
                    drawing.text(*place, size, 5, side="center", upright="center", rotation=turn)
                    taken.append(box)
                    at += AGAIN
                else:
                    at += STEP


def _once(
    drawing: KeptDrawing, size: str, outline: Floats, fold: BaseGeometry, order: Sequence[str],
    taken: list[BaseGeometry],
) -> BaseGeometry:  # fmt: skip
    """Write a size where its cut line runs straight, on no other if there is room there; the room taken."""
    share = (order.index(size) + 1) / (len(order) + 1)
    spots = [_straight(outline, fold, (share + by) % 1, drawing.pt) for by in np.linspace(0, 1, TRIED, endpoint=False)]
    boxes = [_box(size, place, turn, drawing.pt) for place, turn in spots]
    free = (at for at, box in enumerate(boxes) if not any(box.distance(other) < CLEAR for other in taken))
    at = next(free, 0)
    (x, y), turn = spots[at]
    with drawing.layer(f"size {size}"):
        drawing.text(x, y, size, 5, side="center", upright="center", rotation=turn)
    taken.append(boxes[at])
    return boxes[at]


def _fold(piece: Piece, pose: Transform) -> BaseGeometry:
    """Where a piece's fold is, which all sizes share; empty of one without."""
    return shapely.LineString(pose(piece.fold_edge.points)[[0, -1]]).buffer(1.0) if piece.fold_edge else NOWHERE


def _straight(outline: Floats, fold: BaseGeometry, share: float, pt: float) -> tuple[Point, float]:
    """Where a size is written along the longest straight stretch, `share` of it from its begin; and its turn."""
    ends = np.roll(outline, -1, axis=0)
    steps = ends - outline
    long = np.hypot(*steps.T)
    long[shapely.covers(fold, shapely.points((outline + ends) / 2))] = 0.0  # shared by all sizes
    at = int(long.argmax())
    return _within(outline[at] + share * steps[at], steps[at] / long[at], pt)


def _beside(ring: BaseGeometry, at: float, pt: float) -> tuple[Point, float]:
    """Where a size is written so far along an outline, and its turn."""
    before, here, after = (shapely.get_coordinates(ring.interpolate(max(0.0, at + by)))[0] for by in (-3.0, 0.0, 3.0))
    return _within(here, (after - before) / np.hypot(*(after - before)), pt)


def _within(point: Floats, along: Floats, pt: float) -> tuple[Point, float]:
    x, y = (point + WITHIN * pt * np.array([-along[1], along[0]])).tolist()
    turn = float(np.degrees(np.arctan2(along[1], along[0])))
    return (x, y), turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn


def _box(size: str, place: Point, turn: float, pt: float) -> BaseGeometry:
    """The room that a size takes where it is written."""
    wide, high = text_width(size, 5) * pt / 2, 2.2 * pt
    box = shapely.box(place[0] - wide, place[1] - high, place[0] + wide, place[1] + high)
    return shapely.affinity.rotate(box, turn)


def _draw_shared(
    drawing: KeptDrawing, nest: Mapping[str, Piece], pose: Transform, number: int, order: Sequence[str]
) -> None:
    """What all sizes of a piece have in common, within the smallest."""
    piece = min(nest.values(), key=lambda piece: shapely.Polygon(piece.cut_line).area)
    marks = Marks.of(piece, pose, opened=False)
    replace(marks, sewn=(), points=marks.points[:0], inner=()).draw(drawing)
    inside = shapely.intersection_all([shapely.Polygon(pose(other.cut_line)) for other in nest.values()])
    rooms = [shapely.intersection(room, inside) for room in marks.rooms(pose(piece.cut_line), drawing.pt)]
    sizes = [size for size in order if size in nest]
    taken = _draw_legend(drawing, sizes, order, rooms[:2])
    said = f"sizes {sizes[0]} to {sizes[-1]}" if len(sizes) > 1 else f"size {sizes[0]}"
    label = Label(str(number), piece.name, (said, f"{cut_words(piece)}, {piece.material}", *own_words(piece)))
    label.write(drawing, [*(shapely.difference(room, taken) for room in rooms), inside])


def _draw_legend(
    drawing: KeptDrawing, sizes: Sequence[str], order: Sequence[str], rooms: Sequence[BaseGeometry]
) -> BaseGeometry:
    """Which line is which size, where a piece has room for it; the room taken."""
    pt = drawing.pt
    wide = (SAMPLE + 6 + max(text_width(size, 7) for size in sizes)) * pt
    high = ROW * len(sizes) * pt
    spot = next(filter(None, (find_spot(room, wide, high) for room in rooms)), None)
    if spot is None:
        return NOWHERE
    left, top = spot[0] - wide / 2, spot[1] + high / 2
    for number, size in enumerate(sizes):
        y = top - (number + 0.5) * ROW * pt
        style, width = line_of(order.index(size))
        with drawing.layer(f"size {size}"):
            drawing.line([(left, y), (left + SAMPLE * pt, y)], width, style=style)
            drawing.text(left + (SAMPLE + 4) * pt, y, size, 7, upright="center")
    return shapely.box(left, top - high, left + wide, top)


def _hull(pieces: Iterable[Piece]) -> Floats:
    """The outline that holds all sizes of a piece."""
    union = shapely.union_all([shapely.Polygon(piece.cut_line) for piece in pieces])
    outer = union if union.geom_type == "Polygon" else union.convex_hull
    points: Floats = shapely.get_coordinates(shapely.get_exterior_ring(outer))[:-1]
    return points
