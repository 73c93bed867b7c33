"""What lies on the cloth already while a marker is laid piece by piece, and where there is room."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from shapely import Polygon

    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem

    Spot = tuple[float, float]
    Box = tuple[float, float, float, float]


CORE = 0.1
"""What is this far inside an outline, mm, overlaps it beyond doubt: told sooner than by an area."""


class Occupied:
    """The outlines laid so far, under numbers from 0, and the faults of the cloth, under those below.

    Parameters
    ----------
    problem
        Its faults, and the gap that is kept.
    """

    def __init__(self, problem: Problem) -> None:
        import shapely

        self._gap = problem.gap
        # Half of what the second opinion forgives.
        self._area, self._slack = 0.5e-9 * problem.width**2, 0.5e-6 * problem.width
        self._all: dict[int, tuple[Polygon, Polygon, Box]] = {}
        for i, fault in enumerate(problem.faults, 1):
            self._keep(-i, shapely.Polygon(fault))

    def add(self, number: int, variant: Variant, spot: Spot) -> None:
        """Lay an outline down."""
        import shapely

        self._keep(number, shapely.Polygon(variant.outline + spot))

    def _keep(self, number: int, shape: Polygon) -> None:
        import shapely

        core = shape.buffer(-CORE)
        shapely.prepare(core)
        self._all[number] = shape, core, shape.bounds

    def take_up(self, numbers: Iterable[int]) -> None:
        """Take outlines up again."""
        for number in numbers:
            del self._all[number]

    def first_clear(self, variant: Variant, xs: list[float], heights: list[float]) -> Spot | None:
        """The first place, the nearest to the start, at which an outline lies clear."""
        if not (xs and heights):
            return None
        near = self._near(variant, xs, heights, self._all)
        spots = ((x, y) for x in xs for y in heights)
        return next((spot for spot in spots if next(self._met(variant, spot, near), None) is None), None)

    def _met(self, variant: Variant, spot: Spot, near: Iterable[int]) -> Iterator[int]:
        """Those of some outlines that one in some place would overlap, or come too near to."""
        import shapely

        near = self._near(variant, [spot[0]], [spot[1]], near)
        if not near:
            return
        shape = shapely.Polygon(variant.outline + spot)
        for number in near:
            other, core, _ = self._all[number]
            if (
                core.intersects(shape)
                or shape.intersection(other).area > self._area
                or (self._gap and shape.distance(other) < self._gap - self._slack)
            ):
                yield number

    def _near(self, variant: Variant, xs: list[float], heights: list[float], among: Iterable[int]) -> list[int]:
        """Those whose boxes come within the gap of an outline's box in any of some places."""
        gap = self._gap
        x0, x1 = xs[0] - gap, xs[-1] + variant.length + gap
        y0, y1 = min(heights) - gap, max(heights) + variant.height + gap
        found = []
        for number in among:
            left, low, right, high = self._all[number][2]
            if left < x1 and right > x0 and low < y1 and high > y0:
                found.append(number)
        return found
