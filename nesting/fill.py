"""First layouts: one piece after the other, each as far left as it will go."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nesting.layout import Layout
from nesting.problem import polygon_area

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from nesting.nofit import NoFit
    from nesting.shapes import Shapes

    Paths = list[list[list[int]]]

THIN = 64
"""Steps: a range of y narrower than this is a line."""


def orders(shapes: Shapes, seed: int) -> Iterator[NDArray[np.int64]]:
    """Orders in which to lay the outlines, the most promising first: by size, then disturbed at random.

    What can only lie on a line, as on a fold, comes before all else: the line fills up.
    """
    first = [shapes.all[numbers[0]] for numbers in shapes.of_item]
    area = np.array([polygon_area(shape.outline) for shape in first])
    size = np.array([np.ptp(shape.outline, axis=0) for shape in first])
    keys = (area, size[:, 0] * size[:, 1], size[:, 0], size[:, 1] + 0.1 * size[:, 0], size.max(axis=1))
    free = np.array([max(shapes.all[number].high - shapes.all[number].low for number in n) for n in shapes.of_item])
    loose = (free > 0)[shapes.items]
    for key in keys:
        yield np.lexsort((-key[shapes.items], loose))
    rng = np.random.default_rng(seed)
    while True:
        noise = rng.normal(0, 0.3, len(shapes.items))
        yield np.lexsort((noise - np.log(keys[int(rng.integers(len(keys)))][shapes.items]), loose))


def fill(shapes: Shapes, nofit: NoFit, order: NDArray[np.int64]) -> Layout:
    """Lay the outlines in the order given, each in the way and place where it ends leftmost, then lowest.

    Idea: bottom-left placement on no-fit polygons, as in Gomes and Oliveira 2002 (from memory).
    """
    rooms = _rooms(shapes, nofit)
    n = len(order)
    layout = Layout(np.zeros(n, dtype=np.int64), np.zeros(n), np.zeros(n), 0.0)
    placed: list[tuple[int, int, int]] = []
    for i in order:
        choices = []
        for number in shapes.of_item[shapes.items[i]]:
            x, y = rooms[number].leftmost(placed)
            choices.append((x + int(shapes.grid.to_steps(shapes.all[number].length)), y, x, number))
        _, y, x, number = min(choices)
        placed.append((number, x, y))
        layout.shape[i] = number
        layout.x[i], layout.y[i] = shapes.grid.to_mm(x), shapes.grid.to_mm(y)
    layout.length = layout.extent(shapes)
    return layout


def _rooms(shapes: Shapes, nofit: NoFit) -> list[_Room | _Line]:
    """For each shape where it may still lie; shapes that look alike share one."""
    end = sum(max(shapes.all[number].length for number in shapes.of_item[item]) for item in shapes.items)
    right = int(shapes.grid.to_steps(end + shapes.problem.gap * len(shapes.items)))
    known: dict[tuple[int, float, float], _Room | _Line] = {}
    rooms = []
    for number, shape in enumerate(shapes.all):
        key = nofit.twin[number], shape.low, shape.high
        if key not in known:
            low, high = shapes.grid.to_steps([shape.low, shape.high]).tolist()
            known[key] = (_Line if high - low < THIN else _Room)(nofit, number, right, low, high)
        rooms.append(known[key])
    return rooms


class _Room:
    """Positions that a shape may still take: a region, kept up to date when it is asked for."""

    def __init__(self, nofit: NoFit, number: int, right: int, low: int, high: int) -> None:
        self._nofit, self._number = nofit, number
        self._free: Paths = [[[0, low], [right, low], [right, high], [0, high]]]
        self._done = 0

    def leftmost(self, placed: list[tuple[int, int, int]]) -> tuple[int, int]:
        """The leftmost free position, in steps; the lowest of them."""
        if self._done < len(placed):
            self._take_out(placed[self._done :])
            self._done = len(placed)
        x, y = min(min(path) for path in self._free)
        return x, y

    def _take_out(self, placed: list[tuple[int, int, int]]) -> None:
        import pyclipper

        clipper = pyclipper.Pyclipper()
        clipper.AddPaths(self._free, pyclipper.PT_SUBJECT, True)
        for number, x, y in placed:
            paths = [(path + (x, y)).tolist() for path in self._nofit.paths(number, self._number)]
            clipper.AddPaths(paths, pyclipper.PT_CLIP, True)
        self._free = clipper.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)


class _Line:
    """Positions that a shape on a fold, or as high as its band, may still take: stretches of a line."""

    def __init__(self, nofit: NoFit, number: int, right: int, low: int, high: int) -> None:
        self._nofit, self._number, self._right = nofit, number, right
        self._y = (low + high) // 2
        self._taken: list[tuple[float, float]] = []
        self._done = 0

    def leftmost(self, placed: list[tuple[int, int, int]]) -> tuple[int, int]:
        """The leftmost free position, in steps."""
        for number, x, y in placed[self._done :]:
            self._taken += crossings(self._nofit.paths(number, self._number), x, y, self._y)
        self._done = len(placed)
        self._taken.sort()
        left = 0.0
        for start, end in self._taken:
            if start > left:
                break
            left = max(left, end)
        return math.ceil(left), self._y


def crossings(paths: list[NDArray[np.int64]], x: int, y: int, line: int) -> list[tuple[float, float]]:
    """Stretches of a line along the cloth that lie inside a no-fit polygon moved by (x, y)."""
    at = []
    for path in paths:
        start, end = path, np.roll(path, -1, axis=0)
        cut = (start[:, 1] + y <= line) != (end[:, 1] + y <= line)
        a, b = start[cut].astype(np.float64), end[cut].astype(np.float64)
        at.append(a[:, 0] + (line - y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1]) + x)
    ends = np.sort(np.concatenate(at)) if at else np.zeros(0)
    return list(zip(ends[::2].tolist(), ends[1::2].tolist(), strict=True))
