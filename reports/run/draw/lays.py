"""The lay plan as a picture: each lay as long as it is spread, as high as its plies, and its marker, at one scale."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import shapely

from reports.draw.head import Head
from reports.draw.kit.label import find_spot
from reports.draw.kit.sheet import MARGIN, PAGE_HEIGHT, PAGE_WIDTH, new_page, shorten, text_width
from reports.draw.marker import shades_of
from reports.money.lengths import write_need
from reports.run.words import lot_lines

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure

    from reports.draw.kit.sheet import Sheet
    from reports.run.lay_marker import LayMarker
    from reports.run.plan import RunPlan

TINTS = ("white", "0.8", "0.6", "0.9", "0.7", "0.5")
"""Fills of the cloths, told apart in black and white."""

LEFT, ROOM, GAP, KEY = 190.0, 30.0, 5.0, 30.0
DEEPEST = 150.0
"""Most that a marker is deep, points."""

WIDE_ENOUGH = 60.0
"""A bar so wide bears what its plies are, points."""

POINT = 25.4 / 72
"""Millimetres of paper."""

PLY, LEAST, MOST = 5.0, 12.0, 70.0
"""Height of a ply where there is room, and of a lay, points."""


def lays_page(run: RunPlan) -> Figure:
    """Draw all lays on one page, as tall as they need, under one another, at one scale."""
    return next(_pages(run, math.inf))


def lays_pages(run: RunPlan) -> Iterator[Figure]:
    """Draw them on pages to print, at the same scale: no lay is divided."""
    return _pages(run, PAGE_HEIGHT - 2 * MARGIN)


def _pages(run: RunPlan, free: float) -> Iterator[Figure]:
    """Pages with so much room between their margins, points."""
    width = PAGE_WIDTH - 2 * MARGIN
    title = f"Lay plan: {run.order.title}"
    told = (f"{len(run.tickets)} lays", *(line.strip() for plan in run.lots for line in lot_lines(run, plan)))
    head = Head(title, f"{sum(run.cut.values())} garments; {run.garments.source}", told, width)
    scale = _scale(run)
    first = {id(lay.marker): lay.ticket for lay in reversed(run.lays)}
    blocks = [_block(lay, run, scale, first[id(lay.marker)]) for lay in run.lays]
    while blocks:
        room = free - head.height - KEY
        number, taken = 0, 0.0
        while number < len(blocks) and (taken + blocks[number].height <= room or not number):
            taken += blocks[number].height
            number += 1
        if taken > room and head.height > KEY:  # beside a long text there is no room for even one
            number = 0
        yield _page(run, head, blocks[:number], scale, free)
        head, blocks = Head(title, "", ("continued",), width), blocks[number:]


class _Block(NamedTuple):
    """A lay, how high its plies and its marker are drawn, points, and the lay whose marker it has."""

    lay: LayMarker
    high: float
    under: float
    marker_of: int

    @property
    def height(self) -> float:
        """With the room below it."""
        return self.high + self.under + ROOM


def _block(lay: LayMarker, run: RunPlan, scale: float, first: int) -> _Block:
    ply = min(PLY, MOST / max(other.number for other in run.lays))
    under = lay.marker.problem.width * scale if first == lay.ticket else 0.0
    return _Block(lay, max(LEAST, ply * lay.number), under, first)


def _page(run: RunPlan, head: Head, blocks: Sequence[_Block], scale: float, free: float) -> Figure:
    needed = 2 * MARGIN + head.height + KEY + sum(block.height for block in blocks)
    height = max(PAGE_HEIGHT, needed)
    figure, page = new_page(height)
    top = height - MARGIN
    head.draw(page, top)
    top -= head.height
    tints = {key: TINTS[i % len(TINTS)] for i, key in enumerate(_keys(run))}
    top = _legend(page, tints, top, scale)
    for lay, high, under, marker_of in blocks:
        _draw(page, lay, tints, top, scale, high, write_need(lay.marker.length, run.order.written_in))
        if under:
            _draw_marker(page, lay, top - high - GAP, scale)
        else:
            page.text(MARGIN + 60, top - 9, f"marker as of lay {marker_of}", 7)
        top -= high + under + ROOM
    return figure


def _scale(run: RunPlan) -> float:
    """Points for a millimetre, along and across: the longest lay fits the page, and no marker is too deep."""
    longest = max(lay.marker.length for lay in run.lays)
    widest = max(lay.marker.problem.width for lay in run.lays)
    return min((PAGE_WIDTH - 2 * MARGIN - LEFT - 60) / longest, DEEPEST / widest)


def _draw_marker(page: Sheet, lay: LayMarker, top: float, scale: float) -> None:
    """The marker of a lay: the cloth, every outline, and the size of each."""
    problem, x0 = lay.marker.problem, MARGIN + LEFT
    low = min(band.low for band in problem.bands)
    base = top - problem.width * scale
    sizes, shades = lay.size_of, shades_of(lay.size_of)
    for _, item, _, outline in lay.marker.outlines():
        points = (outline - (0.0, low)) * scale + (x0, base)
        words = sizes[item.piece.name] if item.piece else ""
        if item.piece and shades:
            page.area(points, shades[item.piece.name])
        page.line(points, 0.5, closed=True)
        spot = find_spot(shapely.Polygon(points), text_width(words, 6) + 1, 7.0)
        if spot is not None:
            page.text(*spot, words, 6, side="center", upright="center")
    _box(page, x0, base, lay.marker.length * scale, problem.width * scale, None)


def _keys(run: RunPlan) -> list[str]:
    return list(dict.fromkeys(key for plan in run.lots for key in plan.lot.cloths))


def _legend(page: Sheet, tints: dict[str, str], top: float, scale: float) -> float:
    x = MARGIN
    for key, tint in tints.items():
        _box(page, x, top - 14, 14, 9, tint)
        page.text(x + 19, top - 13, key, 7)
        x += 34 + text_width(key, 7)
    told = f"all lays and markers at one scale, 1 : {1 / (scale * POINT):.0f}; height of a bar: its plies, by cloth"
    page.text(x + 10, top - 13, told, 7)
    return top - KEY


def _draw(
    page: Sheet, lay: LayMarker, tints: dict[str, str], top: float, scale: float, high: float, length: str
) -> None:
    """One lay: what is on its marker at the left, its plies cloth by cloth, its length at the right."""
    tint_of = {lay.size_of[name]: tint for name, tint in shades_of(lay.size_of).items()}
    page.text(MARGIN, top - 9, f"{lay.ticket}  {lay.lot.part}", 8, bold=True)
    for i, (size, n) in enumerate(lay.garments.items()):
        if tint_of:
            _box(page, MARGIN, top - 20 - i * 10, 10, 7, tint_of[size])
        words = f"{n} × {size}" if n > 1 else size
        page.text(MARGIN + 15 * bool(tint_of), top - 19 - i * 10, shorten(words, 7, LEFT - 27), 7)
    total, base, wide = lay.number, top - high, lay.marker.length * scale
    for key, plies in lay.plies.items():
        part = high * plies / total
        _box(page, MARGIN + LEFT, base, wide, part, tints[key])
        words = f"{plies} × {key}"
        if part >= 8 and text_width(words, 6.5) < wide - 6:
            page.text(MARGIN + LEFT + 4, base + part / 2, words, 6.5, upright="center")
        base += part
    page.text(MARGIN + LEFT + wide + 5, top - high / 2, length, 7, upright="center")
    if high < 8 * lay.number / min(lay.plies.values()) or wide < WIDE_ENOUGH:  # not every bar bears its words
        told = ", ".join(f"{n} × {key}" for key, n in lay.plies.items())
        page.text(MARGIN + LEFT + wide + 17 + text_width(length, 7), top - high / 2, told, 6.5, upright="center")


def _box(page: Sheet, x: float, y: float, wide: float, high: float, tint: str | None) -> None:
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    if tint:
        page.area(corners, tint)
    page.line(corners, 0.5, closed=True)
