"""The cloth under a marker: its edges and what they are, rulers, and dimension lines."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, pairwise
from math import ceil, floor
from typing import TYPE_CHECKING

from matplotlib.patches import Rectangle

from pieces.units import INCH, Units, format_need, format_size
from reports.draw.kit.sheet import PALE, Sheet, text_width
from reports.rows import band_words, beyond, edge_name

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.axes import Axes

    from nesting.cloth.band import Band
    from nesting.problem.problem import Problem

LEFT, RIGHT, TOP, BOTTOM = 34.0, 44.0, 34.0, 34.0
"""Points kept clear round the cloth for rulers, dimensions and words."""

SELVEDGE = 4.0
"""Width at which a selvedge is drawn, points: not to scale, so that it never crowds the words along it."""

STEPS = {
    Units.INCHES: [INCH * n for n in (1, 2, 4, 6, 12, 18, 36, 72)],
    Units.METRIC: [float(n) for n in (20, 50, 100, 200, 500, 1000, 2000)],
}
LEAST_STEP = 26.0
"""Points between two figures of a ruler, at least."""


@dataclass(frozen=True)
class Span:
    """A stretch of a marker, mm from its start, of a total length."""

    start: float
    end: float
    total: float

    def is_end_of(self, band: Band) -> bool:
        """Whether a band ends where this does."""
        return self.end == min(band.end, self.total)

    @property
    def is_whole(self) -> bool:
        """Whether this is all of the marker."""
        return self.start == 0 and self.end == self.total


def fit_sheet(ax: Axes, problem: Problem, span: Span) -> Sheet:
    """Set the axes' limits so that the stretch and its margins fill it, at one scale both ways."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    box, (width, height) = ax.get_position(), figure.get_size_inches() * 72
    wide, high = box.width * width, box.height * height
    scale = min((wide - LEFT - RIGHT) / (span.end - span.start), (high - TOP - BOTTOM) / problem.width)
    low = min(band.low for band in problem.bands)
    ax.set_xlim(span.start - LEFT / scale, span.start - LEFT / scale + wide / scale)
    ax.set_ylim(low - (high - TOP) / scale + problem.width, low + problem.width + TOP / scale)
    ax.set_aspect("equal", adjustable="box")
    ax.set_axis_off()
    clip = Rectangle((span.start, low), span.end - span.start, problem.width, transform=ax.transData, figure=figure)
    return Sheet(ax, 1 / scale, clip)


def draw_cloth(sheet: Sheet, problem: Problem, span: Span, units: Units, *, nap: bool = False) -> None:
    """Draw the bands' edges with their names, rulers along the start and the length, and the dimensions.

    With a nap that all tops follow, an arrow shows which way they point.
    """
    ink = Sheet(sheet.ax, sheet.pt)
    low = min(band.low for band in problem.bands)
    high = low + problem.width
    for bands, part in _stretches(problem, span):
        for band in bands:
            _edge(ink, band, "low", part, is_outer=band is bands[0])
            _edge(ink, band, "high", part, is_outer=band is bands[-1])
        for first, second in pairwise(bands):
            _strip(ink, part, first.high, second.low)
        for x, whole in ((part.start, part.start == bands[0].start), (part.end, part.is_end_of(bands[0]))):
            ink.line([(x, low), (x, high)], 0.9 if whole else 0.6, style="-" if whole else (0, (2, 2)))
        _words(ink, bands, part, low, nap=nap)
        _widths(ink, bands, part, units)
    _rulers(ink, span, low, high, beyond(problem.bands[0], "low"), units)
    _length(ink, span, high, units)


def _stretches(problem: Problem, span: Span) -> Iterator[tuple[list[Band], Span]]:
    """The bands that lie side by side, and which part of a span they take; one after another along the cloth."""
    for (start, end), bands in groupby(problem.bands, key=lambda band: (band.start, band.end)):
        part = Span(max(span.start, start), min(span.end, end), span.total)
        if part.start < part.end:
            yield list(bands), part


def _edge(ink: Sheet, band: Band, side: str, span: Span, *, is_outer: bool) -> None:
    """One long edge: a heavy line for a fold, a thin one for a selvedge, shaded beyond."""
    kind, y = (band.low_edge, band.low) if side == "low" else (band.high_edge, band.high)
    ink.line([(span.start, y), (span.end, y)], 2.0 if kind == "fold" else 0.6)
    if kind == "selvedge" and is_outer:
        beyond = y - SELVEDGE * ink.pt if side == "low" else y + SELVEDGE * ink.pt
        _strip(ink, span, y, beyond)


def _strip(ink: Sheet, span: Span, low: float, high: float) -> None:
    ink.area([(span.start, low), (span.end, low), (span.end, high), (span.start, high)], PALE)


