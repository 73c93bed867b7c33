"""The cloth's pattern: stripes and checks, and the places where a piece may lie on them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nesting.tolerance import TOLERANCE

ROUNDING = 1e-9
"""Share of a repeat by which a place may miss its line."""


@dataclass(frozen=True)
class Repeat:
    """Lines of a pattern on the laid cloth, on which the match points of pieces are to lie.

    Parameters
    ----------
    along, across
        Distance from one line to the next along and across the cloth, mm; 0 where there is no pattern that way.
    start
        Distance of a line from the marker's start, mm. A search may choose it: cloth can be cut anywhere.
    low
        Where across the laid cloth a line lies, mm.
    """

    along: float = 0.0
    across: float = 0.0
    start: float = 0.0
    low: float = 0.0

    def first_x(self, match: tuple[float, float]) -> float:
        """The least place along the cloth, 0 or more, at which a match point lies on a line."""
        if not self.along:
            return 0.0
        first = (self.start - match[0]) % self.along
        return 0.0 if self.along - first < ROUNDING * self.along else first

    def range_y(self, match: tuple[float, float], low: float, high: float, slack: float) -> tuple[float, float] | None:
        """The lowest and the highest place from `low` to `high` with the match point on a line; None without one."""
        if not self.across:
            return low, high
        line = self.low - match[1]
        first = math.ceil((low - slack - line) / self.across)
        last = math.floor((high + slack - line) / self.across)
        return (line + first * self.across, line + last * self.across) if first <= last else None

    def lies_on(self, y: float) -> bool:
        """Whether a place across the laid cloth lies on a line, as a fold must whose halves are to match."""
        return not self.across or abs(math.remainder(y - self.low, self.across)) <= TOLERANCE

    def misses(self, match: tuple[float, float], x: float, y: float) -> float:
        """How far from the nearest lines a match point lies, mm, of a piece in its place."""
        along = math.remainder(x + match[0] - self.start, self.along) if self.along else 0.0
        across = math.remainder(y + match[1] - self.low, self.across) if self.across else 0.0
        return max(abs(along), abs(across))
