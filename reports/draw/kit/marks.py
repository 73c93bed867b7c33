"""What is drawn on a piece beside its cut line: sew line, grainline, notches, fold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from pieces.piece.notched import cut_notches
from pieces.piece.true_lines import cut_curves, opened_curves, placed, refined
from reports.draw.kit.sheet import DASH_DOTTED, DASHED, GREY

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.typing import ArrayLike, NDArray
    from shapely.geometry.base import BaseGeometry

    from pieces import Piece
    from pieces.piece.curve import Curve
    from pieces.piece.notched import NotchCut
    from reports.draw.kit.surface import Surface

    Floats = NDArray[np.float64]
    Pose = Callable[[ArrayLike], Floats]
    """How points of a piece's own frame, shape (n, 2), come on to the sheet."""

NOTCH = 2.2
"""Half the diagonal of a notch's diamond, points."""

EDGE = 0.002
"""How near to the drawn cut line notches begin, mm."""

BRACKET = 10.0
"""How far the fold bracket stands off the fold, points."""

ON = 0.5
"""A grainline nearer to the fold lies on it, mm."""

BESIDE = 20.0
"""How far beside a fold the grainline is drawn that lies on it, points: beyond the bracket."""


@dataclass(frozen=True, eq=False)
class Marks:
    """The marks of one piece, on the sheet.

    Parameters
    ----------
    sewn
        Runs of the sew line, each of shape (n, 2); none along a fold, nor where it is the cut line.
    grain
        The grainline's two ends.
    points
        Notches and drill points.
    centre
        The line a piece was opened out at.
    fold
        The edge that lies on a fold, and the side its cloth lies on: a point within.
    inner
        Lines drawn within, and cutouts.
    holes
        The cutouts alone: what is written there falls out.
    nicks
        The lines of each notch as it is cut from the edge; see `pieces.piece.notched`.
    cut
        The cut line, as lines and curves, where it is drawn so.
    """

    sewn: tuple[Floats, ...]
    grain: Floats
    points: Floats
    centre: Floats | None = None
    fold: tuple[Floats, Floats] | None = None
    inner: tuple[Floats, ...] = ()
    holes: tuple[Floats, ...] = ()
    nicks: tuple[Floats, ...] = ()
    cut: tuple[Curve, ...] = ()

    @classmethod
    def of(cls, piece: Piece, pose: Pose, *, opened: bool, cut: NotchCut | None = None) -> Marks:
        """The marks of a piece in its pose.

        `opened` draws both halves of a piece on the fold; `cut` says how notches are cut, if that is drawn.
        """
        marks = replace(cls._of(piece, pose, opened=opened), holes=_holes(piece, pose, opened=opened))
        if cut is None:
            return marks
        curves = opened_curves(piece) if opened else cut_curves(piece)
        notches = cut_notches(piece, refined(cut_curves(piece), EDGE))
        if opened and piece.fold_edge is not None:
            notches += tuple(notch.opposite(float(piece.fold_edge.points[0, 1])) for notch in notches)
        nicks = tuple(pose(line) for notch in notches for line in cut.strokes(notch))
        return replace(marks, nicks=nicks, cut=placed(curves, pose))

    @classmethod
    def _of(cls, piece: Piece, pose: Pose, *, opened: bool) -> Marks:
        fold = piece.fold_edge
        runs = [edge.points for edge in piece.edges if edge.kind != "fold" and edge.allowance]
        runs += [np.array(line.points) for line in piece.inner if line.kind == "sew"]
        lines = [np.array(line.points) for line in piece.inner if line.kind != "sew"]
        points = np.array([*(n.point for n in piece.notches), *piece.drill_points], dtype=np.float64).reshape(-1, 2)
        grain = pose(piece.grain)
        if fold is None:
            return cls(tuple(map(pose, runs)), grain, pose(points), inner=tuple(map(pose, lines)))
        if not opened:
            on = pose(fold.points), pose(piece.cut_line.mean(axis=0)[np.newaxis])[0]
            return cls(tuple(map(pose, runs)), grain, pose(points), fold=on, inner=tuple(map(pose, lines)))
        over = (0.0, 2 * float(fold.points[0, 1]))
        runs += [run * (1, -1) + over for run in runs]
        lines += [line * (1, -1) + over for line in lines]
        points = np.vstack([points, points * (1, -1) + over])
        return cls(tuple(map(pose, runs)), grain, pose(points), pose(fold.points), inner=tuple(map(pose, lines)))

    def draw(self, sheet: Surface) -> None:
        """Draw them all."""
        for run in self.sewn:
            sheet.line(run, 0.35, style=DASHED, colour=GREY)
        for line in self.inner:
            sheet.line(line, 0.35)
        start, end = self._seen_grain(sheet.pt)
        sheet.arrow(start, end, 0.5, both=True)
        for x, y in self.points:
            r = NOTCH * sheet.pt
            sheet.area([(x - r, y), (x, y - r), (x + r, y), (x, y + r)], "black")
        if self.centre is not None:
            sheet.line(self.centre, 0.5, style=DASH_DOTTED)
        if self.fold is not None:
            a, b, c, d = self._bracket(sheet.pt)
            sheet.arrow(b, a, 0.7)
            sheet.line([b, c], 0.7)
            sheet.arrow(c, d, 0.7)
            x, y, turn = self._fold_words(sheet.pt)
            sheet.text(x, y, "fold", 6, side="center", upright="center", rotation=turn)

    def rooms(self, outline: Floats, pt: float) -> list[BaseGeometry]:
        """Where on the piece words may stand, best first.

        Clear of every mark; across lines within; across the sew line too; and across the middle of the grainline.
        """
        return list(self.each_room(outline, pt))

    def each_room(self, outline: Floats, pt: float) -> Iterator[BaseGeometry]:
        """The same one by one: each takes a while, and seldom more than the first is looked at."""
        area, kept = shapely.Polygon(outline), self._kept_clear(pt)
        ends = self._seen_grain(pt)
        grain = shapely.LineString(ends).buffer(3.5 * pt)
        sewn = (
            shapely.MultiLineString(self.sewn)
            .simplify(0.25 * pt, preserve_topology=False)
            .buffer(1.75 * pt, quad_segs=4)
        )
        clear = shapely.difference(area, shapely.union_all([*kept, grain, sewn]))
        inner = shapely.MultiLineString(self.inner).buffer(1.75 * pt, quad_segs=4)
        yield shapely.difference(clear, inner) if self.inner else clear
        yield clear
        yield shapely.difference(area, shapely.union_all([*kept, grain]))
        yield shapely.difference(area, shapely.union_all([*kept, shapely.MultiPoint(ends).buffer(9 * pt)]))

    def _seen_grain(self, pt: float) -> Floats:
        """The grainline as it is drawn: beside the fold where it lies on it, so that it is seen."""
        if self.fold is None or shapely.LineString(self.fold[0]).distance(shapely.LineString(self.grain)) > ON:
            return self.grain
        (start, *_, end), within = self.fold
        across = np.array([start[1] - end[1], end[0] - start[0]]) / np.hypot(*(end - start))
        deep = float(across @ (within - start))
        moved: Floats = self.grain + across * np.sign(deep) * min(BESIDE * pt, 0.8 * abs(deep))
        return moved

    def _kept_clear(self, pt: float) -> list[BaseGeometry]:
        """Marks that words never cross."""
        taken: list[BaseGeometry] = []
        taken += [shapely.Point(point).buffer(1.5 * NOTCH * pt) for point in self.points]
        taken += [shapely.Polygon(hole) for hole in self.holes]
        if self.centre is not None:
            taken.append(shapely.LineString(self.centre).buffer(2 * pt))
        if self.fold is not None:
            taken.append(shapely.LineString(self._bracket(pt)).buffer(3 * pt))
        return taken

    def _fold_words(self, pt: float) -> tuple[float, float, float]:
        """Where the word "fold" stands, between fold and bracket, and the turn that lays it along them."""
        a, b, c, _ = self._bracket(pt)
        along = c - b
        turn = float(np.degrees(np.arctan2(along[1], along[0])))
        return (*_middle(a, c), turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn)

    def _bracket(self, pt: float) -> tuple[Floats, Floats, Floats, Floats]:
        """The fold bracket's four points: arrow tip on the fold, its two corners, the other tip."""
        assert self.fold is not None
        edge, within = self.fold
        start, end = edge[0], edge[-1]
        along = (end - start) / np.hypot(*(end - start))
        inwards = np.array([-along[1], along[0]])
        inwards *= np.sign(inwards @ (within - start)) * BRACKET * pt
        tips = start + 0.22 * (end - start), start + 0.78 * (end - start)
        return tips[0], tips[0] + inwards, tips[1] + inwards, tips[1]


