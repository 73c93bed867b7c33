"""What is drawn of a piece, or of one placement, whatever the format: lines, marks and words, in mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import islice, product
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np
import shapely

from nesting.problem.transform import Transform
from pieces.piece.curve import Cubic
from pieces.piece.notched import USUAL_CUT, NotchCut, cut_notches
from pieces.piece.recovered import curves_of
from pieces.piece.true_lines import cut_curves, has_curves, opened_curves, placed, refined
from reports.draw.kit.label import find_spot
from reports.draw.kit.marks import Marks
from reports.draw.pieces import cut_words
from reports.export.words import one_line
from reports.rows import edge_name, marker_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from nesting.marker.marker import Marker
    from pieces import Piece
    from pieces.piece.curve import Curve, Point
    from pieces.piece.notched import CutNotch
    from reports.rows import LaidRow

    Floats = NDArray[np.float64]

PlotRole = Literal[
    "cut", "sew", "fold", "centre", "grain", "line", "cutout", "notch", "sew-point", "drill", "label", "cloth", "fault"
]

LETTERS, SMALL_LETTERS = (12.0, 9.0, 6.0, 4.0), (2.5, 1.5)
"""Heights of letters tried for a label, mm, the largest first."""

WIDE, LEADING, PT = 0.8, 1.5, 0.5
"""Of letters, in their heights: the width of one and the distance of lines; and mm to the point, for room at marks."""

CLEAR = 3.0
"""Between words and a grainline beside them, mm."""

EDGE = 0.002
"""How near to the drawn cut line notches begin, mm."""

APART = 40.0
"""Between two pieces side by side, mm."""


DRAFTED: tuple[PlotRole, ...] = ("cut", "sew", "line", "cutout")
"""Lines that are drafted, and so may be graded."""


class PlotLine(NamedTuple):
    """One line: what it is, what it is called, its points, and whether the last is joined to the first.

    `curves` are the lines and curves that its points were taken from, if there are curves among them; `spots` are
    points on it that it must have as corners of its own.
    """

    role: PlotRole
    name: str
    points: Floats
    is_closed: bool = False
    curves: tuple[Curve, ...] = ()
    spots: tuple[Point, ...] = ()


@dataclass(frozen=True)
class LabelLines:
    """Lines of words around a middle, and the height of their letters."""

    words: tuple[str, ...]
    x: float
    y: float
    height: float

    def lines(self) -> Iterator[tuple[str, float, float]]:
        """Each line with the middle of its foot."""
        step = LEADING * self.height
        top = self.y + step * (len(self.words) - 1) / 2 - self.height / 2
        for i, words in enumerate(self.words):
            yield words, self.x, top - i * step


@dataclass(frozen=True, eq=False)
class DrawnNotch:
    """A notch as it is drawn.

    Parameters
    ----------
    name
        Its own.
    edge, sewn
        Where it is on the cut line, and on the sew line.
    inward
        Which way it is cut, a vector of length 1.
    depth
        How deep, mm.
    strokes
        The lines that are cut.
    """

    name: str
    edge: Point
    sewn: Point
    inward: Point
    depth: float
    strokes: tuple[Floats, ...]


@dataclass(frozen=True, eq=False)
class PieceLines:
    """All that is drawn of one piece.

    Parameters
    ----------
    name
        The piece's.
    number
        Of the placement on a marker; 0 of a piece by itself.
    cut, cut_curves
        The outline to cut, closed, as it was laid and checked; and the curves that it is drawn with, if it has any.
    strokes
        The other lines: sew line, grainline, fold, the centre of a piece opened out.
    notches, drill_points
        Its marks.
    label
        What is written on it.
    spots
        Points that the lines they lie on must have as corners of their own.
    """

    name: str
    cut: Floats
    strokes: tuple[PlotLine, ...] = ()
    notches: tuple[DrawnNotch, ...] = ()
    drill_points: tuple[Point, ...] = ()
    label: LabelLines | None = None
    number: int = 0
    cut_curves: tuple[Curve, ...] = ()
    spots: tuple[Point, ...] = ()

    def all_strokes(self) -> Iterator[PlotLine]:
        """The cut line, and then every other line."""
        yield PlotLine("cut", self.name, self.cut, is_closed=True, curves=self.cut_curves, spots=self.spots)
        yield from (s._replace(spots=self.spots) if s.role in DRAFTED else s for s in self.strokes)

    @property
    def called(self) -> str:
        """The piece's name, on a marker with its number."""
        return f"{self.number} {self.name}" if self.number else self.name

    def marks(self, role: PlotRole) -> Iterator[tuple[str, Point]]:
        """The points of a kind, each with its name or that of the piece."""
        if role == "sew-point":
            yield from ((notch.name, notch.sewn) for notch in self.notches)
        elif role == "drill":
            yield from ((self.name, point) for point in self.drill_points)


