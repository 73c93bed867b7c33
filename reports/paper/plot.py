"""A marker at full scale: its start at the top, the cloth's length down the paper."""

from __future__ import annotations

from contextlib import nullcontext
from math import inf
from typing import TYPE_CHECKING

import numpy as np
import shapely

from pieces.piece.notched import USUAL_CUT, NotchCut
from pieces.units import bound_both, need_both
from reports.draw.kit.label import Label
from reports.draw.kit.marks import Marks
from reports.draw.nest import line_of
from reports.errors import PaperError
from reports.paper.drawing import KeptDrawing
from reports.paper.front import CENTRE, LEGEND, FrontHead, LegendLine
from reports.paper.pattern import MAGNIFY, draw_piece
from reports.paper.size import LONG_SIDE, LONGEST, Paper
from reports.paper.tiles import RIM
from reports.rows import beyond, marker_rows

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import ArrayLike, NDArray

    from nesting.cloth.band import Band
    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.paper.drawing import Box
    from reports.rows import LaidRow

    Floats = NDArray[np.float64]

NOT_SEWN = 1
"""Place of the sew line in the legend."""


EDGES = {"selvedge": "selvedge", "fold": "fold", "free": "edge"}
"""What the edges of a band are called; left and right need no telling apart."""


def draw_marker(
    marker: Marker,
    units: Units,
    *,
    sewn: bool = True,
    size_of: Mapping[str, str] | None = None,
    notches: NotchCut = USUAL_CUT,
) -> KeptDrawing:
    """Every piece in its place, and the edges of the cloth.

    Parameters
    ----------
    units
        In which the pieces' own sizes are written.
    sewn
        Whether to draw sew lines: chalk follows the cut lines alone.
    size_of
        The size of each piece, by its name, where there are several: each has a kind of line and a layer of its own.
    notches
        How they are cut.
    """
    sizes = size_of or {}
    order = list(dict.fromkeys(sizes.values()))
    drawing = KeptDrawing(MAGNIFY)
    for band in marker.problem.bands:
        _draw_band(drawing, band, marker.length)
    for fault in marker.problem.faults:
        line = _down(fault)
        drawing.line(line, 0.5, closed=True)
        middle = shapely.Polygon(line).representative_point()
        drawing.text(middle.x, middle.y, "fault", 7, side="center", upright="center")
    for row in marker_rows(marker):
        remarks = (row.gives, *filter(None, (row.turn,)), row.size(units))
        label = Label(str(row.number), row.name, remarks if row.item.piece else remarks[1:])
        size = sizes.get(row.name)
        with nullcontext() if size is None else drawing.layer(f"size {size}"):
            kind = None if len(order) < 2 or size is None else line_of(order.index(size))
            draw_piece(drawing, _marks(row, notches), _down(row.outline), label, sewn=sewn, line=kind)
    return drawing


def cloth_paper(marker: Marker) -> tuple[Paper, Box]:
    """A roll exactly as wide as the laid cloth, selvedges included, and what of the plane lies on it.

    Raises
    ------
    PaperError
        If the cloth is too narrow for the test squares.
    """
    bands = marker.problem.bands
    left = min(band.low - beyond(band, "low") for band in bands)
    right = max(band.high + beyond(band, "high") for band in bands)
    if right - left < LONG_SIDE:
        raise PaperError(
            f"--roll cloth: the test squares need {need_both(LONG_SIDE)} of width, and the cloth lies"
            f" {bound_both(right - left)} wide: print it on sheets with --paper"
        )
    paper = Paper("cloth-wide roll", min(right - left, LONGEST), LONGEST, 0.0, True)
    return paper, (left, -marker.length - RIM, right, RIM)


def marker_head(
    title: str,
    subtitle: str,
    units: Units,
    notes: Sequence[str] = (),
    *,
    sewn: bool = True,
    sizes: Sequence[str] = (),
) -> FrontHead:
    """The first page's words; `sizes` are those told apart by their cut lines, where there are several."""
    lines = [entry for number, entry in enumerate(LEGEND) if sewn or number != NOT_SEWN]
    if len(sizes) > 1:
        cut = [LegendLine(f"cut line, size {size}", line_of(n)[1], line_of(n)[0]) for n, size in enumerate(sizes)]
        lines = [*cut, *lines[1:]]
    edges = [CENTRE, LegendLine("edge of the usable cloth", 0.4), LegendLine("fold of the cloth", 2.0)]
    return FrontHead(title, subtitle, notes, units, [*lines, *edges])


def _marks(row: LaidRow, notches: NotchCut) -> Marks | None:
    piece = row.item.piece
    if piece is None:
        return None
    opened = piece.on_fold and not row.variant.on_fold
    return Marks.of(piece, lambda points: _down(row.transform(points)), opened=opened, cut=notches)


def _draw_band(drawing: KeptDrawing, band: Band, length: float) -> None:
    """The edges of a band, their names at its start."""
    end = min(band.end, length) if band.end < inf else length
    for side, y in (("low", band.low), ("high", band.high)):
        kind = band.low_edge if side == "low" else band.high_edge
        drawing.line(_down([(band.start, y), (end, y)]), 2.0 if kind == "fold" else 0.4)
        inward = 4.0 if side == "low" else -4.0
        ((at, start),) = _down([(band.start, y + inward)])
        drawing.text(at, start, EDGES[kind], 6, side="left" if side == "low" else "right", upright="top")
    for x in (band.start, end):
        drawing.line(_down([(x, band.low), (x, band.high)]), 0.6)


def _down(points: ArrayLike) -> Floats:
    """From the cloth, x along and y across, on to the paper, its length downwards."""
    x, y = np.asarray(points, dtype=np.float64).T
    return np.column_stack([y, -x])
