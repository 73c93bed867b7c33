"""Lengths that no marker can undercut, and why.

Two arguments, both from the outlines alone; the larger bound holds. The outlines are pared, so that whatever passes
the check, overlaps within its tolerance included, is no shorter (`nesting.tolerance`).

*Area*: the pieces, melted down to fill the bands.

*Lines*: draw a line along the cloth. No two pieces may cover the same stretch of it, so the stretches that the
pieces must cover add up to no more than the marker's length, whatever their places. Along a fold these are
the fold edges of the halves pinned to it; along a band's middle, the pieces too wide to lie side by side.
Over several lines at once, the sum is shared out among them.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from nesting.problem.pared import pared
from nesting.problem.tilt import least_length, over_all_tilts
from nesting.tolerance import ALLOWED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem

BOUNDS_KEPT = 64
"""Problems whose bound is kept."""

ROUNDING = 1e-9
"""Depth, as a share of the width, that a bound allows for which is held against layouts of the search: its rounding."""

LINES_A_BAND = 16
"""Lines tried in each band, besides those along its folds."""


@lru_cache(maxsize=BOUNDS_KEPT)
def lower_bound(problem: Problem, depth: float = ALLOWED) -> tuple[float, str]:
    """The largest proven lower bound on a marker's length.

    Parameters
    ----------
    depth
        Tolerance that it allows for, mm: by default a little more than the check's.

    Returns
    -------
    tuple of float and str
        The length, mm, and the argument that held, in words.
    """
    problem = problem.to_prove
    small = pared(problem, depth)
    bounds = [_area(small), _longest(small, depth)]
    tilted = pared(over_all_tilts(problem), depth)
    bounds += [_lines(tilted, lines, where) for lines, where in _candidates(tilted, depth)]
    length, held = max(bounds, key=lambda bound: bound[0])
    return max(0.0, length - depth), held  # pared pieces may reach beyond the start and the end


def _area(problem: Problem) -> tuple[float, str]:
    return least_cloth(problem) / problem.cloth_width, "the pieces' area alone"


def least_cloth(problem: Problem) -> float:
    """Area of cloth that the outlines take at least, over all layers and with wasted twins, mm²."""
    return _sum_of_least(
        problem,
        [min(item.area * problem.bands[v.band].layers for v in item.variants) for item in problem.items],
    )


def _sum_of_least(problem: Problem, amounts: list[float]) -> float:
    """Sum of an amount over all placements, where others stand in if that makes it less."""
    least = list(amounts)
    for choice in problem.choices:
        least[choice.item] = min(amounts[choice.item], sum(amounts[other] for other in choice.instead))
    return sum(amount * item.quantity for amount, item in zip(least, problem.items, strict=True))


def _longest(problem: Problem, depth: float) -> tuple[float, str]:
    length, item = longest_item(problem, depth)
    return length, f"the longest piece, {item.name}"


def longest_item(problem: Problem, depth: float = 0.0) -> tuple[float, Item]:
    """The item that is longest however all lie, pared by some depth: its least length, mm, and itself."""
    lengths = [min(least_length(variant, depth) for variant in item.variants) for item in problem.items]
    for choice in problem.choices:
        lengths[choice.item] = min(lengths[choice.item], max(lengths[other] for other in choice.instead))
    wanted = ((least, item) for least, item in zip(lengths, problem.items, strict=True) if item.quantity)
    return max(wanted, key=lambda one: (one[0], one[1].name))


def _candidates(problem: Problem, depth: float) -> Iterator[tuple[list[float], str]]:
    folds = []
    for band in problem.bands:
        inside = 2.5 * depth + 1e-6 * band.width  # however far off the fold a half lies
        folds += [band.low + inside] if band.low_edge == "fold" else []
        folds += [band.high - inside] if band.high_edge == "fold" else []
        for share in range(1, LINES_A_BAND):
            yield [band.low + band.width * share / LINES_A_BAND], "too wide to lie side by side"
    for fold in folds:
        yield [fold], "one behind another on the fold"
    if len(folds) > 1:
        yield folds, f"sharing {len(folds)} folds"


def _lines(problem: Problem, lines: list[float], where: str) -> tuple[float, str]:
    covered = [
        min(sum(_least_chord(variant, line) for line in lines) for variant in item.variants) for item in problem.items
    ]
    names = (item.name for item, least in zip(problem.items, covered, strict=True) if least > 0 and item.quantity)
    return _sum_of_least(problem, covered) / len(lines), f"{', '.join(names)}: {where}"


def _least_chord(variant: Variant, line: float) -> float:
    """Least length of the line `y = line` that the outline covers, over all its allowed heights."""
    lowest, highest = line - variant.high, line - variant.low  # where the line may cut it, in its own frame
    if lowest <= 0 or highest >= variant.height:
        return 0.0
    corners = variant.outline[:, 1]
    inner = corners[(corners >= lowest) & (corners <= highest)]
    cuts = np.concatenate(([lowest, highest], inner))
    # A chord may jump at a corner: look at it from just above, and from just below.
    above, below = chords(variant.outline, cuts), chords(variant.outline * (1.0, -1.0), -cuts)
    return float(min(above.min(), below.min()))


def chords(outline: NDArray[np.float64], cuts: NDArray[np.float64]) -> NDArray[np.float64]:
    """Length of each line `y = cut`, seen from just above, that lies inside an outline, shape (n, 2)."""
    (x0, y0), (x1, y1) = outline.T, np.concatenate([outline[1:], outline[:1]]).T
    cut = np.asarray(cuts, dtype=np.float64)[:, None]
    crossing = (y0 > cut) != (y1 > cut)
    rise = np.where(y1 == y0, 1.0, y1 - y0)
    # Sides that a line does not cross come last, and in pairs of no length.
    at = np.sort(np.where(crossing, x0 + (cut - y0) / rise * (x1 - x0), x0.max() + 1.0), axis=1)
    lengths: NDArray[np.float64] = (at[:, 1::2] - at[:, : len(outline) - 1 : 2]).sum(axis=1)
    return lengths
