"""First layouts: one piece after the other, each as far left as it will go."""

from __future__ import annotations

import math
from copy import copy
from itertools import count
from typing import TYPE_CHECKING, Protocol, TypeVar

import numpy as np

from nesting.problem.outline import polygon_area
from nesting.shape.layout import Layout

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

    Paths = list[list[list[int]]]
    Place = tuple[int, int, int]  # number of a shape, x and y in steps

SomeRoom = TypeVar("SomeRoom")

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
    rooms, to_steps = rooms_of(shapes, nofit), shapes.grid.to_steps
    lengths = [int(to_steps(shape.length)) for shape in shapes.all]
    placed = faults_placed(shapes)

    def best(item: int) -> tuple[int, int, int, int]:
        """Where a place of the item would end, and the place: y, x, shape."""
        spots = [(number, *rooms[number].leftmost(placed)) for number in shapes.of_item[item]]
        return min((x + lengths[number], y, x, number) for number, x, y in spots)

    instead = {choice.item: choice.instead for choice in shapes.problem.choices}
    by_turn: list[tuple[int, list[Place]]] = []
    for i in order:
        items: tuple[int, ...] = (int(shapes.items[i]),)
        if others := instead.get(items[0]):
            # Those that stand in are looked at one by one, as if the others were not there.
            ends = [max(best(item)[0] for item in way) for way in (items, others)]
            items = items if ends[0] <= ends[1] else others
        start = len(placed)
        for item in items:
            _, y, x, number = best(item)
            placed.append((number, x, y))
        by_turn.append((int(i), placed[start:]))
    return laid_out(placed[: len(shapes.faults)] + [place for _, places in sorted(by_turn) for place in places], shapes)


def faults_placed(shapes: Shapes) -> list[Place]:
    """The faults of the cloth, where they are."""
    firsts = [(number, shapes.all[number].first, shapes.all[number].low) for number in shapes.faults]
    return [(number, *shapes.grid.to_steps([x, y]).tolist()) for number, x, y in firsts]


def laid_out(places: list[Place], shapes: Shapes) -> Layout:
    """The layout of outlines in their places."""
    numbers, x, y = np.array(places, dtype=np.int64).T
    layout = Layout(numbers, shapes.grid.to_mm(x), shapes.grid.to_mm(y), 0.0)
    layout.length = layout.extent(shapes)
    return layout


def rooms_of(shapes: Shapes, nofit: NoFit) -> list[Room]:
    """For each shape where it may still lie; shapes that look alike share one."""
    problem = shapes.problem
    longest = [max(shapes.all[number].length for number in of_item) for of_item in shapes.of_item]
    for choice in problem.choices:
        longest[choice.item] = max(longest[choice.item], sum(longest[other] for other in choice.instead))
    end = sum(longest[item] for item in shapes.items)
    # Behind the last fault there is room for all in a row, each begun on the next line of the pattern.
    end += max((float(fault[:, 0].max()) + problem.gap for fault in problem.faults), default=0.0)
    each = problem.gap + (problem.repeat.along if problem.repeat else 0.0)
    right = int(shapes.grid.to_steps(end + each * len(shapes.items)))
    known: dict[tuple[float, ...], Room] = {}
    rooms = []
    for number, shape in enumerate(shapes.all):
        key = nofit.twin[number], shape.low, shape.high, shape.first, *shape.steps
        if key not in known:
            low, high = shapes.grid.to_steps([shape.low, shape.high]).tolist()
            if any(shape.steps):
                known[key] = _Pattern(nofit, number)
            else:
                known[key] = (_Line if high - low < THIN else _Region)(nofit, number, right, low, high)
        rooms.append(known[key])
    return rooms


class Room(Protocol):
    """Positions that a shape may still take."""

    def leftmost(self, placed: list[Place]) -> tuple[int, int]:
        """The leftmost free position, in steps; the lowest of them. What was placed at earlier calls comes first."""
        ...

    def copy(self) -> Room:
        """The same, to go on from with others placed."""
        ...


def _changed(room: SomeRoom, **parts: object) -> SomeRoom:
    """A copy of a room, with some parts of its own."""
    other = copy(room)
    vars(other).update(parts)
    return other


