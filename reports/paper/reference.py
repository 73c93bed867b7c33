"""The reference sheets for photos of paper patterns: boards of coded squares, a line to check their scale by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.photo.board import reference_boards
from pieces.units import INCH
from reports.errors import PaperError
from reports.output import written_whole
from reports.paper.drawing import KeptDrawing
from reports.paper.pdf import Pdf

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.photo.board import CodedBoard
    from reports.paper.size import Paper

TOP = 12.0
"""Bare paper above the board, mm."""

WORDS = 19.0
"""Room below the board for the line and the words, mm."""

TITLE = "Reference sheet {letter}: lay it flat beside the paper pattern, its long side along the grain"

INCH_LINE = 7
"""Inches of the line for rulers in inches."""


def reference_drawing(board: CodedBoard) -> KeptDrawing:
    """The board with the line and the words below it, as the sheet is seen: x to the right, y upwards."""
    drawing = KeptDrawing()
    long, wide = board.size
    for x0, y0, x1, y1 in board.black():
        drawing.area([(y0, -x0), (y1, -x0), (y1, -x1), (y0, -x1)], "black")
    drawing.text(wide / 2, -long - 5.2, TITLE.format(letter=board.letter), 9.5, bold=True, side="center")
    left, y = 0.0, -long - 9.0
    for long_line, name, at in ((board.line, f"{board.line:g} mm", 0.0), (INCH_LINE * INCH, f"{INCH_LINE} in", 5.0)):
        drawing.line([(left, y - at), (left + long_line, y - at)], 0.5)
        for x in (left, left + long_line):
            drawing.line([(x, y - at - 1.3), (x, y - at + 1.3)], 0.5)
        words = f"{name} from tick to tick: measure it with a ruler; if it is not, print at 100 %, fit to page off"
        drawing.text(left + long_line / 2, y - at - 3.4, words, 7, side="center")
    return drawing


def print_reference(path: Path, paper: Paper) -> str:
    """Write the sheets as PDF, one a page, and say what was printed.

    Raises
    ------
    PaperError
        If the paper is a roll, or the sheet does not fit on it.
    """
    drawings = [reference_drawing(board) for board in reference_boards()]
    low_x, low_y, high_x, high_y = drawings[0].box
    if paper.is_roll or paper.wide < high_x - low_x or TOP + high_y - low_y > paper.height - 4:
        raise PaperError("the reference sheet is printed on one sheet: choose --paper a4 or letter")
    left = (paper.width - reference_boards()[0].size[1]) / 2
    with written_whole(path) as temporary:
        pdf = Pdf(temporary, "ellwand reference sheet", {})
        for drawing in drawings:
            pdf.begin(paper.width, paper.height)
            pdf.paint(drawing, (-left, TOP - paper.height, paper.width - left, TOP), (0.0, 0.0))
            pdf.end()
        pdf.save()
    return (
        f"{len(drawings)} pages of {paper.name}: sheet A alone for one photo, A and B or more for a piece that takes"
        " several photos"
    )