def piece_lines(
    piece: Piece,
    shift: tuple[float, float] = (0.0, 0.0),
    words: tuple[str, ...] = (),
    notches: NotchCut = USUAL_CUT,
) -> PieceLines:
    """A piece as drafted, moved by `shift`; a piece on the fold is a half.

    Parameters
    ----------
    words
        What is written on it; by default its name, what to cut of it, and its label.
    notches
        How its notches are cut.
    """
    words = words or (piece.name, f"{cut_words(piece)}, {piece.material}", *([piece.label] if piece.label else []))
    return _drawn(piece, Transform(shift=shift), piece.cut_line + shift, words, notches, opened=False)


def placement_lines(row: LaidRow, notches: NotchCut = USUAL_CUT) -> PieceLines:
    """A placement as it lies on the cloth."""
    words = (f"{row.number}  {row.name}", *filter(None, (row.gives, row.turn)))
    piece = row.item.piece
    if piece is None:
        label = _label(words[:1], [shapely.Polygon(row.outline)])
        return PieceLines(row.name, row.outline, label=label, number=row.number)
    opened = piece.on_fold and not row.variant.on_fold
    drawn = _drawn(piece, row.transform, row.outline, words, notches, opened=opened)
    return replace(drawn, number=row.number)


def marker_lines(marker: Marker, notches: NotchCut = USUAL_CUT) -> list[PieceLines]:
    """Every placement, in the order in which a cutter comes to them."""
    return [placement_lines(row, notches) for row in marker_rows(marker)]


def cloth_lines(marker: Marker) -> list[PlotLine]:
    """The edges of the cloth, of its bands and of its faults."""
    strokes = []
    for band in marker.problem.bands:
        start, end = band.start, min(band.end, marker.length)
        for side, y, kind in (("low", band.low, band.low_edge), ("high", band.high, band.high_edge)):
            role: PlotRole = "fold" if kind == "fold" else "cloth"
            strokes.append(PlotLine(role, edge_name(band, side), np.array([(start, y), (end, y)])))
        for name, x in (("start", start), ("end", end)):
            strokes.append(PlotLine("cloth", name, np.array([(x, band.low), (x, band.high)])))
    return strokes + [PlotLine("fault", "fault", fault, is_closed=True) for fault in marker.problem.faults]


def side_by_side(pieces: Sequence[Piece]) -> list[tuple[float, float]]:
    """By how much to move each piece so that they lie in rows, none on another."""
    sizes = [np.ptp(piece.cut_line, axis=0) + APART for piece in pieces]
    across = max(2 * float(sum(w * h for w, h in sizes)) ** 0.5, *(float(w) for w, _ in sizes)) if sizes else 0.0
    shifts, x, y, deep = [], 0.0, 0.0, 0.0
    for piece, (wide, high) in zip(pieces, sizes, strict=True):
        if x + wide > across:
            x, y, deep = 0.0, y - deep, 0.0
        left, top = piece.cut_line[:, 0].min(), piece.cut_line[:, 1].max()
        shifts.append((float(x - left), float(y - top)))
        x, deep = x + float(wide), max(deep, float(high))
    return shifts


