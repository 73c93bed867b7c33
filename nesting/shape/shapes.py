"""Shapes: the ways things may lie, as the search sees them; one for all items and variants of a problem."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.shape.grid import Grid
from nesting.shape.profile import BaseOutline, Flips, form_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem


SAME_TURN = 1e-6
"""Turns that differ by less, degrees, are one."""


@dataclass(frozen=True, eq=False)
class Shape:
    """One way in which an item may lie, or a fault in the cloth.

    Parameters
    ----------
    item, variant
        Index of the item, and of the variant among the item's. Faults have numbers after the last item's.
    form, flips
        Its outline, and how that is flipped.
    outline
        Shape (n, 2), mm: the search outline, flipped. Its place is that of the true outline, whose bounding
        box starts at (0, 0), so a position means the same for both.
    parts
        Convex parts of the outline, as lists of its corners.
    length
        Size of the true outline along the cloth, mm. That of a fault is less than 0, so that it reaches to the
        marker's start and no further: cloth need not be bought for the sake of a fault.
    low, high
        Lowest and highest allowed y, mm.
    first, last
        Least and greatest allowed x, mm.
    steps
        Distances along and across between allowed places, from `first` and `low`, mm; 0 where all are allowed.
    """

    item: int
    variant: int
    form: BaseOutline
    flips: Flips
    outline: NDArray[np.float64]
    parts: tuple[tuple[int, ...], ...]
    length: float
    low: float
    high: float
    first: float = 0.0
    last: float = np.inf
    steps: tuple[float, float] = (0.0, 0.0)

    @property
    def is_bound(self) -> tuple[bool, bool]:
        """Whether linear programs must leave its place along, and across, as it is."""
        return self.steps[0] > 0 or self.first == self.last, self.steps[1] > 0 or self.low == self.high


class Shapes:
    """All shapes of a problem, numbered through; ways to lie that look the same are kept once.

    Attributes
    ----------
    all
        The shapes; faults come last.
    of_item
        For each item, the numbers of its shapes.
    item_of
        For each shape, its item.
    items
        For each outline to be placed, its item, before others stand in: copies of an item follow one another.
    faults
        Numbers of the shapes that are faults.
    upright
        For each shape the number of the one that is the same without tilt.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.grid = Grid(problem.width)
        self.all: list[Shape] = []
        self.of_item: list[list[int]] = []
        for index in range(len(problem.items)):
            self.of_item.append(self._add_item(index))
        self.items = np.repeat(np.arange(len(problem.items)), [item.quantity for item in problem.items])
        self.faults = [self._add_fault(number, fault) for number, fault in enumerate(problem.faults)]
        self.item_of = np.array([shape.item for shape in self.all])
        self.upright = np.array([self._upright(number) for number in range(len(self.all))])

    def number_of(self, item: int, variant: int) -> int:
        """The shape that shows an item's variant; of ways that look the same, the one that is kept."""
        wanted = self.problem.items[item].variants
        for number in self.of_item[item]:
            kept = self.all[number].variant
            if kept == variant or _same(wanted[variant], wanted[kept]):
                return number
        raise LookupError(f"item {item} has no variant {variant}")

    def _add_item(self, index: int) -> list[int]:
        variants = self.problem.items[index].variants
        numbers: list[int] = []
        for v, variant in enumerate(variants):
            if not any(_same(variant, variants[self.all[number].variant]) for number in numbers):
                numbers.append(len(self.all))
                shape = Shape(index, v, *self._draw(variant.outline), variant.length, variant.low, variant.high)
                self.all.append(self._bind(shape, variant))
        return numbers

    def _add_fault(self, number: int, fault: NDArray[np.float64]) -> int:
        x, y = fault.min(axis=0).tolist()
        drawn = self._draw(np.ascontiguousarray(fault - (x, y)))
        self.all.append(Shape(len(self.problem.items) + number, 0, *drawn, -x, y, y, x, x))
        return len(self.all) - 1

    def _draw(
        self, outline: NDArray[np.float64]
    ) -> tuple[BaseOutline, Flips, NDArray[np.float64], tuple[tuple[int, ...], ...]]:
        form, flips = form_of(outline, self.problem.gap, self.grid)
        return form, flips, *form.flipped(flips)

    def _bind(self, shape: Shape, variant: Variant) -> Shape:
        """The shape, bound to the lines of the cloth's pattern if its variant is."""
        repeat = self.problem.repeat
        if repeat is None or variant.match is None:
            return shape
        across = 0.0 if variant.low == variant.high else repeat.across
        return replace(shape, first=repeat.first_x(variant.match), steps=(repeat.along, across))

    def _upright(self, number: int) -> int:
        shape = self.all[number]
        if shape.item >= len(self.problem.items):
            return number
        variants = self.problem.items[shape.item].variants
        own = variants[shape.variant]
        for other in self.of_item[shape.item] if own.tilt else ():
            way = variants[self.all[other].variant]
            off = math.remainder(way.turn - own.turn + own.tilt, 360.0)
            if (way.band, way.mirrored, way.tilt) == (own.band, own.mirrored, 0) and abs(off) < SAME_TURN:
                return other
        return number


def _same(one: Variant, other: Variant) -> bool:
    """Whether two variants look alike in place, to rounding, as a rectangle turned by 180 degrees does."""
    if (one.low, one.high, one.band, one.on_fold) != (other.low, other.high, other.band, other.on_fold):
        return False
    if one.match != other.match or one.outline.shape != other.outline.shape:
        return False
    start = int(np.argmin(np.hypot(*(other.outline - one.outline[0]).T)))
    return np.allclose(one.outline, np.roll(other.outline, -start, axis=0), rtol=0, atol=1e-9 * one.length)
