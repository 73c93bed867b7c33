"""The first page: test squares, how to print and glue, what the lines mean, and a map of the sheets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.units import INCH, Units
from reports.cautions import BY_HAND, cautions
from reports.draw.kit.label import write_block
from reports.draw.kit.sheet import DASH_DOTTED, DASHED, GREY, LEADING, shorten, text_width, wrap
from reports.paper.drawing import POINT, KeptDrawing, PageLine

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.draw.kit.surface import Style
    from reports.paper.drawing import Box
    from reports.paper.tiles import Tiling

SQUARES = {
    Units.INCHES: ((100.0, "100 mm"), (4 * INCH, "4 in")),
    Units.METRIC: ((100.0, "10 cm"), (100.0, "10 cm")),
}
"""The test squares: side, mm, and what it is called. The first holds the steps, the second the legend."""

OFF = {Units.INCHES: "0.5 mm (1/64 in)", Units.METRIC: "0.5 mm"}
"""By how much a square may be off."""

SPACE = 4.0
"""Between the blocks of the page, mm."""

ASIDE = 100.0 + SPACE + 4 * INCH
"""Where a page is narrower, the squares stand below one another, mm."""

CAUTIONS = 20.0
"""What the cautions below the squares take at the most, mm."""

HEADED = 22.5
"""What title and notice take, mm."""

LEAST_COLUMN = 30.0
"""A list of pieces needs so much width, mm."""

LEAST_TYPE = 4.0
"""Names of sheets on the map are written no smaller, points; a map with smaller ones has a page of its own."""

SCALE_WORDS = "scale 100 %, fit to page off"

NOTICE = f"Print at {SCALE_WORDS}. Measure both squares with a ruler before you cut anything."

STEPS = (  # with what `OFF` says
    "In the print window choose 100 % or actual size; switch off fit to page, shrink and scale.",
    "Measure both squares, across and down. If one is off by more than {off}, the pieces would not fit:"
    " correct the printer's settings and print this page again.",
)
GLUE = (
    "Sheets are named by row and column, from the upper left: 2C is row 2, column C. They come row by row, each with"
    " its page on the map. Blank sheets are not printed.",
    "Trim each sheet along the full line at its left and its top. Overlap it onto the strip with its name, edge on the "
    "dashed line, so that half diamonds become whole. Tape or glue row by row, then the rows.",
)
CUT = cautions(*BY_HAND)


@dataclass(frozen=True)
class LegendLine:
    """A line of the legend: how it is drawn, and what it means."""

    words: str
    width: float
    style: Style = "-"
    colour: str = "black"
    sign: str = ""


LEGEND = (
    LegendLine("cut line, seam allowance included", 0.9),
    LegendLine("sew line: not cut", 0.35, DASHED, GREY),
    LegendLine("grainline: parallel to the selvedge", 0.5, sign="heads"),
    LegendLine("bracket: lay this edge on a fold", 0.7, sign="bracket"),
    LegendLine("notch, or a mark within", 0.5, sign="diamond"),
)
CENTRE = LegendLine("centre of a piece opened out", 0.5, DASH_DOTTED)


@dataclass(frozen=True)
class FrontHead:
    """What the first page says of its own: a title, a list of what is printed, and the lines used; in which units."""

    title: str
    subtitle: str
    contents: Sequence[str]
    units: Units
    legend: Sequence[LegendLine] = LEGEND


def front(head: FrontHead, wide: float) -> KeptDrawing:
    """What stands above a drawing on its only page, so wide, from (0, 0) down."""
    return _front(head, wide, None)[0]


def fronts(head: FrontHead, wide: float, high: float, tiling: Tiling, drawing: KeptDrawing) -> list[KeptDrawing]:
    """The pages before the sheets of a drawing, from (0, 0) down: the first, and the map if that has no room for it.

    Parameters
    ----------
    wide, high
        Room there is on each, mm.
    """
    page, rooms = _front(head, wide, high)
    if _letters(tiling, _map_place(tiling, rooms)[0]) >= LEAST_TYPE:
        _draw_map(page, tiling, drawing, rooms, 2)
        return [page]
    other = KeptDrawing()
    other.text(0, -6.0, shorten(f"{head.title}: map of the sheets", 15, wide / POINT, True), 15, bold=True)
    low = _paragraphs(other, [f"{GLUE[0]} {SCALE_WORDS.capitalize()}."], 8.0, (0.0, -12.0), wide)
    _draw_map(other, tiling, drawing, [(0.0, -high, wide, low - SPACE)], 3)
    return [page, other]


def _front(head: FrontHead, wide: float, high: float | None) -> tuple[KeptDrawing, list[Box]]:
    """The first page, of many if its height is given, and where it has room for a map."""
    page = KeptDrawing()
    y = -6.0
    page.text(0, y, shorten(head.title, 15, wide / POINT, True), 15, bold=True)
    y -= 6
    page.text(0, y, shorten(head.subtitle, 9, wide / POINT), 9)
    y -= 6.5
    size = min(10.0, 10.0 * wide / POINT / text_width(NOTICE, 10, True))
    page.text(0, y, NOTICE, size, bold=True)
    top, x, low = y - SPACE, 0.0, y - SPACE
    squares = SQUARES[head.units]
    rooms, stacked = [], wide < ASIDE
    for number, (side, name) in enumerate(squares):
        at, under = (0.0, top - number * (squares[0][0] + SPACE)) if stacked else (x, top)
        page.line([(at, under - side), (at + side, under - side), (at + side, under), (at, under)], 0.6, closed=True)
        page.text(at + side / 2, under - 6, name, 12, bold=True, side="center")
        if number:
            end = _legend(page, head.legend, at + 5, under - 13, side - 10)
        else:
            told = [words.format(off=OFF[head.units]) for words in STEPS]
            steps = [f"{step}. {words}" for step, words in enumerate((*told, *(GLUE if high else ())), 1)]
            end = _paragraphs(page, steps, 8.0, (at + 5, under - 12), side - 10)
        rooms.append((at + SPACE, under - side + SPACE, at + side - SPACE, end))
        x, low = at + max(side for side, _ in squares) * stacked + (side + SPACE) * (not stacked), under - side
    x += SPACE * stacked
    bottom = _paragraphs(page, CUT, 7.0, (0.0, low - SPACE), wide if stacked else min(wide, x - SPACE))
    end = -high if high else bottom - 150
    rooms.append((0.0, end, wide, bottom - SPACE))
    if wide - x > LEAST_COLUMN:
        listed = _list(page, head.contents, x, top, wide - x, low if stacked else bottom)
        rooms.append((x, low if stacked else end, wide, listed - SPACE))
    return page, [room for room in rooms if room[3] > room[1]]


def has_room(wide: float, high: float) -> bool:
    """Whether the first page with its squares goes on so much paper, mm: these stand side by side, or else stacked."""
    deep = 4 * INCH
    return (wide >= ASIDE and high >= HEADED + deep + CAUTIONS) or (
        wide >= deep + SPACE + LEAST_COLUMN and high >= HEADED + 2 * deep + SPACE + CAUTIONS
    )


def _paragraphs(
    page: KeptDrawing, paragraphs: Sequence[str], size: float, at: tuple[float, float], wide: float
) -> float:
    """Words below one another; how far down they go."""
    x, y = at
    for words in paragraphs:
        for line in wrap(words, size, wide / POINT):
            page.text(x, y, line, size)
            y -= LEADING * size * POINT
        y -= 1.5
    return y


def _legend(page: KeptDrawing, entries: Sequence[LegendLine], x: float, y: float, wide: float) -> float:
    """The lines used, below one another; how far down they go."""
    step = min(7.0, (wide - 8) / len(entries))
    size = min(8.0, 0.8 * step / POINT)
    for entry in entries:
        a, b = (x, y), (x + 18, y)
        if entry.sign == "heads":
            page.arrow(a, b, entry.width, both=True)
        elif entry.sign == "bracket":
            page.arrow((x, y + 1.2), (x, y - 1.2), entry.width)
            page.line([(x, y + 1.2), (x + 18, y + 1.2)], entry.width)
            page.arrow((x + 18, y + 1.2), (x + 18, y - 1.2), entry.width)
        elif entry.sign == "diamond":
            _diamond(page, x + 9, y, 1.2)
        else:
            page.line([a, b], entry.width * 1.6, style=entry.style, colour=entry.colour)
        page.text(x + 22, y, shorten(entry.words, size, (wide - 22) / POINT), size, upright="center")
        y -= step
    return y


def _list(page: KeptDrawing, lines: Sequence[str], x: float, top: float, wide: float, bottom: float) -> float:
    """What is printed, line by line; what there is no room for is counted. How far down it goes."""
    size = 8.0
    step = LEADING * size * POINT
    room = int((top - bottom) / step)
    broken = [line for words in lines for line in wrap(words, size, wide / POINT)]
    if len(broken) > room:
        broken = [*broken[: room - 1], f"and {len(broken) - room + 1} lines more"]
    for number, line in enumerate(broken):
        page.text(x, top - step * (number + 0.8), line, size)
    return top - step * len(broken)


def _map_place(tiling: Tiling, rooms: Sequence[Box]) -> tuple[float, Box, Box]:
    """The scale of a map in the room where it comes out largest, that room, and what the sheets take together."""
    boxes = np.array([tile.window for tile in tiling.tiles])
    (left, low), (right, high) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    scale, room = max(
        (min((room[2] - room[0]) / (right - left), (room[3] - room[1]) / (high - low)), room) for room in rooms
    )
    return scale, room, (left, low, right, high)


def _letters(tiling: Tiling, scale: float) -> float:
    """How large names of sheets are on a map, points."""
    return min(9.0, 0.2 * scale * min(tiling.paper.wide, tiling.paper.high) / POINT)


def _draw_map(page: KeptDrawing, tiling: Tiling, drawing: KeptDrawing, rooms: Sequence[Box], first: int) -> None:
    """All sheets, small: what is on each, its name, and which are blank; in the room where they come out largest.

    Of several sizes it shows the last. `first` is the page of the first sheet.
    """
    scale, room, (left, _, _, high) = _map_place(tiling, rooms)
    size = _letters(tiling, scale)
    shift = np.array([room[0] - left * scale, room[3] - high * scale])
    kept = [None, *(name for name, is_shown in drawing.layers.items() if is_shown)]
    for mark in drawing.marks:
        if isinstance(mark, PageLine) and not mark.grey and mark.layer in (None, kept[-1]):
            page.line(mark.points * scale + shift, 0.25, colour="0.4")
    pages = {tile.name: number for number, tile in enumerate(tiling.printed, first)}
    for tile in tiling.tiles:
        x0, y0, x1, y1 = tile.window
        (x, y), (to_x, to_y) = np.array([x0, y0]) * scale + shift, np.array([x1, y1]) * scale + shift
        page.line([(x, y), (to_x, y), (to_x, to_y), (x, to_y)], 0.4, closed=True)
        if tile.is_blank:
            page.line([(x, y), (to_x, to_y)], 0.25, colour=GREY)
            page.line([(x, to_y), (to_x, y)], 0.25, colour=GREY)
        elif size >= LEAST_TYPE:
            write_block(page, ((x + to_x) / 2, (y + to_y) / 2), [tile.name, f"page {pages[tile.name]}"], size)


def _diamond(page: KeptDrawing, x: float, y: float, r: float) -> None:
    page.area([(x - r, y), (x, y - r), (x + r, y), (x, y + r)], "black")
