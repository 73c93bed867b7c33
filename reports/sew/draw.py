"""The order of sewing as pages to print: a small drawing of each step, its edges thick."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.problem.transform import Transform
from reports.draw.kit.cells import CaptionedDrawing, cells_page
from reports.draw.kit.marks import Marks
from reports.draw.kit.sheet import GREY, wrap

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from numpy.typing import ArrayLike, NDArray

    from pieces import Piece
    from pieces.garments.sewing import SewingStep
    from reports.draw.kit.sheet import Sheet
    from reports.sew.sewing import SewingOrder

    Floats = NDArray[np.float64]

UPRIGHT = 270.0
"""The turn that brings the top of a garment to the top of the page."""

ON_A_PAGE = 6
"""Steps on each page."""

APART = 60.0
"""Between two pieces of a step, mm."""

MOST = 9
"""Pieces that are drawn of a step: more would be too small to tell anything."""

MARKED = 4
"""Of more pieces than that the marks and their words are left out: they would lie over one another."""

WORDS = 225.0
"""Width of the words under a drawing, points."""

SMALL = 160.0
"""A piece that is no longer, mm, is drawn without marks: they would hide it."""

NOTE = "Thick line: sewn in this step.  Dashed: sew line.  Diamond: notch or drill point.  Mind needle and iron."
"""It names no other file: the pages also stand in a dossier, by themselves."""


def sewing_pages(order: SewingOrder) -> list[Figure]:
    """Pages of A4 on its side, some steps on each."""
    cells = [_cell(order, number, step) for number, step in enumerate(order.steps, 1)]
    pages = [cells[first : first + ON_A_PAGE] for first in range(0, len(cells), ON_A_PAGE)]
    title = f"{order.job.title}: order of sewing"
    return [
        cells_page(page, title=f"{title}, page {n} of {len(pages)}", units=order.units, note=NOTE)
        for n, page in enumerate(pages, 1)
    ]


def _cell(order: SewingOrder, number: int, step: SewingStep) -> CaptionedDrawing:
    """One step: its pieces beside one another, and its words below."""
    shown = step.shown(order.pieces)[:MOST]
    sizes = [np.ptp(piece.cut_line, axis=0) for piece in shown]
    across = float(sum(size[1] for size in sizes)) + APART * (len(shown) - 1)
    deep = max(float(size[0]) for size in sizes)
    edges = set(step.edges)

    def paint(sheet: Sheet) -> None:
        left = 0.0
        for piece, size in zip(shown, sizes, strict=True):
            at = np.array([left, deep - float(size[0])])
            _paint(sheet, piece, edges, at, marked=len(shown) <= MARKED and piece.length > SMALL)
            left += float(size[1]) + APART

    more = len(step.shown(order.pieces)) - len(shown)
    of = ", ".join(piece.name for piece in shown) + (f" and {more} more" if more else "")
    told = "; ".join(words for words in (order.seam_words(step), order.notch_words(step)) if words)
    lines = [line for words in (step.text, of, told) if words for line in wrap(words, 7, WORDS)]
    return CaptionedDrawing(across, deep, (f"{number}. {step.title}", *lines), paint)


def _paint(sheet: Sheet, piece: Piece, edges: set[tuple[str, str]], corner: Floats, *, marked: bool) -> None:
    """A piece upright with its lower left corner at a point, the edges of the step thick."""
    upright = Transform.to_corner(piece.cut_line, UPRIGHT)

    def pose(points: ArrayLike) -> Floats:
        return upright(points) + corner

    sheet.line(pose(piece.cut_line), 0.5, colour=GREY, closed=True)
    if marked:
        Marks.of(piece, pose, opened=False).draw(sheet)
    for edge in piece.edges:
        if (piece.name, edge.name) in edges:
            sheet.line(pose(edge.points), 2.2)
