"""The stripe, check or border of the cloth, and the points of pieces that lie on its lines."""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nesting.problem.problem import Problem
    from reports.draw.cloth import Span
    from reports.draw.kit.sheet import Sheet
    from reports.draw.kit.surface import Style
    from reports.rows import LaidRow

DOTTED: Style = (0, (1, 2))
DASH_DOTTED: Style = (0, (8, 2, 1, 2))
RING = 3.2
"""Radius of the ring round a match point, points."""

MATCH_NOTE = "Dotted lines across the whole cloth: its stripe or check.  Ring: match point, which lies on a line."


BORDER_NOTE = "Dash-dotted line along the cloth: its border, on which the named edges lie once finished."


def draw_repeat(sheet: Sheet, problem: Problem, span: Span) -> None:
    """Draw the lines of the stripe, check or border on a part of the cloth; none where the pattern does not count."""
    if problem.border:
        sheet.line([(span.start, problem.border), (span.end, problem.border)], 0.9, style=DASH_DOTTED, colour="0.3")
    repeat = problem.repeat
    if repeat is None:
        return
    low = min(band.low for band in problem.bands)
    high = low + problem.width
    lines = [[(x, low), (x, high)] for x in line_places(repeat.start, repeat.along, span.start, span.end)]
    lines += [[(span.start, y), (span.end, y)] for y in line_places(repeat.low, repeat.across, low, high)]
    for line in lines:
        sheet.line(line, 0.5, style=DOTTED, colour="0.45")


def line_places(first: float, step: float, low: float, high: float) -> list[float]:
    """Where lines lie from `low` to `high`, one of them at `first`; none without a step."""
    if not step:
        return []
    return [first + i * step for i in range(ceil((low - first) / step - 1e-9), floor((high - first) / step + 1e-9) + 1)]


def draw_matches(sheet: Sheet, rows: Iterable[LaidRow]) -> None:
    """Draw a ring round the match point of each piece, a dot in it."""
    turn = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    circle = np.column_stack([np.cos(turn), np.sin(turn)]) * sheet.pt
    for point in match_points(rows):
        sheet.line(point + RING * circle, 0.9, closed=True)
        sheet.area(point + 0.8 * circle, "black")


def match_points(rows: Iterable[LaidRow]) -> Iterator[Sequence[float]]:
    """Where on the cloth the match points of pieces lie, mm."""
    for row in rows:
        if row.variant.match is not None:
            yield row.placement.x + row.variant.match[0], row.placement.y + row.variant.match[1]
