"""The pieces of a garment on one sheet, upright, at one scale: to check a draft by, before any cloth is cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.units import INCH, Units, format_size
from reports.draw.marks import Marks, Pose
from reports.draw.sheet import LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, Sheet, new_page, text_width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from pieces import Piece, PieceSet

UPRIGHT = 270.0
"""The turn that brings the top of a garment to the top of the page."""

GAP = 20.0
"""Clear space between two pieces, points."""

BAR = {Units.INCHES: (10 * INCH, "10 in"), Units.METRIC: (200.0, "20 cm")}
NOTE = (
    "Full line: cut.  Dashed: sew.  Line with two heads: grain, parallel to the selvedge.  Bracket: edge to lay on a"
    " fold.  Diamond: notch, matched on the sew line."
)


def pieces_page(pieces: PieceSet, *, title: str, units: Units) -> Figure:
    """Draw every piece upright with its marks, what to cut of it, and its main dimensions.

    Parameters
    ----------
    units
        In which dimensions are written.

    Returns
    -------
    Figure
        A4 on its side; taller where very many pieces would otherwise be too small to read.
    """
    cells = [_Cell.of(piece, units) for piece in sorted(pieces, key=lambda piece: -piece.length)]
    width, height = PAGE_WIDTH - 2 * MARGIN, PAGE_HEIGHT
    free = height - 2 * MARGIN - 60
    scale = _scale(cells, width, free)
    rows = _rows(cells, scale, width)
    height += max(0.0, _depth(rows, scale) - free)
    figure, page = new_page(height)
    page.text(MARGIN, height - MARGIN - 15, title, 15, bold=True)
    top = height - MARGIN - 34
    for row in rows:
        x = MARGIN
        for cell in row:
            cell.draw(figure, page, x, top, scale)
            x += cell.width(scale) + GAP
        top -= _depth([row], scale)
    _foot(page, scale, units)
    return figure


@dataclass(frozen=True, eq=False)
class _Cell:
    """A piece with what is written under it."""

    piece: Piece
    lines: tuple[str, ...]

    @classmethod
    def of(cls, piece: Piece, units: Units) -> _Cell:
        across = float(np.ptp(piece.cut_line[:, 1]))
        along, wide = format_size(piece.length, units), format_size(across, units)
        size = f"{wide} long, in the stretch; {along} deep" if piece.material == "rib" else f"{along} long, {wide} wide"
        if piece.on_fold:
            size += f"; opened out {format_size(piece.width, units)}"
        lines = (piece.name, f"{cut_words(piece)}, {piece.material}", size)
        return cls(piece, (*lines, piece.label) if piece.label else lines)

    def width(self, scale: float) -> float:
        words = max(text_width(line, 9 if i == 0 else 7, i == 0) for i, line in enumerate(self.lines))
        return max(float(np.ptp(self.piece.cut_line[:, 1])) * scale, words)

    def draw(self, figure: Figure, page: Sheet, x: float, top: float, scale: float) -> None:
        """Draw the piece with the upper left corner of its box at (x, top), in points of the page."""
        piece = self.piece
        wide, deep = (float(side) * scale for side in np.ptp(piece.cut_line, axis=0)[::-1])
        page_high = float(figure.get_size_inches()[1]) * 72
        ax = figure.add_axes((x / PAGE_WIDTH, (top - deep) / page_high, wide / PAGE_WIDTH, deep / page_high))
        ax.set_axis_off()
        ax.set_xlim(0, wide / scale)
        ax.set_ylim(0, deep / scale)
        sheet = Sheet(ax, 1 / scale)
        pose = Pose.of(piece.cut_line, UPRIGHT, False, (0.0, 0.0))
        sheet.line(pose(piece.cut_line), 0.9, closed=True)
        Marks.of(piece, pose, opened=False).draw(sheet)
        base = top - deep - 12
        for i, line in enumerate(self.lines):
            page.text(x, base, line, 9 if i == 0 else 7, bold=i == 0)
            base -= 7 * LEADING


def cut_words(piece: Piece) -> str:
    """How many to cut, as it is written on a pattern piece."""
    if piece.on_fold:
        return f"cut {piece.cut} on fold"
    if piece.mirrored_pair:
        pairs = piece.cut // 2
        return f"cut {piece.cut} ({pairs} pair{'' if pairs == 1 else 's'})"
    return f"cut {piece.cut}"


def _rows(cells: Sequence[_Cell], scale: float, width: float) -> list[list[_Cell]]:
    """Cells side by side as far as the page is wide, then in a new row."""
    rows: list[list[_Cell]] = []
    used = 0.0
    for cell in cells:
        wide = cell.width(scale) + GAP
        if not rows or used + wide - GAP > width:
            rows.append([])
            used = 0.0
        rows[-1].append(cell)
        used += wide
    return rows


def _depth(rows: Sequence[Sequence[_Cell]], scale: float) -> float:
    """Height of rows with the words under them and the space between them."""
    words = 12 + 7 * LEADING
    return sum(
        max(cell.piece.length * scale + words + (len(cell.lines) - 1) * 7 * LEADING for cell in row) for row in rows
    )


def _scale(cells: Sequence[_Cell], width: float, height: float) -> float:
    """Points a mm: the largest of a row of scales at which all pieces fit, never below 1 : 28."""
    widest = max(float(np.ptp(cell.piece.cut_line[:, 1])) for cell in cells)
    for scale in np.geomspace(min(0.7, width / widest), 0.1, 80):
        if _depth(_rows(cells, float(scale), width), float(scale)) <= height:
            return float(scale)
    return min(0.1, width / widest)


def _foot(page: Sheet, scale: float, units: Units) -> None:
    """The scale bar, and what the lines mean."""
    length, words = BAR[units]
    end, y = MARGIN + length * scale, MARGIN + 14
    page.line([(MARGIN, y), (end, y)], 1.2)
    for x in (MARGIN, (MARGIN + end) / 2, end):
        page.line([(x, y - 3), (x, y + 3)], 0.8)
    page.text(end + 6, y - 2.5, f"{words}, all pieces at one scale", 7)
    page.text(MARGIN, MARGIN - 4, NOTE, 6)
