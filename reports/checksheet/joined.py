"""Sheets that were read joined as they are taped: by the diamonds on their edges."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, field
from statistics import median
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ROUND = 0.05
"""Outlines on two sheets are one where they differ by less, mm: numbers in a file are rounded."""


class ClosedLine(NamedTuple):
    """A closed line and its layer."""

    points: Floats
    layer: str


class Words(NamedTuple):
    """Words, where they begin, and whether they are in bold."""

    x: float
    y: float
    text: str
    bold: bool = False


@dataclass
class ReadSheet:
    """What is on a page, mm: closed outlines, lines of two points, words, test squares, middles of diamonds."""

    outlines: list[ClosedLine] = field(default_factory=list)
    lines: list[Floats] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    squares: list[tuple[float, float]] = field(default_factory=list)
    diamonds: list[tuple[float, float]] = field(default_factory=list)

    @property
    def place(self) -> tuple[int, int] | None:
        """Its row and column, counted from 0, if it is one of several."""
        said = (re.fullmatch(r"row (\d+), column ([A-Z]+)", words.text) for words in self.words)
        found = next(filter(None, said), None)
        return None if found is None else (int(found[1]) - 1, _number(found[2]))


def joined(sheets: Sequence[ReadSheet]) -> list[ReadSheet]:
    """Sheets of one drawing as one, so that a piece on several has all that stands in it; other pages as they are.

    A diamond at the right edge of a sheet is the one at the left edge of the next.
    """
    placed = {place: sheet for sheet in sheets if (place := sheet.place) is not None}
    across = _step((_ends(sheet, 0)[1] - _ends(placed[row, column + 1], 0)[0]
                    for (row, column), sheet in placed.items() if (row, column + 1) in placed))  # fmt: skip
    down = _step((_ends(placed[row + 1, column], 1)[1] - _ends(sheet, 1)[0]
                  for (row, column), sheet in placed.items() if (row + 1, column) in placed))  # fmt: skip
    whole, near = ReadSheet(), defaultdict[tuple[int, int], list[ClosedLine]](list)
    for (row, column), sheet in placed.items():
        off = np.array([column * across, -row * down])
        for outline in sheet.outlines:
            moved = outline._replace(points=outline.points + off)
            x, y = np.floor(moved.points[0]).astype(int).tolist()
            cells = [near[x + i, y + j] for i in (-1, 0, 1) for j in (-1, 0, 1)]
            if not any(_is_same(moved, other) for cell in cells for other in cell):
                whole.outlines.append(moved)
                near[x, y].append(moved)
        whole.lines += [line + off for line in sheet.lines]
        whole.words += [words._replace(x=words.x + off[0], y=words.y + off[1]) for words in sheet.words]
    return [*([whole] if placed else []), *(sheet for sheet in sheets if sheet.place is None)]


def _is_same(one: ClosedLine, other: ClosedLine) -> bool:
    return (
        one.layer == other.layer
        and one.points.shape == other.points.shape
        and float(np.abs(one.points - other.points).max()) < ROUND
    )


def _step(found: Iterable[float]) -> float:
    """From one sheet to the next, mm; nothing is on two where none is beside another."""
    steps = list(found)
    return median(steps) if steps else 0.0


def _ends(sheet: ReadSheet, axis: int) -> tuple[float, float]:
    """The least and greatest place of a diamond along an axis."""
    places = [middle[axis] for middle in sheet.diamonds]
    return min(places), max(places)


def _number(letters: str) -> int:
    """A column by its letters, A to Z and then AA, counted from 0."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1
