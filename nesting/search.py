"""The search proper: shorten the strip, take the overlap out, compact, and begin again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.compact import Compaction
from nesting.separate import Separation

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.layout import Layout
    from nesting.nofit import NoFit
    from nesting.shapes import Shapes

FIRST_CUT, LEAST_CUT = 0.015, 0.0025
"""Shares of the length taken off at first, and at least."""

CELLS = 80
"""Cells of the raster across the cloth."""


class Search:
    """Rounds of shortening that start from a layout without overlap.

    Attributes
    ----------
    best
        The shortest layout found; may be set from outside.
    """

    def __init__(self, shapes: Shapes, nofit: NoFit, start: Layout, seed: int) -> None:
        self.shapes, self.best = shapes, start
        self._compaction = Compaction(shapes)
        self._separation = Separation(shapes, nofit, CELLS, seed)
        self._rng = np.random.default_rng(seed)
        self._areas = np.array([problem_area(shapes, item) for item in shapes.items])
        self._lengths = np.array([shape.length for shape in shapes.all])
        self._going = self._rounds()

    def rounds(self) -> Iterator[Layout | None]:
        """Yield each better layout, and None many times a second in between; may be left and taken up again."""
        while True:
            yield next(self._going)

    def _rounds(self) -> Iterator[Layout | None]:
        best = self.best.copy()
        self._compaction.compact(best, 10)
        self.best = best
        yield best
        cut, fails, now = FIRST_CUT, 0, best
        while True:
            trial = self._squeezed(now, self.best.length * (1 - cut))
            if fails:
                self._disturb(trial)
            for _ in self._separation.run(trial):
                yield None
            if self._compaction.part(trial, 12):
                self._compaction.compact(trial, 10)
                now, fails = trial, 0
                if trial.length < self.best.length:
                    self.best = trial
                    yield trial
            else:
                fails += 1
                cut = max(LEAST_CUT, cut * 0.6)
                now = self.best if fails % 3 == 0 else trial

    def _squeezed(self, layout: Layout, length: float) -> Layout:
        trial = layout.copy()
        sizes = self._lengths[trial.shape]
        trial.x = trial.x * (length - sizes) / np.maximum(trial.length - sizes, 1e-9 * length)
        trial.length = length
        return trial

    def _disturb(self, trial: Layout) -> None:
        """Exchange large outlines of different items."""
        n = len(trial.x)
        large = np.argsort(-self._areas, kind="stable")[: max(2, n // 2)]
        for _ in range(int(self._rng.integers(1, 3))):
            i, j = self._rng.choice(large, 2, replace=False)
            trial.x[[i, j]], trial.y[[i, j]] = trial.x[[j, i]], trial.y[[j, i]]


def problem_area(shapes: Shapes, item: int) -> float:
    """Area of one placement of an item."""
    return shapes.problem.items[item].area
