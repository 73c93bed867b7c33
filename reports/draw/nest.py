"""The nest: every piece in all its sizes, the outlines over one another, to check a grade by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.problem.transform import Transform
from pieces.errors import PieceError
from pieces.units import Units, format_size
from reports.draw.kit.cells import CaptionedDrawing, cells_page
from reports.draw.kit.marks import NOTCH
from reports.draw.kit.sheet import MARGIN, PAGE_WIDTH, text_width
from reports.draw.pieces import UPRIGHT, cut_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from pieces import Piece, PieceSet
    from reports.draw.kit.sheet import Sheet
    from reports.draw.kit.surface import Style

    Floats = NDArray[np.float64]

LEAST_SCALE, SCALE_A_SIZE, MOST_SCALE = 0.24, 0.04, 0.6
"""Points a mm that a nest is not drawn smaller than, at least, for each size, and at most: else outlines of
neighbouring sizes would run together."""

DASHES: tuple[Style, ...] = (
    "-",
    (0, (6, 2)),
    (0, (1, 1.5)),
    (0, (8, 2, 1, 2)),
    (0, (3, 1.5)),
    (0, (10, 2, 1, 2, 1, 2)),
    (0, (2, 3)),
    (0, (12, 3)),
)
"""A line for each size; where there are more, again, heavier."""

SHAPES: tuple[tuple[tuple[float, float], ...], ...] = (
    ((-1, 0), (0, -1), (1, 0), (0, 1)),
    ((-0.8, -0.8), (0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)),
    ((-1, -0.8), (1, -0.8), (0, 1)),
    ((-1, 0.8), (0, -1), (1, 0.8)),
    ((-1, -0.3), (1, -0.3), (1, 0.3), (-1, 0.3)),
    ((-0.3, -1), (0.3, -1), (0.3, 1), (-0.3, 1)),
)
"""A notch for each size: diamond, square, triangle up and down, bar across and along."""

WIDTHS = (0.6, 1.1, 0.3, 1.6, 2.1)

NOTE = (
    "Cut lines, allowances included, half where a piece is cut on a fold.  Small shapes: notches, one shape a size.  "
)


@dataclass(frozen=True)
class SizeLegend:
    """Which line is which size, in rows as wide as the page."""

    names: tuple[str, ...]

    @property
    def height(self) -> float:
        """Height with the space below it, points."""
        return 14.0 * (1 + self._spots()[-1][1]) + 12

    def draw(self, page: Sheet, top: float) -> None:
        """Draw it, its upper edge at `top`."""
        for number, (x, row) in enumerate(self._spots()):
            y = top - 14 * row - 8
            style, width = line_of(number)
            page.line([(x, y), (x + 40, y)], width, style=style)
            draw_notch(page, np.array([x + 20, y]), number)
            page.text(x + 45, y - 2.8, self.names[number], 8)

    def _spots(self) -> list[tuple[float, int]]:
        """Where each size stands: its left end, and in which row."""
        x, row, spots = MARGIN, 0, []
        for name in self.names:
            wide = 45 + text_width(name, 8) + 18
            if x + wide > PAGE_WIDTH - MARGIN:
                x, row = MARGIN, row + 1
            spots.append((x, row))
            x += wide
        return spots


def line_of(number: int) -> tuple[Style, float]:
    """Dashes and width of the line for a size, by its place among them."""
    return DASHES[number % len(DASHES)], WIDTHS[number // len(DASHES) % len(WIDTHS)]


def draw_notch(sheet: Sheet, at: Floats, number: int) -> None:
    """A notch of a size, by its place among them: each has its own shape, filled, then hollow."""
    corners = SHAPES[number % len(SHAPES)]
    shape = at + 0.75 * NOTCH * sheet.pt * np.array(corners)
    sheet.area(shape, "black" if number // len(SHAPES) % 2 == 0 else "white")
    sheet.line(shape, 0.4, closed=True)


def nest_page(sizes: Mapping[str, PieceSet], *, title: str, units: Units, align: str = "origin") -> Figure:
    """Draw every piece in all sizes.

    Parameters
    ----------
    sizes
        The pieces of each size, by its name, smallest first.
    align
        The point in which the sizes lie on one another: ``"origin"``, that of the draft (of body and sleeve the top at
        the centre); ``"centre"``, the middle of each outline; or a notch by name, where a piece has it.

    Returns
    -------
    Figure
        A4 on its side; taller where it would otherwise be too small to read.

    Raises
    ------
    PieceError
        If no piece has a notch of that name.
    """
    names = list(dict.fromkeys(piece.name for pieces in sizes.values() for piece in pieces))
    nests = [{size: p for size, pieces in sizes.items() for p in pieces if p.name == name} for name in names]
    notches = sorted({notch.name for nest in nests for piece in nest.values() for notch in piece.notches})
    if align not in ("origin", "centre", *notches):
        raise PieceError(f"no piece has a notch '{align}' to align by: there are origin, centre, {', '.join(notches)}")
    order = list(sizes)
    nests.sort(key=lambda nest: -max(piece.length for piece in nest.values()))
    cells = [_cell(nest, order, align, units) for nest in nests]
    where = {"origin": "in the draft's origin", "centre": "in their middle"}.get(
        align, f"in the notch '{align}', or in the draft's origin where a piece has none"
    )
    return cells_page(
        cells,
        title=title,
        units=units,
        note=f"{NOTE}Cross: the sizes lie on one another {where}.",
        legend=SizeLegend(tuple(order)),
        least_scale=min(max(LEAST_SCALE, SCALE_A_SIZE * len(order)), MOST_SCALE),
    )


def point_of(piece: Piece, align: str) -> Floats:
    """The point of a piece that lies on that of its other sizes; the origin where it lacks the notch."""
    if align == "centre":
        middle: Floats = (piece.cut_line.min(axis=0) + piece.cut_line.max(axis=0)) / 2
        return middle
    named = [notch.point for notch in piece.notches if notch.name == align]
    return np.array(named[0] if named else (0.0, 0.0))


def _cell(nest: Mapping[str, Piece], order: Sequence[str], align: str, units: Units) -> CaptionedDrawing:
    turned = Transform(UPRIGHT)
    outlines = {size: turned(piece.cut_line - point_of(piece, align)) for size, piece in nest.items()}
    every = np.vstack([*outlines.values(), np.zeros((1, 2))])
    low, (across, deep) = every.min(axis=0), np.ptp(every, axis=0)

    def paint(sheet: Sheet) -> None:
        for size, outline in outlines.items():
            style, width = line_of(order.index(size))
            sheet.line(outline - low, width, style=style, closed=True)
            piece = nest[size]
            marks = np.array([notch.point for notch in piece.notches], dtype=np.float64).reshape(-1, 2)
            for at in turned(marks - point_of(piece, align)) - low:
                draw_notch(sheet, at, order.index(size))
        (x, y), r = -low, 4 * sheet.pt
        sheet.line([(x - r, y), (x + r, y)], 0.8)
        sheet.line([(x, y - r), (x, y + r)], 0.8)

    there = [size for size in order if size in nest]
    spans = [
        f"{size}: {format_size(nest[size].length, units)} by {format_size(nest[size].width, units)}"
        for size in dict.fromkeys((there[0], there[-1]))
    ]
    first = nest[there[0]]
    lines = (first.name, f"{cut_words(first)}, {first.material}", ";  ".join(spans))
    return CaptionedDrawing(float(across), float(deep), lines, paint)
