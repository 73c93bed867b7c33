"""Linear programs that part and compact a layout, all outlines at once.

For each two convex parts that could meet, a line is chosen that parts them best where they lie now; kept apart by
these lines, all outlines move together, within a reach; then the lines are chosen anew (Li and Milenkovic 1995;
Gomes and Oliveira 2006).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.kernels.gaps import gaps
from nesting.search.linear_program import LinearProgram
from nesting.search.meter import WorkMeter

if TYPE_CHECKING:
    from collections.abc import Generator

    from numpy.typing import NDArray

    from nesting.shape.layout import Layout
    from nesting.shape.shapes import Shapes

MARGIN = 1e-8
"""Kept between outlines, as a share of the cloth's width, so that rounding cannot make them overlap."""

REACH = 0.05
"""How far an outline may move in a step, as a share of the cloth's width."""

CLEAR = 1e-9
"""Overlap that counts as none, as a share of the cloth's width."""


STEPS = 20
"""Linear programs a layout gets at most."""

LEAST_GAIN = 2e-4
"""A step that shortens a layout by a smaller share is the last."""

LEAST_PROGRESS = 0.95
"""Share of the deepest overlap that a step may leave."""


class Compaction:
    """The linear programs of a problem.

    Lengths inside are in cloth widths, so that tolerances of the solver mean the same for every cloth.
    """

    def __init__(self, shapes: Shapes, meter: WorkMeter | None = None) -> None:
        self.shapes, self.unit, self._meter = shapes, shapes.problem.width, meter or WorkMeter()
        parts = [shape.outline[list(part)] / self.unit for shape in shapes.all for part in shape.parts]
        self._corners = np.concatenate(parts)
        self._parts = np.cumsum([0, *map(len, parts)])
        self._of_shape = np.cumsum([0, *(len(shape.parts) for shape in shapes.all)])
        self._boxes = np.array([[*part.min(axis=0), *part.max(axis=0)] for part in parts])
        self._low = np.array([shape.low for shape in shapes.all]) / self.unit
        self._high = np.array([shape.high for shape in shapes.all]) / self.unit
        self._lengths = np.array([shape.length for shape in shapes.all]) / self.unit
        self._bound = np.array([shape.is_bound for shape in shapes.all]).T

    def settle(
        self, layout: Layout, limit: float, fixed: NDArray[np.bool_] | None = None
    ) -> Generator[None, None, bool]:
        """Part the outlines of a layout, within a limit to its length, and shorten it; whether they parted.

        Overlap weighs more than length, so that the strip grows where that clears overlap. Yields after each
        linear program. Outlines that are `fixed` stay where they are, and may overlap one another.
        """
        fixed = np.zeros(len(layout.x), dtype=np.bool_) if fixed is None else fixed
        overlap = np.inf
        for _ in range(STEPS):
            length, before = layout.length, overlap
            overlap = self._step(layout, limit, fixed)
            yield
            if overlap == np.inf:
                return before <= MARGIN + CLEAR
            if overlap <= MARGIN + CLEAR:
                if before <= MARGIN + CLEAR and layout.length > length * (1 - LEAST_GAIN):
                    break
            elif overlap > LEAST_PROGRESS * before:
                return False
        return overlap <= MARGIN + CLEAR

    def _step(self, layout: Layout, limit: float, fixed: NDArray[np.bool_]) -> float:
        """Move a layout by one linear program; returns the deepest overlap left, in cloth widths."""
        lengths, low, high = (v[layout.shape] for v in (self._lengths, self._low, self._high))
        top = limit / self.unit - lengths
        x, y = layout.x / self.unit, layout.y / self.unit
        bound_x, bound_y = self._bound[:, layout.shape] | fixed
        if (x[bound_x] > top[bound_x] + CLEAR).any():
            return np.inf
        x, y = np.where(bound_x, x, np.clip(x, 0, top)), np.where(fixed, y, np.clip(y, low, high))
        pairs, rows = self._rows(layout.shape, x, y)
        free = ~fixed[pairs].all(axis=1)
        pairs, rows = pairs[free], rows[free]
        dx, dy = x[pairs[:, 1]] - x[pairs[:, 0]], y[pairs[:, 1]] - y[pairs[:, 0]]
        room = rows[:, 0] * dx + rows[:, 1] * dy - rows[:, 2]
        overlaps = room < -CLEAR
        # Where pieces fit exactly there is no room for the margin.
        least = rows[:, 2] + np.where(overlaps, MARGIN, np.minimum(room, MARGIN))
        program = LinearProgram(
            np.where(bound_x, x, [np.maximum(x - REACH, 0), np.minimum(x + REACH, top)]),
            np.where(bound_y, y, [np.maximum(y - REACH, low), np.minimum(y + REACH, high)]),
            lengths,
            limit / self.unit,
        )
        program.keep_apart(pairs, rows[:, :2], least, overlaps)
        found = program.solve()
        self._meter.solve(len(least), program.pivots)
        if found is None:
            return np.inf
        layout.x, layout.y = found.x * self.unit, found.y * self.unit
        layout.length = layout.extent(self.shapes)
        return found.overlap

    def _rows(
        self, shape: NDArray[np.int64], x: NDArray[np.float64], y: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Pairs of outlines, and for each a normal and the least offset along it; lines along others dropped."""
        size = 64 * len(x)
        while True:
            pairs, rows = np.empty((size, 2), dtype=np.int64), np.empty((size, 3))
            count = gaps(self._corners, self._parts, self._of_shape, self._boxes, shape, x, y, 2 * REACH, pairs, rows)
            if count <= size:
                break
            size = count
        pairs, rows = pairs[:count], rows[:count]
        # Of lines of one pair in the same direction only the tightest counts.
        key = np.column_stack([pairs, np.rint(rows[:, :2] * 1e9)])
        order = np.lexsort((-rows[:, 2], *key.T))
        same = (key[order][1:] == key[order][:-1]).all(axis=1)
        keep = order[np.concatenate([[True], ~same])] if count else order
        return pairs[keep], rows[keep]
