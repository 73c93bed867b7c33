"""How rib bands are cut: rows across a tube or flat rib, or ready strips, to scale, with where each part starts."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from pieces.units import format_size
from reports.draw.head import Head
from reports.draw.kit.sheet import LEADING, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, Sheet, new_page, text_width, wrap
from reports.draw.kit.table import DrawnTable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure

    from nesting.rib.plan import RibCut, RibPlan, RibRow
    from pieces.units import Units

BETWEEN = 26.0
"""Clear space between two strips, and room for what is written above each, points."""

DEEPEST = 110.0
"""A row is drawn no deeper than this, points, however few there are."""

LONGEST = 1.4
"""Rib that is longer than so many times its width is drawn in lengths side by side."""

MOST_BESIDE = 0.7
"""A table that takes more than this share of the width does not stand beside the drawing."""

SHALLOWEST = 24.0
"""A strip is drawn no shallower than this, points, however many there are: the page grows instead."""

NOTE = (
    "Rib stretches across: bands lie in that direction, and stripes stay parallel from part to part. Let rib rest a day"
    " before it is cut. A band in parts is joined at its ends; seam allowances at the joins are in the lengths."
)


class Panel(NamedTuple):
    """What is drawn apart: a length of a tube or flat rib, or one strip; sizes in mm, rows with their index.

    `start` is where it begins along the plan, `before` where the plan does along the rib.
    """

    name: str
    across: float
    depth: float
    rows: list[tuple[int, RibRow]]
    start: float = 0.0
    before: float = 0.0


class RibLabel(NamedTuple):
    """What is said of a part on one of several sheets: its number, its band, and which garment that is for."""

    number: int
    name: str
    whom: str


RibLabels = Mapping[tuple[str, int, int], RibLabel]
"""By band, copy and part, each as in a cut."""


def rib_page(
    plan: RibPlan,
    *,
    title: str,
    units: Units,
    lines: Sequence[str] = (),
    labels: RibLabels | None = None,
    before: float = 0.0,
) -> Figure:
    """Draw how the bands are cut.

    Parameters
    ----------
    units
        In which lengths are written.
    lines
        What to buy first, then whatever else stands under the title.
    labels
        What is said of each part; by default they are numbered in the order of the plan. With labels the table stands
        beside the drawing where that leaves it more room.
    before
        Where the plan begins along the rib, mm, on one of several sheets.
    """
    is_sheet, labels = labels is not None, labels or _labels(plan)
    panels = [panel._replace(before=before) for panel in _panels(plan)]
    width = PAGE_WIDTH - 2 * MARGIN
    cells = _cells(plan, units, labels)
    head, below, beside = Head(title, "", lines, width), DrawnTable(cells, width), DrawnTable(cells, 0.0)
    foot = wrap(NOTE, 6.5, width)
    around = 2 * MARGIN + head.height + 24 + len(foot) * 9 + 12
    deepest = max(one.depth for one in (plan.cuts if is_sheet else plan.rows))
    largest = min(width / plan.stock.usable, DEEPEST / deepest)
    lettering = max(_lettered(plan, panel, units) for panel in panels)
    depth = max(panel.depth for panel in panels)
    size = plan.stock.usable, depth
    free = PAGE_HEIGHT - around
    rooms = [(width, free - below.height, False)]
    if is_sheet and beside.height <= free and beside.column < MOST_BESIDE * width:
        rooms.append((width - beside.column - BETWEEN, free, True))
    ways = [
        _fit(size, lettering, len(panels), columns, room) for room in rooms for columns in range(1, len(panels) + 1)
    ]
    scale, columns, slot, is_beside = max(way._replace(scale=min(way.scale, largest)) for way in ways)
    lines_of_panels = ceil(len(panels) / columns)
    drawn = lines_of_panels * (depth * scale + BETWEEN)
    figure, page = new_page(max(PAGE_HEIGHT, around + drawn + (0.0 if is_beside else below.height)))
    top = page.ax.get_ylim()[1] - MARGIN
    head.draw(page, top)
    top -= head.height + BETWEEN
    for i, panel in enumerate(panels):
        down, along = divmod(i, columns)
        corner = (MARGIN + along * (slot + BETWEEN), top - down * (depth * scale + BETWEEN))
        _draw_panel(page, plan, panel, corner, scale, slot, (units, labels))
    if is_beside:
        beside.draw(page, PAGE_WIDTH - MARGIN - beside.column, top + BETWEEN - 14)
    else:
        below.draw(page, MARGIN, top - drawn + BETWEEN - 14)
    for i, line in enumerate(reversed(foot)):
        page.text(MARGIN, MARGIN + i * 6.5 * LEADING, line, 6.5)
    return figure


class _Fit(NamedTuple):
    """The scale at which panels are drawn, in how many columns, the room of each, points, and where the table is."""

    scale: float
    columns: int
    slot: float
    is_beside: bool


def _fit(
    size: tuple[float, float], lettering: float, panels: int, columns: int, room: tuple[float, float, bool]
) -> _Fit:
    """How large panels of some width and depth can be drawn in so many columns; not at all where words do not fit.

    The room is so wide and so deep, points, the table beside it or not.
    """
    wide, free, is_beside = room
    slot = (wide + BETWEEN) / columns - BETWEEN
    deep = free / ceil(panels / columns) - BETWEEN
    scale = min(slot / size[0], max(deep, SHALLOWEST) / size[1])
    return _Fit(scale if lettering <= slot or columns == 1 else 0.0, columns, slot, is_beside)


def _panels(plan: RibPlan) -> list[Panel]:
    """All panels: as many as there are strips, or one."""
    rows = list(enumerate(plan.rows))
    if plan.stock.depth is None:
        return list(_lengths(plan, rows))
    ready = {row.source: row.ready for row in plan.rows}
    return [
        Panel(name, plan.stock.across(of_it), plan.stock.depth, [row for row in rows if row[1].source == name])
        for name, of_it in ready.items()
    ]


def _lengths(plan: RibPlan, rows: list[tuple[int, RibRow]]) -> Iterator[Panel]:
    """A tube or flat rib in lengths that can be drawn side by side: one, where it is not much longer than wide."""
    parts = max(1, round(plan.length / (LONGEST * plan.stock.usable)))
    held: list[tuple[int, RibRow]] = []
    for index, row in rows:
        held.append((index, row))
        start, end = held[0][1].start, row.start + row.depth
        if end - start >= plan.length / parts - 1e-6 or row is rows[-1][1]:
            yield Panel(plan.stock.name, plan.stock.usable, end - start, held, start)
            held = []


def _titles(plan: RibPlan, panel: Panel, units: Units) -> tuple[str, str]:
    """What stands above a panel: which it is, and its size."""
    deep = "of its length" if plan.stock.depth is None else "deep"
    size = f"{format_size(panel.across, units)} across, {format_size(panel.depth, units)} {deep}"
    if panel.start or (plan.stock.depth is None and panel.depth < plan.length - 1e-6):
        first = panel.before + panel.start
        size = f"{format_size(first, units)} to {format_size(first + panel.depth, units)}"
    return panel.name if plan.stock.depth is None else f"{plan.stock.name}, {panel.name}", size


def _lettered(plan: RibPlan, panel: Panel, units: Units) -> float:
    """Width that a panel's lettering takes, points."""
    title, size = _titles(plan, panel, units)
    return text_width(title, 8, True) + 12 + text_width(size, 7)