class _Region:
    """Positions that a shape may still take: a region, kept up to date when it is asked for."""

    def __init__(self, nofit: NoFit, number: int, right: int, low: int, high: int) -> None:
        self._nofit, self._number = nofit, number
        self._free: Paths = [[[0, low], [right, low], [right, high], [0, high]]]
        self._done = 0

    def leftmost(self, placed: list[Place]) -> tuple[int, int]:
        """The leftmost free position, in steps; the lowest of them."""
        if self._done < len(placed):
            self._take_out(placed[self._done :])
            self._done = len(placed)
        x, y = min(min(path) for path in self._free)
        return x, y

    def copy(self) -> _Region:
        """The same, to go on from with others placed."""
        return copy(self)

    def _take_out(self, placed: list[Place]) -> None:
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
        self._nofit, self._number = nofit, number
        self._y = (low + high) // 2
        self._taken: list[tuple[float, float]] = []
        self._done = 0

    def leftmost(self, placed: list[Place]) -> tuple[int, int]:
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

    def copy(self) -> _Line:
        """The same, to go on from with others placed."""
        return _changed(self, _taken=list(self._taken))


class _Pattern:
    """Positions that a shape bound to the cloth's pattern may still take: on lines, at whole repeats."""

    def __init__(self, nofit: NoFit, number: int) -> None:
        self._nofit, self._number, self._shape = nofit, number, nofit.shapes.all[number]
        self._columns: list[tuple[list[tuple[float, float]], int]] = []
        self._rows: list[_Line] = []
        self._reaches: dict[int, tuple[int, int]] = {}
        self._to_steps, self._to_mm = nofit.shapes.grid.to_steps, nofit.shapes.grid.to_mm
        if not self._shape.steps[0]:
            heights = np.arange(self._shape.low, self._shape.high + self._shape.steps[1] / 2, self._shape.steps[1])
            self._rows = [_Line(nofit, number, 0, y, y) for y in self._to_steps(heights).tolist()]

    def leftmost(self, placed: list[Place]) -> tuple[int, int]:
        """The leftmost free position on a line, in steps; the lowest of them."""
        if self._rows:
            return min(row.leftmost(placed) for row in self._rows)
        for k in count():
            x = int(self._to_steps(self._shape.first + k * self._shape.steps[0]))
            y = self._lowest(k, x, placed)
            if y is not None:
                return x, y
        raise AssertionError

    def copy(self) -> _Pattern:
        """The same, to go on from with others placed."""
        columns = [(list(taken), done) for taken, done in self._columns]
        return _changed(self, _columns=columns, _rows=[row.copy() for row in self._rows])

    def _lowest(self, k: int, x: int, placed: list[Place]) -> int | None:
        """The lowest free position in column k."""
        if k == len(self._columns):
            self._columns.append(([], 0))
        taken, done = self._columns[k]
        for number, other_x, other_y in placed[done:]:
            left, right = self._reach(number)
            if left < x - other_x < right:
                paths = [path[:, ::-1] for path in self._nofit.paths(number, self._number)]
                taken += crossings(paths, other_y, other_x, x)
        taken.sort()
        self._columns[k] = taken, len(placed)
        shape = self._shape
        y, high = self._to_steps([shape.low, shape.high]).tolist()
        for start, end in taken:
            if start > y:
                break
            if end > y:
                y = self._line_above(end)
        return y if y <= high else None

    def _line_above(self, y: float) -> int:
        """The first allowed height from a height on, in steps."""
        low, step = self._shape.low, self._shape.steps[1]
        if not step:
            return math.ceil(y)
        return int(self._to_steps(low + math.ceil((float(self._to_mm(y)) - low) / step) * step))

    def _reach(self, number: int) -> tuple[int, int]:
        """Least and greatest offset along the cloth at which a shape can be in the way."""
        if number not in self._reaches:
            ends = [(int(path[:, 0].min()), int(path[:, 0].max())) for path in self._nofit.paths(number, self._number)]
            self._reaches[number] = min(left for left, _ in ends), max(right for _, right in ends)
        return self._reaches[number]


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
