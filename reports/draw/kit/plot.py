"""A plot on a sheet: a box with ticks, and where on the page a pair of values lies."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING

from reports.draw.kit.sheet import BLACK, PALE

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from reports.draw.kit.sheet import Sheet

TICK = 3.0
SIZE = 7.0


@dataclass(frozen=True)
class Axis:
    """One axis: its ticks, and the ends of what is shown, in one unit."""

    low: float
    high: float
    ticks: tuple[float, ...]

    @classmethod
    def over(cls, values: Sequence[float], steps: Sequence[float], most: int, *, tight: bool = False) -> Axis:
        """An axis over some values, with the finest step that needs no more than so many ticks.

        Parameters
        ----------
        tight
            Whether it ends at the outermost values rather than at ticks.
        """
        low, high = min(values), max(values)
        step = next((s for s in steps if (high - low) / s <= most), steps[-1] * ceil((high - low) / steps[-1] / most))
        first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
        last = max(last, first + 1)
        ticks = [i * step for i in range(first, last + 1)]
        if tight and high > low:
            inside = tuple(t for t in ticks if low - 1e-6 * step <= t <= high + 1e-6 * step)
            return cls(low, high, inside)
        return cls(ticks[0], ticks[-1], tuple(ticks))


@dataclass(frozen=True)
class Plot:
    """A box on a page, in points, and the axes along its lower and left edge."""

    page: Sheet
    left: float
    low: float
    wide: float
    tall: float
    x: Axis
    y: Axis

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Where on the page a pair of values lies."""
        across = (x - self.x.low) / (self.x.high - self.x.low)
        up = (y - self.y.low) / (self.y.high - self.y.low)
        return self.left + across * self.wide, self.low + up * self.tall

    def frame(self, write_x: Callable[[float], str] | None, write_y: Callable[[float], str], title: str) -> None:
        """Draw the box, its grid and ticks; without `write_x` the ticks below bear no words."""
        for x in self.x.ticks:
            across, base = self.at(x, self.y.low)
            self.page.line([(across, base), (across, base + self.tall)], 0.4, colour=PALE)
            self.page.line([(across, base), (across, base - TICK)], 0.6)
            if write_x:
                self.page.text(across, base - TICK - 8, write_x(x), SIZE, side="center")
        for y in self.y.ticks:
            edge, up = self.at(self.x.low, y)
            self.page.line([(edge, up), (edge + self.wide, up)], 0.4, colour=PALE)
            self.page.line([(edge, up), (edge - TICK, up)], 0.6)
            self.page.text(edge - TICK - 2, up, write_y(y), SIZE, side="right", upright="center")
        corner, top = self.at(self.x.low, self.y.high)
        box = [(corner, self.low), (corner + self.wide, self.low), (corner + self.wide, top), (corner, top)]
        self.page.line(box, 0.8, closed=True)
        self.page.text(corner, top + 5, title, SIZE + 0.5, bold=True)

    def stairs(self, points: Sequence[tuple[float, float]], width: float, *, colour: str = BLACK) -> None:
        """Draw a line that keeps each value until the next one."""
        path: list[tuple[float, float]] = []
        for i, (x, y) in enumerate(points):
            if i:
                path.append(self.at(x, points[i - 1][1]))
            path.append(self.at(x, y))
        if len(path) > 1:
            self.page.line(path, width, colour=colour)

    def dot(self, x: float, y: float, half: float = 1.6) -> None:
        """Draw a small square where a pair of values lies."""
        across, up = self.at(x, y)
        self.page.area(
            [
                (across - half, up - half),
                (across + half, up - half),
                (across + half, up + half),
                (across - half, up + half),
            ],
            BLACK,
        )
