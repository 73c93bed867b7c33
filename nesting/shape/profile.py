"""Forms: outlines as the search sees them, drawn once for all the ways in which a piece is turned and turned over."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from nesting.problem.outline import convex_parts, search_outline
from nesting.shape.grid import Grid

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Points = NDArray[np.float64]

TOLERANCE = 1e-3
"""How far the search may draw an outline with many corners too large, as a share of the cloth's width."""

FORMS_KEPT = 2_000
"""Forms that are kept for other problems, as the same pieces on another cloth."""


class Flips(NamedTuple):
    """Whether an outline is flipped along the cloth, and across; both together are half a turn."""

    along: bool
    across: bool

    def of(self, points: NDArray[Any], size: ArrayLike) -> NDArray[Any]:
        """Points, shape (n, 2), flipped within a box of some size that begins at (0, 0); corners keep their order."""
        return np.where(self, np.asarray(size, dtype=points.dtype) - points, points) if any(self) else points


WAYS = (Flips(False, False), Flips(True, True), Flips(False, True), Flips(True, False))


@dataclass(frozen=True, eq=False)
class BaseOutline:
    """An outline as the search sees it, before it is flipped; equal outlines share one form.

    Parameters
    ----------
    outline
        Shape (n, 2), mm: holds the true outline, whose bounding box begins at (0, 0), grown by half the gap.
    parts
        Convex parts of the outline, as lists of its corners.
    size
        Of the true outline along and across, mm.
    """

    outline: Points
    parts: tuple[tuple[int, ...], ...]
    size: tuple[float, float]

    def flipped(self, flips: Flips) -> tuple[Points, tuple[tuple[int, ...], ...]]:
        """Outline and parts, flipped, counter-clockwise."""
        points: Points = flips.of(self.outline, self.size)
        if flips.along == flips.across:
            return points, self.parts
        last = len(points) - 1
        return np.ascontiguousarray(points[::-1]), tuple(tuple(last - i for i in part[::-1]) for part in self.parts)


def form_of(outline: Points, gap: float, grid: Grid) -> tuple[BaseOutline, Flips]:
    """The form of a true outline, shape (n, 2), mm, whose bounding box begins at (0, 0), and how to flip it.

    Parameters
    ----------
    gap
        Least distance between two outlines, mm.
    """
    steps = grid.to_steps(outline)
    size = steps.max(axis=0)
    key, flips = min(((_in_order(flips.of(steps, size), flips), flips) for flips in WAYS), key=lambda way: way[0])
    return _drawn(key, gap, grid.steps_per_mm), flips


def _in_order(steps: NDArray[np.int64], flips: Flips) -> bytes:
    """The corners counter-clockwise from the lowest of the leftmost."""
    steps = steps if flips.along == flips.across else steps[::-1]
    return np.roll(steps, -int(np.lexsort((steps[:, 1], steps[:, 0]))[0]), axis=0).tobytes()


@lru_cache(maxsize=FORMS_KEPT)
def _drawn(key: bytes, gap: float, steps_per_mm: float) -> BaseOutline:
    grid = Grid.with_steps(steps_per_mm)
    outline = grid.to_mm(np.frombuffer(key, dtype=np.int64).reshape(-1, 2))
    drawn = search_outline(outline, gap, TOLERANCE * grid.narrowest)
    drawn.flags.writeable = False
    along, across = outline.max(axis=0).tolist()
    return BaseOutline(drawn, tuple(map(tuple, convex_parts(drawn))), (along, across))