def _holes(piece: Piece, pose: Pose, *, opened: bool) -> tuple[Floats, ...]:
    holes = [np.array(line.points) for line in piece.inner if line.kind == "cutout"]
    if opened and piece.fold_edge is not None:
        over = (0.0, 2 * float(piece.fold_edge.points[0, 1]))
        holes += [hole * (1, -1) + over for hole in holes]
    return tuple(map(pose, holes))


def shade(sheet: Surface, outline: Floats) -> None:
    """Hatch an outline lightly: the pattern piece lies printed side down."""
    area, step = shapely.Polygon(outline), 6.0 * sheet.pt
    (x0, y0), (x1, y1) = outline.min(axis=0), outline.max(axis=0)
    height = y1 - y0
    starts = np.arange(np.floor((x0 - height) / step) * step, x1, step)
    hatch = shapely.MultiLineString([[(x, y0), (x + height, y1)] for x in starts])
    cut = shapely.intersection(area, hatch)
    sheet.lines(
        [shapely.get_coordinates(part) for part in shapely.get_parts(cut) if part.geom_type == "LineString"],
        0.35,
        "0.72",
    )


def _middle(a: Floats, b: Floats) -> tuple[float, float]:
    return float(a[0] + b[0]) / 2, float(a[1] + b[1]) / 2
