"""A drawing printed whole: its first page, then its sheets with what is needed to glue them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from pieces.units import need_both
from reports.draw.kit.sheet import text_width
from reports.output import written_whole
from reports.paper.drawing import POINT, KeptDrawing, box_of
from reports.paper.front import SCALE_WORDS, SPACE, front, fronts, has_room
from reports.paper.pdf import Pdf
from reports.paper.size import LONGEST
from reports.paper.tiles import OVERLAP, RIM, column_name, steps, tile

if TYPE_CHECKING:
    from pathlib import Path

    from reports.paper.drawing import Box
    from reports.paper.front import FrontHead
    from reports.paper.size import Paper
    from reports.paper.tiles import Tile, Tiling

DIAMOND = 3.0
"""Half the diagonal of a glue mark, mm."""

PALE = "0.8"

FIRST = 300.0
"""Length of the first page of a roll, mm; more where the others are longer than they are wide, as that one is then."""


@dataclass(frozen=True)
class Printed:
    """What was written, under which title: on which paper, on how many pages, and how large these are, mm.

    The first page is counted where it stands alone.
    """

    path: Path
    tiling: Tiling
    pages: int
    page: tuple[float, float]
    title: str

    @property
    def words(self) -> str:
        """The pages, in words."""
        tiling = self.tiling
        if self.pages == 1:
            return (
                f"1 page, {need_both(self.page[0])} wide" if tiling.paper.is_roll else f"1 page of {tiling.paper.name}"
            )
        blank = len(tiling.tiles) - len(tiling.printed)
        skipped = f", {blank} blank not printed" if blank else ""
        own_map = ", the second a map" if self.pages > len(tiling.printed) + 1 else ""
        return (
            f"{self.pages} pages of {tiling.paper.name}: the first to check the scale{own_map}, then"
            f" {tiling.columns} across and {tiling.rows} down{skipped}"
        )


def best_tiling(drawing: KeptDrawing, paper: Paper, box: Box | None = None) -> Tiling:
    """The drawing on sheets upright or on their side, whichever are fewer; on a roll, in equal lengths.

    The first page is turned as the sheets are: small paper has room for the test squares on its side alone.
    """
    shapes = [mark.shape for mark in drawing.marks]
    box = box or box_of(shapes, RIM)
    ways = (_evened(paper, box),) if paper.is_roll else [way for way in paper.ways() if has_room(*_inner(way))]
    return min((tile(shapes, box, way) for way in ways), key=lambda tiling: len(tiling.printed))


def write_pdf(path: Path, drawing: KeptDrawing, paper: Paper, head: FrontHead, box: Box | None = None) -> Printed:
    """Print a drawing at full scale.

    If it fits on one page below the test squares, it takes one; else a page with the squares and a map comes first.

    Parameters
    ----------
    box
        What of the plane must be on paper; by default what is drawn on.
    """
    box = box or box_of([mark.shape for mark in drawing.marks], RIM)
    tiling = best_tiling(drawing, paper, box)
    with written_whole(path) as temporary:
        pdf = Pdf(temporary, head.title, drawing.layers)
        height = _on_one_page(pdf, drawing, tiling, head, box)
        pages = 1 if height else _on_many(pdf, drawing, tiling, head)
        pdf.save()
    return Printed(path, tiling, pages, (tiling.paper.width, height or tiling.paper.height), head.title)


def _on_one_page(pdf: Pdf, drawing: KeptDrawing, tiling: Tiling, head: FrontHead, box: Box) -> float:
    """Print drawing and test squares on one page, so high, mm; 0 if they do not fit on one."""
    paper = tiling.paper
    rim = max(paper.margin, SPACE)
    page = front(head, paper.width - 2 * rim)
    top, high = rim - page.box[1] + 2 * SPACE, box[3] - box[1]
    longest = LONGEST if paper.is_roll else paper.height
    if len(tiling.tiles) > 1 or page.box[2] > paper.width - 2 * rim or top + high + paper.margin > longest:
        return 0
    height = top + high + paper.margin if paper.is_roll else paper.height
    pdf.begin(paper.width, height)
    pdf.paint(page, (-rim, rim - top, paper.width - rim, rim), (0, height - top))
    window = box[0], box[3] - (height - top - paper.margin), box[0] + paper.wide, box[3]
    pdf.paint(drawing, window, (paper.margin, paper.margin))
    pdf.end()
    return height


def _on_many(pdf: Pdf, drawing: KeptDrawing, tiling: Tiling, head: FrontHead) -> int:
    paper = tiling.paper
    wide, high = paper.width, paper.height
    if paper.is_roll:
        high = max(FIRST, wide) if high > wide else FIRST
    rim = max(paper.margin, SPACE)
    before = fronts(head, wide - 2 * rim, high - 2 * rim, tiling, drawing)
    for page in before:
        pdf.begin(wide, high)
        pdf.paint(page, (0, 2 * rim - high, wide - 2 * rim, 0), (rim, rim))
        pdf.end()
    pages = len(before) + len(tiling.printed)
    names = [*(sheet.name for sheet in tiling.printed), ""]
    for number, (sheet, after) in enumerate(zip(tiling.printed, names[1:], strict=True), 1):
        pdf.begin(paper.width, paper.height)
        at = paper.margin, paper.margin
        order = f"page {len(before) + number} of {pages}{f', then {after}' if after else ', the last'}"
        label = f"{head.title}  ·  {order}  ·  {SCALE_WORDS}"
        pdf.paint(_furniture(tiling, sheet, drawing, label), sheet.window, at)
        pdf.paint(drawing, sheet.window, at)
        pdf.end()
    return pages


def _inner(paper: Paper) -> tuple[float, float]:
    """Width and height of what may be printed on, mm."""
    rim = max(paper.margin, SPACE)
    return paper.width - 2 * rim, paper.height - 2 * rim


def _furniture(tiling: Tiling, sheet: Tile, drawing: KeptDrawing, label: str) -> KeptDrawing:
    """What stands on a sheet beside the drawing: its name, where its neighbours are glued, and where the rim is cut."""
    page, (x0, y0, x1, y1) = KeptDrawing(), sheet.window
    page.text((x0 + x1) / 2, (y0 + y1) / 2, sheet.name, 60, bold=True, side="center", upright="center", colour=PALE)
    _name(page, sheet, drawing, label)
    left, right = (tiling.at(sheet.row, sheet.column + by) for by in (-1, 1))
    above, below = (tiling.at(sheet.row + by, sheet.column) for by in (-1, 1))
    for neighbour, line in ((left, [(x0, y0), (x0, y1)]), (above, [(x0, y1), (x1, y1)])):
        if neighbour:
            page.line(line, 0.6)
            _diamonds(page, line)
    if right:
        line = [(x1 - OVERLAP, y0), (x1 - OVERLAP, y1)]
        page.line(line, 0.4, style=(0, (4, 3)))
        _diamonds(page, line)
        x, words = x1 - OVERLAP / 2, f"tape or glue {right.name} over this strip"
        page.text(x, (y0 + y1) / 2, words, 7, side="center", upright="center", rotation=90)
    if below:
        line = [(x0, y0 + OVERLAP), (x1, y0 + OVERLAP)]
        page.line(line, 0.4, style=(0, (4, 3)))
        _diamonds(page, line)
        y, words = y0 + OVERLAP / 2, f"tape or glue {below.name} over this strip"
        page.text((x0 + x1) / 2, y, words, 7, side="center", upright="center")
    return page


def _name(page: KeptDrawing, sheet: Tile, drawing: KeptDrawing, label: str) -> None:
    """Write a sheet's row and column near its top, where nothing else is drawn if there is such a place."""
    x0, y0, x1, y1 = sheet.window
    shapes = [mark.shape for mark in drawing.marks]
    wide, high = text_width(label, 6) * POINT, 9.0
    lefts = np.linspace(x0 + 3, x1 - OVERLAP - 3 - wide, 5)
    tops = np.linspace(y1 - DIAMOND - 1.5, y0 + OVERLAP + high + DIAMOND, 9)
    spots = [(float(left), float(top)) for top in tops for left in lefts]
    free = [
        spot
        for spot in spots
        if not shapely.intersects(shapes, shapely.box(spot[0], spot[1] - high, spot[0] + wide, spot[1])).any()
    ]
    left, top = (free or spots)[0]
    page.text(left, top - 3.5, f"row {sheet.row}, column {column_name(sheet.column)}", 9, bold=True)
    page.text(left, top - 7, label, 6)


def _diamonds(page: KeptDrawing, line: list[tuple[float, float]]) -> None:
    """Two glue marks on a line, at the same places of the drawing on both sheets."""
    (ax, ay), (bx, by) = line
    for share in (0.25, 0.75):
        x, y, r = ax + share * (bx - ax), ay + share * (by - ay), DIAMOND
        page.line([(x - r, y), (x, y - r), (x + r, y), (x, y + r)], 0.5, closed=True)
        page.line([(x - r, y), (x + r, y)], 0.3)
        page.line([(x, y - r), (x, y + r)], 0.3)


def _evened(paper: Paper, box: Box) -> Paper:
    """A roll with its pages as long as needed; equally long where there are several."""
    high = box[3] - box[1]
    rows, _ = steps(high, paper.high, OVERLAP)
    return replace(paper, height=(high - OVERLAP) / rows + OVERLAP + 2 * paper.margin)
