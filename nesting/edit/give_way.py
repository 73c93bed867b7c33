"""Pieces of a marker laid down in given places one after another, while all others give way to them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.marker.marker import Marker
from nesting.search.compact import REACH, STEPS, Compaction
from nesting.shape.layout import Layout
from nesting.shape.shapes import Shapes

if TYPE_CHECKING:
    from collections.abc import Generator, Mapping

LIMIT = 1.1
"""How long the marker may become, as a share of its length."""


class Parting:
    """A marker of which more and more pieces lie fast.

    Parameters
    ----------
    marker
        Its pieces are named by their index among its placements.
    """

    def __init__(self, marker: Marker) -> None:
        self._marker, self._shapes = marker, Shapes(marker.problem)
        self._programs = Compaction(self._shapes)
        self._layout = Layout.from_marker(marker, self._shapes)
        places = marker.placements
        order = sorted(range(len(places)), key=lambda i: (places[i].item, places[i].copy))
        faults = len(self._shapes.faults)
        self._at = np.empty(len(places), dtype=np.int64)
        self._at[order] = np.arange(faults, faults + len(places))
        self._fixed = np.arange(len(self._layout.x)) < faults
        self._faults = faults

    @property
    def loose(self) -> list[int]:
        """The pieces that may still move, those nearest to the start first."""
        x = self._layout.x[self._at]
        return [i for i in np.argsort(x, kind="stable").tolist() if not self._fixed[self._at[i]]]

    def spot(self, number: int) -> tuple[float, float]:
        """Where a piece lies now."""
        at = self._at[number]
        return float(self._layout.x[at]), float(self._layout.y[at])

    def fix(self, spots: Mapping[int, tuple[float, float]]) -> bool:
        """Lay pieces fast; all stays as it was if the others cannot give way."""
        before, fixed = self._layout.copy(), self._fixed.copy()
        for number, (x, y) in spots.items():
            at = self._at[number]
            self._layout.x[at], self._layout.y[at], self._fixed[at] = x, y, True
        if self._fixed.all() or self._give_way():
            return True
        self._layout, self._fixed = before, fixed
        return False

    def _give_way(self) -> bool:
        """Part all loose pieces from those that lie fast, as far back as a loose one can come; whether it went."""
        whole, lengths = self._layout, np.array([shape.length for shape in self._shapes.all])
        back = whole.x[~self._fixed].min() - STEPS * REACH * self._shapes.problem.width - self._shapes.problem.gap
        near = ~self._fixed | (whole.x + lengths[whole.shape] > back)
        near[: self._faults] = True
        part = Layout(whole.shape[near], whole.x[near], whole.y[near], whole.length)
        if not _run(self._programs.settle(part, LIMIT * self._marker.length, self._fixed[near])):
            return False
        whole.x[near], whole.y[near], whole.length = part.x, part.y, part.length
        return True

    def keep(self, number: int) -> None:
        """Lay a piece fast where it lies."""
        self._fixed[self._at[number]] = True

    def to_marker(self) -> Marker:
        """The marker as it lies now, its placements in their old order."""
        spots = map(self.spot, range(len(self._at)))
        pairs = zip(self._marker.placements, spots, strict=True)
        placements = tuple(replace(place, x=x, y=y) for place, (x, y) in pairs)
        return Marker(self._marker.problem, placements, self._layout.extent(self._shapes))


def _run(steps: Generator[None, None, bool]) -> bool:
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return bool(end.value)
