"""The one border between millimetres and the whole numbers that polygon clipping needs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

BITS = 34
"""Steps across the cloth, as a power of two: one step is then under 1e-10 of its width."""

INSET = 4
"""Steps by which no-fit polygons are drawn too small, so that exact fits leave a slit one can see."""


class Grid:
    """A square grid whose step is a power of two, so that whole numbers of mm stay exact.

    Parameters
    ----------
    width
        Across the cloth, mm: it takes 2**33 to 2**34 steps.
    """

    def __init__(self, width: float) -> None:
        if not (math.isfinite(width) and width > 0):
            raise ValueError(f"a grid needs a width above zero, not {width}")
        self.steps_per_mm = 2.0 ** (BITS - math.ceil(math.log2(width)))

    @classmethod
    def with_steps(cls, steps_per_mm: float) -> Grid:
        """The grid with so many steps to the mm, a power of two."""
        return cls(2.0**BITS / steps_per_mm)

    @property
    def narrowest(self) -> float:
        """Width of the narrowest cloth that takes this grid, mm, but for rounding."""
        return 2.0 ** (BITS - 1) / self.steps_per_mm

    def to_steps(self, mm: ArrayLike) -> NDArray[np.int64]:
        """Nearest whole steps of lengths in mm."""
        return np.rint(np.asarray(mm, dtype=np.float64) * self.steps_per_mm).astype(np.int64)

    def to_mm(self, steps: ArrayLike) -> NDArray[np.float64]:
        """Lengths in mm of whole steps."""
        return np.asarray(steps, dtype=np.float64) / self.steps_per_mm