def _draw_panel(
    page: Sheet,
    plan: RibPlan,
    panel: Panel,
    corner: tuple[float, float],
    scale: float,
    slot: float,
    told: tuple[Units, RibLabels],
) -> None:
    left, top = corner
    units, labels = told
    across, depth = panel.across * scale, panel.depth
    page.area(_box(left, top, across, depth * scale), "0.92")
    title, size = _titles(plan, panel, units)
    page.text(left, top + 5, title, 8, bold=True)
    page.text(left + max(across, min(slot, _lettered(plan, panel, units))), top + 5, size, 7, side="right")
    for index, row in panel.rows:
        for cut in plan.cuts:
            if cut.row == index:
                at, upper = left + cut.offset * scale, top - (row.start - panel.start + cut.rise) * scale
                part = f", part {cut.part + 1}" if cut.joins else ""
                label = labels[cut.band, cut.copy, cut.part]
                words = f"{label.name}{part}"
                _draw_cut(page, str(label.number), words, at, upper, cut.length * scale, cut.depth * scale)
    page.line(_box(left, top, across, depth * scale), 1.0, closed=True)


def _draw_cut(page: Sheet, number: str, name: str, left: float, top: float, wide: float, deep: float) -> None:
    page.area(_box(left, top, wide, deep), "white")
    page.line(_box(left, top, wide, deep), 0.8, closed=True)
    words = f"{number}  {name}"
    words = words if text_width(words, 8, True) <= wide - 6 else number
    page.text(left + wide / 2, top - deep / 2, words, 8, bold=True, side="center", upright="center")


def _labels(plan: RibPlan) -> RibLabels:
    return {
        (cut.band, cut.copy, cut.part): RibLabel(number, _name(plan, cut), "")
        for number, cut in enumerate(plan.cuts, 1)
    }


def _cells(plan: RibPlan, units: Units, labels: RibLabels) -> list[tuple[str, ...]]:
    is_stacked = any(cut.rise for cut in plan.cuts)
    down = ("down its row",) if is_stacked else ()
    for_whom = ("for",) if any(label.whom for label in labels.values()) else ()
    cells: list[tuple[str, ...]] = [("#", "band", *for_whom, "from", "from the left", *down, "length × depth", "joins")]
    for cut in plan.cuts:
        label = labels[cut.band, cut.copy, cut.part]
        for_whom = (label.whom,) if for_whom else ()
        size = f"{format_size(cut.length, units)} × {format_size(cut.depth, units)}"
        joins = _joined(plan, cut, units) if cut.joins else "closed tube, no seam" if cut.closed else "none"
        down = (format_size(cut.rise, units),) if is_stacked else ()
        where = cut.source, format_size(cut.offset, units)
        cells.append((str(label.number), label.name, *for_whom, *where, *down, size, joins))
    return cells


def _joined(plan: RibPlan, cut: RibCut, units: Units) -> str:
    """Which part of its band it is, and where on the sewn band the next is joined to it."""
    which = f"part {cut.part + 1} of {cut.joins + 1}"
    for join in plan.seams:
        if (join.band, join.copy, join.part) == (cut.band, cut.copy, cut.part):
            return f"{which}, up to {join.place or f'{format_size(join.at, units)} from its start'}"
    return which


def _name(plan: RibPlan, cut: RibCut) -> str:
    """The band, with its number where there are several."""
    several = any(other.copy != cut.copy for other in plan.cuts if other.band == cut.band)
    return f"{cut.band} {cut.copy + 1}" if several else cut.band


def _box(left: float, top: float, wide: float, deep: float) -> list[tuple[float, float]]:
    return [(left, top), (left + wide, top), (left + wide, top - deep), (left, top - deep)]