def _drawn(
    piece: Piece, pose: Transform, cut: Floats, words: tuple[str, ...], how: NotchCut, *, opened: bool
) -> PieceLines:
    marks, fold = Marks.of(piece, pose, opened=opened), piece.fold_edge
    strokes = [PlotLine("grain", piece.name, marks.grain)]
    strokes += [_line("sew", piece.name, run) for run in marks.sewn]
    inner = [(line.kind, np.array(line.points)) for line in piece.inner if line.kind != "sew"]
    is_curved = has_curves(piece) and any(isinstance(curve, Cubic) for curve in cut_curves(piece))
    curves = () if not is_curved else opened_curves(piece) if opened else cut_curves(piece)
    drawn = refined(cut_curves(piece), EDGE) if is_curved and piece.notches else None
    notches, drill_points = cut_notches(piece, drawn), piece.drill_points
    if fold is not None:
        at = float(fold.points[0, 1])
        ends = piece.cut_line[np.abs(piece.cut_line[:, 1] - at) < 1e-6, 0]
        line = pose([(ends.min(), at), (ends.max(), at)])
        strokes.append(PlotLine("centre" if opened else "fold", piece.name, line))
        if opened:
            inner += [(kind, points * (1, -1) + (0, 2 * at)) for kind, points in inner]
            notches += tuple(notch.opposite(at) for notch in notches if abs(notch.sewn[1] - at) > 1e-6)
            drill_points += tuple((x, 2 * at - y) for x, y in drill_points if abs(y - at) > 1e-6)
    strokes += [_line(kind, piece.name, pose(points)) for kind, points in inner]
    return PieceLines(
        piece.name,
        cut,
        tuple(strokes),
        tuple(_notch(notch, pose, how) for notch in notches),
        tuple(_point(pose, point) for point in drill_points),
        _beside_the_grain(words, marks, cut) or _label(words, islice(marks.each_room(cut, PT), 3)),
        cut_curves=placed(curves, pose),
    )


def _line(role: PlotRole, name: str, points: Floats) -> PlotLine:
    return PlotLine(role, name, points, curves=curves_of(points))


def _notch(notch: CutNotch, pose: Transform, how: NotchCut) -> DrawnNotch:
    edge = _point(pose, notch.edge)
    (x, y), (to_x, to_y) = edge, _point(pose, (notch.edge[0] + notch.inward[0], notch.edge[1] + notch.inward[1]))
    far = float(np.hypot(to_x - x, to_y - y))
    return DrawnNotch(
        notch.name,
        edge,
        _point(pose, notch.sewn),
        ((to_x - x) / far, (to_y - y) / far),
        how.depth_of(notch),
        tuple(pose(stroke) for stroke in how.strokes(notch)),
    )


def _point(pose: Transform, point: Point) -> Point:
    x, y = pose([point])[0]
    return float(x), float(y)


def _beside_the_grain(words: Sequence[str], marks: Marks, cut: Floats) -> LabelLines | None:
    """All words in large letters above or below the middle of the grainline, if they cross nothing there.

    Most pieces have room there, and to look takes little.
    """
    said = tuple(map(one_line, words))
    area = shapely.Polygon(cut)
    lines = [*marks.sewn, *marks.inner, *([marks.centre] if marks.centre is not None else []), marks.grain]
    drawn = shapely.union(shapely.MultiLineString(lines), shapely.MultiPoint(marks.points))
    shapely.prepare([area, drawn])
    x, y = marks.grain.mean(axis=0).tolist()
    half = float(np.ptp(marks.grain[:, 1])) / 2
    for height in LETTERS:
        wide, high = WIDE * max(map(len, said)) * height, (LEADING * len(said) + 0.5) * height
        for side in (1, -1):
            middle = y + side * (half + high / 2 + CLEAR)
            box = shapely.box(x - wide / 2, middle - high / 2, x + wide / 2, middle + high / 2)
            if shapely.contains_properly(area, box) and not shapely.intersects(drawn, box.buffer(CLEAR - 0.5)):
                return LabelLines(said, x, middle, height)
    return None


class _LookedAt:
    """What comes one by one, gone through several times."""

    def __init__(self, rooms: Iterable[BaseGeometry]) -> None:
        self._coming = iter(rooms)
        self._seen: list[BaseGeometry] = []

    def __iter__(self) -> Iterator[BaseGeometry]:
        yield from self._seen
        for room in self._coming:
            if self._seen and room is self._seen[-1]:  # nothing is drawn within that one could be clear of
                continue
            self._seen.append(room)
            yield room


def _label(words: Sequence[str], rooms: Iterable[BaseGeometry]) -> LabelLines | None:
    """The words where there is room for them, all of them or the first alone; None where there is not.

    Large letters may cross no mark, small ones may, before there are smaller ones still.
    """
    words, looked_at = tuple(map(one_line, words)), _LookedAt(rooms)
    for said, heights in product((words, words[:1]), (LETTERS, SMALL_LETTERS)):
        for room, height in ((room, height) for room in looked_at for height in heights):
            spot = find_spot(room, WIDE * max(map(len, said)) * height, (LEADING * len(said) + 0.5) * height)
            if spot is not None:
                return LabelLines(said, *spot, height)
    return None
