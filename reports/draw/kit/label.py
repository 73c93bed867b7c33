"""Words on a piece: as much as it has room for, and never beyond its edge."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

import numpy as np
import shapely

from reports.draw.kit.sheet import LEADING, text_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from shapely.geometry.base import BaseGeometry

    from reports.draw.kit.surface import Surface

SIZES = (8.0, 7.0, 6.0)
SMALL_SIZES = (8.0, 7.0, 6.0, 5.0)
"""Type sizes tried, largest first; the smaller ones only for a bare number."""

GRID, BATCH = 20, 24
"""Places tried along each side of the room there is, and how many of them at once."""


@dataclass(frozen=True)
class Label:
    """What could be said of a piece: its number, its name, and further remarks in order of weight."""

    number: str
    name: str
    remarks: tuple[str, ...] = ()

    def choices(self) -> Iterator[tuple[tuple[str, ...], tuple[float, ...]]]:
        """Blocks of lines with the name, the fullest first, each with the sizes of type it may be set in."""
        head = f"{self.number}  {self.name}"
        for kept in range(len(self.remarks), -1, -1):
            remarks = self.remarks[:kept]
            yield (head, *remarks), SIZES
            if len(remarks) > 1:
                yield (head, " · ".join(remarks)), SIZES
            if remarks:
                yield (" · ".join((head, *remarks)),), SIZES
        yield (self.number, self.name), SIZES

    def write(self, sheet: Surface, rooms: Sequence[BaseGeometry]) -> bool:
        """Write all words if the first of several rooms holds them, else the fullest block that the next one holds.

        Returns whether even the number found a place.
        """
        for number, room in enumerate(rooms):
            shapely.prepare(room)
            is_best = number == 0 < len(rooms) - 1
            choices = islice(self.choices(), 1) if is_best else self.choices()
            if any(_write(sheet, room, lines, sizes) for lines, sizes in choices):
                return True
        return any(_write(sheet, room, (self.number,), SMALL_SIZES) for room in rooms)


def _write(sheet: Surface, room: BaseGeometry, lines: Sequence[str], sizes: Sequence[float]) -> bool:
    for size in sizes:
        spot = find_spot(room, *block_size(lines, size, sheet.pt))
        if spot is not None:
            write_block(sheet, spot, lines, size)
            return True
    return False


def block_size(lines: Sequence[str], size: float, pt: float) -> tuple[float, float]:
    """Width and height of a block of text with a rim of clear space, in units of the sheet."""
    width = max(text_width(words, size, i == 0) for i, words in enumerate(lines))
    return (width + 4) * pt, (len(lines) * LEADING * size + 2) * pt


def find_spot(
    room: BaseGeometry, width: float, height: float, near: BaseGeometry | None = None
) -> tuple[float, float] | None:
    """The middle of a box of this size within the room, close to `near`, or else to the room's own middle."""
    if room.is_empty:
        return None
    x0, y0, x1, y1 = room.bounds
    if x1 - x0 < width or y1 - y0 < height:
        return None
    xs, ys = np.linspace(x0 + width / 2, x1 - width / 2, GRID), np.linspace(y0 + height / 2, y1 - height / 2, GRID)
    x, y = (a.ravel() for a in np.meshgrid(xs, ys))
    for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1)):  # corners first: points are quick to test, boxes are not
        inside = shapely.contains_xy(room, x + dx * width / 2, y + dy * height / 2)
        x, y = x[inside], y[inside]
    away = shapely.distance(shapely.points(x, y), room.centroid if near is None else near)
    order = np.argsort(away, kind="stable")
    for first in range(0, len(order), BATCH):
        near_x, near_y = x[order[first : first + BATCH]], y[order[first : first + BATCH]]
        left, low = near_x - width / 2, near_y - height / 2
        fits = shapely.contains(room, shapely.box(left, low, left + width, low + height))
        if fits.any():
            best = int(fits.argmax())
            return float(near_x[best]), float(near_y[best])
    return None


def write_block(sheet: Surface, spot: tuple[float, float], lines: Sequence[str], size: float) -> None:
    """Write lines centred on a spot, the first in bold, on a white ground."""
    x, y = spot
    step = LEADING * size * sheet.pt
    top = y + step * (len(lines) - 1) / 2
    width, height = block_size(lines, size, sheet.pt)
    half_w, half_h = width / 2 - sheet.pt, height / 2 - sheet.pt
    sheet.area(
        [(x - half_w, y - half_h), (x + half_w, y - half_h), (x + half_w, y + half_h), (x - half_w, y + half_h)],
        "white",
    )
    for i, words in enumerate(lines):
        sheet.text(x, top - i * step, words, size, bold=i == 0, side="center", upright="center")
