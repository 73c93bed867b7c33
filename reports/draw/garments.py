"""Sketches of garments with their names, to choose one by."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from reports.draw.kit.sheet import LEADING, MARGIN, PAGE_WIDTH, new_page, shorten, wrap

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from pieces.garments import Garment

    Floats = NDArray[np.float64]

COLUMNS = 6
BOX = (100.0, 120.0)
"""In which sketches are drawn, points of the page."""

NAME, TITLE, TITLE_LINES = 10.0, 7.0, 2
"""Sizes of the type under a sketch, and how many lines a title has."""

ROW = BOX[1] + 14 + NAME + TITLE_LINES * TITLE * LEADING + 22
STEPS = 16
"""Into so many parts a curve is flattened."""


def garments_page(garments: Sequence[Garment]) -> Figure:
    """Draw the sketch of each garment, its name and title below.

    Returns
    -------
    Figure
        As wide as A4 on its side, as high as the garments take.
    """
    height = 2 * MARGIN + 34 + ceil(len(garments) / COLUMNS) * ROW
    figure, page = new_page(height)
    page.text(MARGIN, height - MARGIN - 15, "Garments", 15, bold=True)
    column = (PAGE_WIDTH - 2 * MARGIN) / COLUMNS
    for number, garment in enumerate(garments):
        x = MARGIN + column * (number % COLUMNS)
        top = height - MARGIN - 34 - ROW * (number // COLUMNS)
        left = x + (column - BOX[0]) / 2
        for line in sketch_lines(garment.sketch):
            page.line(np.array([left, top]) + line * (1, -1), 1.0)
        middle, base = x + column / 2, top - BOX[1] - 16
        page.text(middle, base, shorten(garment.name, NAME, column - 8, bold=True), NAME, bold=True, side="center")
        for words in wrap(garment.title, TITLE, column - 12)[:TITLE_LINES]:
            base -= TITLE * LEADING
            page.text(middle, base - 2, words, TITLE, side="center")
    return figure


def sketch_lines(path: str) -> Iterator[Floats]:
    """The lines of an SVG path, each flattened to points, shape (n, 2), y down; none of a path that is not sound."""
    from svgelements import Close, Line, Move, Path  # type: ignore[import-untyped]

    try:
        drawn = list(Path(path))
    except (ValueError, TypeError, IndexError, AttributeError):  # what the reader of paths raises
        return
    points: list[tuple[float, float]] = []
    for part in drawn:
        if isinstance(part, Move):
            if len(points) > 1:
                yield np.array(points)
            points = [(part.end.x, part.end.y)]
        elif part.end is not None and points:
            ends = (1.0,) if isinstance(part, Line | Close) else [i / STEPS for i in range(1, STEPS + 1)]
            points += [(at.x, at.y) for at in map(part.point, ends)]
    if len(points) > 1:
        yield np.array(points)