def _words(ink: Sheet, bands: Sequence[Band], span: Span, low: float, *, nap: bool) -> None:
    """Names of the outer edges, how each band lies, and which way the grain or the nap runs."""
    pt, bottom, top = ink.pt, bands[0], bands[-1]
    above, below = top.high + 7.5 * pt, low - 27 * pt
    room = RIGHT * pt if bottom.end >= span.total else -8 * pt
    lower, upper = edge_name(bottom, "low"), edge_name(top, "high")
    if bottom is not top and lower == upper == "fold":
        lower, upper = "lower fold: near selvedge to the middle", "upper fold: far selvedge to the middle"
    _edge_words(ink, span, above, upper, top, room)
    taken = _edge_words(ink, span, below, lower, None if bottom is top else bottom, room)
    x, middle = span.start + (text_width(lower, 7, True) + 24) * pt, below + 2.5 * pt
    for words in ("nap: from top to hem of every piece", "nap") if nap else ("grain, along the cloth", "grain"):
        if x + (51 + text_width(words, 7)) * pt < taken:
            ink.arrow((x, middle), (x + 46 * pt, middle), 0.6, both=not nap)
            ink.text(x + 51 * pt, below, words, 7)
            break


def _edge_words(ink: Sheet, span: Span, y: float, edge: str, band: Band | None, room: float) -> float:
    """An edge's name and, at the other end, how its band lies; where the latter starts, mm.

    `room` is how far words may go on beyond the end, mm.
    """
    ink.text(span.start, y, edge, 7, bold=True)
    if band is None:
        return span.end + room
    after = span.start + (text_width(edge, 7, True) + 12) * ink.pt
    for words in (band_words(band), f"{band.name}, {band.layers} layers", band.name):
        x = max(span.end - text_width(words, 7) * ink.pt, after)
        if x + text_width(words, 7) * ink.pt <= span.end + room:
            ink.text(x, y, words, 7)
            return x - 8 * ink.pt
    return span.end + room


def _rulers(ink: Sheet, span: Span, low: float, high: float, outer: float, units: Units) -> None:
    """A ruler along the lower edge, from the start of the cloth, and one along its start, from the cloth's own edge.

    `outer` is the width of the selvedge beyond the lower edge, mm.
    """
    pt = ink.pt
    step = next((s for s in STEPS[units] if s >= LEAST_STEP * pt), STEPS[units][-1])
    one, unit = (INCH, "in") if units is Units.INCHES else (10.0, "cm")
    foot = low - SELVEDGE * pt
    for i in range(ceil(span.start / step - 1e-6), floor(span.end / step + 1e-6) + 1):
        x = i * step
        ink.line([(x, foot), (x, foot - 3.5 * pt)], 0.5)
        words = f"{x / one:.0f}" + (f" {unit}" if x == 0 else "")
        ink.text(x, foot - 11 * pt, words, 6, side="center")
    side = span.start - 2 * pt
    for i in range(ceil(outer / step - 1e-6), floor((high - low + outer) / step + 1e-6) + 1):
        y = low - outer + i * step
        ink.line([(side, y), (side - 3.5 * pt, y)], 0.5)
        ink.text(side - 5.5 * pt, y, f"{i * step / one:.0f}", 6, side="right", upright="center")
    if span.start == 0:
        ink.text(span.start - 27 * pt, (low + high) / 2, "start", 7, bold=True, side="center", rotation=90)


def _length(ink: Sheet, span: Span, high: float, units: Units) -> None:
    """Length along the top."""
    words = format_need(span.total, units)
    if not span.is_whole:
        words = f"{format_size(span.start, units)} to {_end(span, units)} of {words}"
    y = high + 23 * ink.pt
    _dimension(ink, (span.start, y), (span.end, y), words)


def _end(span: Span, units: Units) -> str:
    """Where a part of the marker ends; its last at the marker's own end."""
    return (format_need if span.end == span.total else format_size)(span.end, units)


def _widths(ink: Sheet, bands: Sequence[Band], span: Span, units: Units) -> None:
    """Usable width of each band, beyond the end of the cloth; of earlier stretches the width of cloth that lies."""
    pt = ink.pt
    if bands[0].end < span.total:
        y = bands[-1].high + 17 * pt
        wide = format_size(bands[-1].high - bands[0].low, units)
        ink.text(span.start, y, f"{wide} wide, {bands[0].layers} layers", 7)
        return
    for i, band in enumerate(bands):
        x = span.end + 11 * pt
        _dimension(ink, (x, band.low), (x, band.high), format_size(band.width, units))
        if i and band.low_edge == "selvedge":
            ink.text(x + 6 * pt, (bands[i - 1].high + band.low) / 2, "selvedges", 6, upright="bottom")
            ink.text(x + 6 * pt, (bands[i - 1].high + band.low) / 2, "meet", 6, upright="top")


def _dimension(ink: Sheet, start: tuple[float, float], end: tuple[float, float], words: str) -> None:
    """A dimension line, its words in a gap, with a short line across either end."""
    pt, upright = ink.pt, start[0] == end[0]
    across = (3 * pt, 0.0) if upright else (0.0, 3 * pt)
    for x, y in (start, end):
        ink.line([(x - across[0], y - across[1]), (x + across[0], y + across[1])], 0.5)
    ink.arrow(start, end, 0.5, both=True)
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    half, thick = (text_width(words, 8, True) / 2 + 4) * pt, 6 * pt
    dx, dy = (thick, half) if upright else (half, thick)
    ink.area([(x - dx, y - dy), (x + dx, y - dy), (x + dx, y + dy), (x - dx, y + dy)], "white")
    ink.text(x, y, words, 8, bold=True, side="center", upright="center", rotation=90 if upright else 0)
