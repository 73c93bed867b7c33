"""The search proper: shorten the strip, take the overlap out, settle, and begin again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.search.compact import Compaction
from nesting.search.exchange import exchange
from nesting.search.separate import Separation

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from nesting.search.meter import WorkMeter
    from nesting.search.stop import Aims
    from nesting.shape.layout import Layout
    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

CELLS = 80
"""Cells of the raster across the cloth."""

FIRST_CUT, LEAST_CUT = 0.015, 0.001
"""Most and least that a round takes off the length, as a share."""

BAND = 0.004
"""How much longer than the best a layout may be to be gone on from, as a share."""

KICK = 8
"""Rounds without a better layout after which large outlines change places."""

LEAP, REST = 0.03, 8
"""How much longer than the best a layout may be after that, as a share; rounds it has to come near the best again."""

WITHIN_REACH, AT_AIM = 0.015, 0.3
"""How much longer a layout may be than what is aimed at to be pressed straight to it, as a share; and how often."""

EXCHANGE = 0.3
"""Share of rounds in which an item and those that may stand in for it change places, where there are such."""

FEW, ROUNDS_FOR_FEW = 5, 20
"""With so few outlines the search ends by itself, after so many rounds an outline without a better layout."""


class Rounds:
    """Rounds of shortening that start from a layout without overlap.

    A round's layout is gone on from if it is not much longer than the best (record-to-record travel, Dueck
    1993, from memory), so that the search walks about among good layouts. Now and then it leaps further away, and
    has some rounds to come back.

    Attributes
    ----------
    best
        The shortest layout found; may be set from outside.
    """

    def __init__(
        self,
        shapes: Shapes,
        nofit: NoFit,
        start: Layout,
        seed: int,
        meter: WorkMeter | None = None,
        aims: Aims | None = None,
    ) -> None:
        self.shapes, self.best, self._aims = shapes, start, aims
        self._compaction = Compaction(shapes, meter)
        self._separation = Separation(shapes, nofit, CELLS, seed, meter)
        self._rng = np.random.default_rng(seed)
        self._lengths = np.array([shape.length for shape in shapes.all])
        areas = [item.area for item in shapes.problem.items]
        self._areas = np.array([areas[shape.item] if shape.item < len(areas) else 0.0 for shape in shapes.all])
        self._going = self._rounds()

    def rounds(self) -> Iterator[Layout | None]:
        """Yield each better layout, and None many times a second in between; may be left and taken up again."""
        for found in self._going:  # noqa: UP028 - `yield from` would close what is to be taken up again.
            yield found

    def _rounds(self) -> Iterator[Layout | None]:
        now = self.best.copy()
        if (yield from self._compaction.settle(now, now.length)):
            yield self._keep(now)
        cut, stale, away = FIRST_CUT, 0, 0
        enough = ROUNDS_FOR_FEW * len(now.x) if len(now.x) <= FEW else np.inf
        while stale < enough:
            away = away + 1 if now.length > self.best.length * (1 + BAND) else 0
            if away > REST:
                now, away = self.best.copy(), 0
            limit = max(now.length, self.best.length * (1 + BAND))
            trial = self._squeezed(now, self._length(now, cut))
            if self.shapes.problem.choices and self._rng.random() < EXCHANGE:
                exchange(trial, self.shapes, self._rng)
            if not away and stale and stale % KICK == 0:
                self._disturb(trial)
                limit = self.best.length * (1 + LEAP)
            for _ in self._separation.run(trial):
                yield None
            better = None
            if (yield from self._compaction.settle(trial, limit)):
                if trial.length < self.best.length:
                    yield from self._set_upright(trial)
                now, better = trial, self._keep(trial)
            yield better
            if better is not None:
                stale = 0
            else:
                stale += 1
                cut = float(np.exp(self._rng.uniform(np.log(LEAST_CUT), np.log(FIRST_CUT))))

    def _length(self, layout: Layout, cut: float) -> float:
        """How short to press a layout: by a cut, or now and then straight to what is aimed at."""
        aim = self._aims(self.best.length) if self._aims else None
        if aim is not None and aim >= layout.length * (1 - WITHIN_REACH) and self._rng.random() < AT_AIM:
            return min(aim, layout.length)
        return layout.length * (1 - cut)

    def _keep(self, layout: Layout) -> Layout | None:
        """The layout, if it is the best so far."""
        if layout.length >= self.best.length * (1 - 1e-9):
            return None
        self.best = layout.copy()
        return self.best

    def _set_upright(self, layout: Layout) -> Generator[None, None, None]:
        """Take the tilt off outlines that need none for this length."""
        for i in np.flatnonzero(self.shapes.upright[layout.shape] != layout.shape):
            trial = layout.copy()
            trial.shape[i] = self.shapes.upright[layout.shape[i]]
            trial.x[i] += (self._lengths[layout.shape[i]] - self._lengths[trial.shape[i]]) / 2
            if (yield from self._compaction.settle(trial, layout.length)):
                layout.shape, layout.x, layout.y, layout.length = trial.shape, trial.x, trial.y, trial.length

    def _squeezed(self, layout: Layout, length: float) -> Layout:
        """A layout pressed evenly into a shorter strip."""
        trial = layout.copy()
        sizes = self._lengths[trial.shape]
        trial.x = trial.x * (length - sizes) / np.maximum(trial.length - sizes, 1e-9 * length)
        trial.length = length
        return trial

    def _disturb(self, trial: Layout) -> None:
        """Exchange one or two pairs of large outlines."""
        if len(trial.x) - len(self.shapes.faults) < 2:
            return
        large = np.argsort(-self._areas[trial.shape], kind="stable")[: max(2, len(trial.x) // 2)]
        for _ in range(int(self._rng.integers(1, 3))):
            i, j = self._rng.choice(large, 2, replace=False)
            trial.x[[i, j]], trial.y[[i, j]] = trial.x[[j, i]], trial.y[[j, i]]
