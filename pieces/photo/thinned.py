"""Marks thinned to lines one pixel wide, and followed: paths between ends and crossings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

AROUND = ((-1, 0), (-1, 1), (0, 1), (1, 1), (1, 0), (1, -1), (0, -1), (-1, -1))
"""Neighbours of a pixel, clockwise from the upper one."""


@dataclass(eq=False)
class InkPath:
    """Pixels in order; at each end the number of the crossing that it begins at, or None.

    Parameters
    ----------
    points
        Row and column.
    ends
        Crossings; of a ring, twice None.
    is_ring
        Whether it ends where it begins.
    """

    points: Floats
    ends: list[int | None]
    is_ring: bool = False


@cache
def _tables() -> tuple[NDArray[np.bool_], NDArray[np.bool_], NDArray[np.bool_]]:
    """By the code of a pixel's neighbours: whether it goes in each half of a pass, and whether it is not needed."""
    halves = np.zeros((2, 256), dtype=bool)
    spare = np.zeros(256, dtype=bool)
    for code in range(256):
        p = [code >> k & 1 for k in range(8)]
        many = sum(p)
        turns = sum(p[k] == 0 and p[(k + 1) % 8] == 1 for k in range(8))
        if 2 <= many <= 6 and turns == 1:
            halves[0, code] = p[0] * p[2] * p[4] == 0 and p[2] * p[4] * p[6] == 0
            halves[1, code] = p[0] * p[2] * p[6] == 0 and p[0] * p[4] * p[6] == 0
        crossing = sum((1 - p[k]) * (1 - (1 - p[(k + 1) % 8]) * (1 - p[(k + 2) % 8])) for k in (0, 2, 4, 6))
        spare[code] = many >= 2 and crossing == 1 and p[0] + p[2] + p[4] + p[6] < 4
    return halves[0], halves[1], spare


def thinned(mask: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The middle lines of marks (Zhang and Suen 1984), without the pixels that only fill corners."""
    padded = np.pad(mask > 0, 1).astype(np.uint8)
    flat, wide = padded.ravel(), padded.shape[1]
    offsets = [dr * wide + dc for dr, dc in AROUND]
    first, second, spare = _tables()
    at = np.flatnonzero(flat)
    while True:
        before = len(at)
        for table in (first, second):
            codes = np.zeros(len(at), dtype=np.int64)
            for k, offset in enumerate(offsets):
                codes |= flat[at + offset].astype(np.int64) << k
            gone = table[codes]
            flat[at[gone]] = 0
            at = at[~gone]
        if len(at) == before:
            break
    for place in at.tolist():
        code = sum(int(flat[place + offset]) << k for k, offset in enumerate(offsets))
        if spare[code]:
            flat[place] = 0
    return padded[1:-1, 1:-1]


def paths(lines: NDArray[np.uint8]) -> tuple[list[InkPath], Floats]:
    """The paths of thinned lines, and the middles of the crossings where three or more meet."""
    import cv2

    kernel = np.ones((3, 3), np.float32)
    many: Any = cv2.filter2D(lines, cv2.CV_16S, kernel, borderType=cv2.BORDER_CONSTANT)
    crossing = ((np.asarray(many) > 3) & (lines > 0)).astype(np.uint8)
    count, marks, _, middles = cv2.connectedComponentsWithStats(crossing, connectivity=8)
    rest = ((lines > 0) & (crossing == 0)).astype(np.uint8)
    number, labels = cv2.connectedComponents(rest, connectivity=8)
    rows, columns = np.nonzero(rest)
    own = labels[rows, columns]
    order = np.argsort(own, kind="stable")
    starts = np.searchsorted(own[order], np.arange(1, number + 1))
    found = []
    for label in range(1, number):
        those = order[starts[label - 1] : starts[label]]
        found.append(_path(list(zip(rows[those].tolist(), columns[those].tolist(), strict=True)), marks))
    return found, np.asarray(middles, dtype=np.float64)[1:count, ::-1]


def _path(pixels: list[tuple[int, int]], marks: NDArray[Any]) -> InkPath:
    """One path out of its pixels, in order, and the crossings at its ends."""
    left = set(pixels)
    near = {at: [(at[0] + r, at[1] + c) for r, c in AROUND if (at[0] + r, at[1] + c) in left] for at in pixels}
    start = next((at for at in pixels if len(near[at]) < 2), pixels[0])
    ordered = [start]
    left.discard(start)
    while True:
        row, column = ordered[-1]
        after = [at for at in near[row, column] if at in left]
        if not after:
            break
        ordered.append(min(after, key=lambda at: abs(at[0] - row) + abs(at[1] - column)))
        left.discard(ordered[-1])
    is_ring = len(ordered) > 6 and len(near[start]) == 2
    ends: list[int | None] = [None, None]
    if not is_ring:
        first = _crossings(ordered[0], marks)
        last = _crossings(ordered[-1], marks)
        ends[0] = first[0] if first else None
        others = [each for each in last if each != ends[0]] if len(ordered) == 1 else last
        ends[1] = others[0] if others else None
    return InkPath(np.array(ordered, dtype=np.float64), ends, is_ring)


def _crossings(at: tuple[int, int], marks: NDArray[Any]) -> list[int]:
    """Numbers of the crossings that a pixel touches."""
    high, wide = marks.shape
    found = []
    for row, column in ((at[0] + r, at[1] + c) for r, c in AROUND):
        if 0 <= row < high and 0 <= column < wide and marks[row, column]:
            found.append(int(marks[row, column]) - 1)
    return list(dict.fromkeys(found))
