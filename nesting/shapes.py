"""Shapes: the ways things may lie, as the search sees them; one for all items and variants of a problem."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.grid import Grid
from nesting.outline import convex_parts, search_outline

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.problem import Problem, Variant

TOLERANCE = 1e-3
"""How far the search may draw an outline with many corners too large, as a share of the cloth's width."""


@dataclass(frozen=True, eq=False)
class Shape:
    """One way in which an item may lie.

    Parameters
    ----------
    item, variant
        Index of the item, and of the variant among the item's.
    outline
        Shape (n, 2), mm: the search outline. Its place is that of the true outline, whose bounding
        box starts at (0, 0), so a position means the same for both.
    parts
        Convex parts of the outline, as lists of its corners.
    length, low, high
        Size of the true outline along the cloth, and its lowest and highest allowed y, mm.
    """

    item: int
    variant: int
    outline: NDArray[np.float64]
    parts: tuple[tuple[int, ...], ...]
    length: float
    low: float
    high: float


class Shapes:
    """All shapes of a problem, numbered through; ways to lie that look the same are kept once.

    Attributes
    ----------
    all
        The shapes.
    of_item
        For each item, the numbers of its shapes.
    items
        For each outline to be placed, its item: copies of an item follow one another.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.grid = Grid(problem.width)
        self.all: list[Shape] = []
        self.of_item: list[list[int]] = []
        tolerance = TOLERANCE * problem.width
        outlines: dict[bytes, tuple[NDArray[np.float64], tuple[tuple[int, ...], ...]]] = {}
        for index, item in enumerate(problem.items):
            numbers: list[int] = []
            for v, variant in enumerate(item.variants):
                if any(_same(variant, item.variants[self.all[number].variant]) for number in numbers):
                    continue
                key = variant.outline.tobytes()
                if key not in outlines:
                    outline = search_outline(variant.outline, problem.gap, tolerance)
                    outlines[key] = outline, tuple(map(tuple, convex_parts(outline)))
                numbers.append(len(self.all))
                self.all.append(Shape(index, v, *outlines[key], variant.length, variant.low, variant.high))
            self.of_item.append(numbers)
        self.items = np.repeat(np.arange(len(problem.items)), [item.quantity for item in problem.items])

    def number_of(self, item: int, variant: int) -> int:
        """The shape that shows an item's variant; of ways that look the same, the one that is kept."""
        wanted = self.problem.items[item].variants
        for number in self.of_item[item]:
            kept = self.all[number].variant
            if kept == variant or _same(wanted[variant], wanted[kept]):
                return number
        raise LookupError(f"item {item} has no variant {variant}")


def _same(one: Variant, other: Variant) -> bool:
    """Whether two variants look alike in place, to rounding, as a rectangle turned by 180 degrees does."""
    if (one.low, one.high, one.band, one.on_fold) != (other.low, other.high, other.band, other.on_fold):
        return False
    if one.outline.shape != other.outline.shape:
        return False
    start = int(np.argmin(np.hypot(*(other.outline - one.outline[0]).T)))
    return np.allclose(one.outline, np.roll(other.outline, -start, axis=0), rtol=0, atol=1e-9 * one.length)
