"""How a pattern piece is brought on to the cloth: turned over, turned, enlarged, moved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Cosine and sine of whole quarter turns, exact."""


@dataclass(frozen=True)
class Transform:
    """From a piece's own frame to the cloth: over (y to -y) if mirrored, then turned, enlarged, and moved.

    Parameters
    ----------
    turn
        Degrees, counter-clockwise.
    mirrored
        Whether the piece lies printed side down.
    growth
        Factors along and across the cloth, of pieces cut larger for cloth that shrinks after cutting: the cloth shrinks
        along its own threads, whichever way a piece lies on it.
    shift
        Along and across the cloth, mm.
    """

    turn: float = 0.0
    mirrored: bool = False
    growth: tuple[float, float] = (1.0, 1.0)
    shift: tuple[float, float] = (0.0, 0.0)

    @classmethod
    def to_corner(
        cls, outline: ArrayLike, turn: float, mirrored: bool = False, growth: tuple[float, float] = (1.0, 1.0)
    ) -> Transform:
        """The transform that brings the lower left corner of an outline's box to (0, 0)."""
        x, y = cls(turn, mirrored, growth)(outline).min(axis=0)
        return cls(turn, mirrored, growth, (-float(x), -float(y)))

    def moved(self, x: float, y: float) -> Transform:
        """The same, and then moved on."""
        return replace(self, shift=(self.shift[0] + x, self.shift[1] + y))

    def __call__(self, points: ArrayLike) -> Floats:
        """Points of the piece's frame, shape (n, 2), on the cloth."""
        points = np.array(points, dtype=np.float64)
        if self.mirrored:
            points[:, 1] *= -1
        quarter = self.turn / 90.0
        if quarter == round(quarter):
            cos, sin = QUARTERS[round(quarter) % 4]
        else:
            cos, sin = np.cos(np.radians(self.turn)), np.sin(np.radians(self.turn))
        turned: Floats = points @ np.array([[cos, sin], [-sin, cos]], dtype=np.float64)
        return turned * self.growth + self.shift

    def outline(self, points: ArrayLike) -> Floats:
        """An outline on the cloth, counter-clockwise."""
        placed = self(points)
        x, y = placed[:, 0], placed[:, 1]
        if np.dot(x, np.roll(y, -1)) < np.dot(y, np.roll(x, -1)):
            placed = placed[::-1]
        return np.ascontiguousarray(placed)
