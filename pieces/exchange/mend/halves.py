"""Halves drawn on a mirror line: found on the outline, put on a fold, or opened out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

NEAR = 0.5
"""How far a point of the outline may lie off the fold and still be on it, mm."""

LEAST_FOLD = 20.0
"""A shorter straight edge is no fold, mm."""


STEEP = 0.25
"""A line that gains so much of its length away from the fold is none of it: it leaves at 14 degrees or more."""


@dataclass(frozen=True, eq=False)
class Fold:
    """The run of an outline's points that lies on its fold.

    Parameters
    ----------
    first, count
        Where in the outline the run begins, and how many points it has.
    line
        The fold's two ends.
    moved
        How far a point has to move to lie on it exactly, mm; of a fold along the grain.
    """

    first: int
    count: int
    line: Floats
    moved: float

    @property
    def is_along_grain(self) -> bool:
        """Whether it runs along x."""
        return abs(float(self.line[1, 1] - self.line[0, 1])) <= NEAR

    def in_front(self, ring: Floats) -> Floats:
        """The outline beginning with the fold, which is made exactly straight."""
        rolled = np.roll(ring, -self.first, axis=0)
        y = float(rolled[: self.count, 1].mean())
        rolled[: self.count, 1] = y if self.moved > 1e-9 else rolled[0, 1]
        return rolled


def fold_along(ring: Floats, line: Floats) -> Fold | None:
    """The fold on which a drawn mirror line lies; None if it is no edge of the outline."""
    way = line[1] - line[0]
    length = float(np.hypot(*way))
    if length < LEAST_FOLD:
        return None
    across = np.array([-way[1], way[0]]) / length
    off = (ring - line[0]) @ across
    fold = _run(ring, off)
    return fold if fold and (off.min() >= -NEAR or off.max() <= NEAR) else None


def fold_on_side(ring: Floats, side: str, name: str) -> Fold:
    """The fold on the left or right side of a piece drawn upright: its straight edge along the grain.

    Raises
    ------
    FormatError
        If it has no straight edge there.
    """
    edge = ring[:, 1].min() if side == "left" else ring[:, 1].max()
    fold = _run(ring, ring[:, 1] - edge)
    if fold is None:
        raise FormatError(
            f"'{name}' has no straight edge of {LEAST_FOLD:g} mm or more along the grain on its {side} side, as it"
            ' stands in pieces.svg, to lie on a fold: write fold = "none", or set its grain'
        )
    return fold


def opened_out(ring: Floats, fold: Fold) -> Floats:
    """The whole outline: the half and its mirror image beyond the fold, counter-clockwise."""
    rolled = np.roll(ring, -fold.first, axis=0)
    open_half = np.vstack([rolled[fold.count - 1 :], rolled[:1]])
    start, end = fold.line
    along = (end - start) / np.hypot(*(end - start))
    rest = open_half[-2:0:-1] - start
    return np.vstack([open_half, start + 2 * np.outer(rest @ along, along) - rest])


def _run(ring: Floats, off: Floats) -> Fold | None:
    """The one run of an outline's points that lies on a line; None if there are several, or it is too short.

    Parameters
    ----------
    off
        How far each point lies from the line, mm.
    """
    on = np.abs(off) <= NEAR
    starts = np.flatnonzero(on & ~np.roll(on, 1))
    if len(starts) != 1 or np.count_nonzero(on) < 2 or on.all():
        return None
    first, last = _without_curves(ring, off, int(starts[0]), int(starts[0]) + int(np.count_nonzero(on)) - 1)
    points = np.roll(ring, -first, axis=0)[: last - first + 1]
    if float(np.hypot(*(points[-1] - points[0]))) < LEAST_FOLD:
        return None
    moved = float(np.abs(points[:, 1] - points[:, 1].mean()).max())
    return Fold(first % len(ring), len(points), points[[0, -1]], moved)


def _without_curves(ring: Floats, off: Floats, first: int, last: int) -> tuple[int, int]:
    """The ends of a run, without points on curves that only come near to the line where they meet it."""

    def leaves(at: int, inner: int) -> bool:
        """Whether the outline runs away from the line between a point and the next one further in."""
        at, inner = at % len(ring), inner % len(ring)
        across = abs(float(off[at] - off[inner]))
        return across > STEEP * float(np.hypot(*(ring[at] - ring[inner])))

    while last - first > 1 and leaves(first, first + 1):
        first += 1
    while last - first > 1 and leaves(last, last - 1):
        last -= 1
    return first, last
