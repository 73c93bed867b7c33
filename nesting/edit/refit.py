"""A marker laid again on cloth that has more room: what lies on narrow cloth lies on wider cloth as well."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.marker.marker import Marker
from nesting.marker.opinion import check

if TYPE_CHECKING:
    from nesting.cloth.band import Band
    from nesting.cloth.repeat import Repeat
    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem


def refit(marker: Marker, problem: Problem) -> Marker | None:
    """The same layout as a marker of another problem; None if it does not hold there.

    Meant for the same pieces in the same spread on wider cloth, or on cloth without a nap: there the layout holds
    and proves that no more length is needed. It is checked all the same.

    Parameters
    ----------
    problem
        The other problem; its items are those of the marker's, in the same order.
    """
    ways = (_refit(marker, one) for one in (problem, *problem.alternatives))
    return next((again for again in ways if again), None)


def _refit(marker: Marker, problem: Problem) -> Marker | None:
    own = marker.problem
    if len(own.items) != len(problem.items) or len(own.bands) != len(problem.bands):
        return None
    repeat = problem.repeat
    if repeat is not None and own.repeat is not None:
        repeat = replace(repeat, start=own.repeat.start)
        problem = replace(problem, repeat=repeat)
    moves = [_move(band, other, own.repeat, repeat) for band, other in zip(own.bands, problem.bands, strict=True)]
    placements = []
    for placement, _, variant, _ in marker.outlines():
        found = _same_way(problem.items[placement.item].variants, variant)
        if found is None:
            return None
        way = problem.items[placement.item].variants[found]
        y = way.low if way.on_fold else placement.y + moves[variant.band]
        placements.append(replace(placement, variant=found, y=y))
    again = Marker(problem, tuple(placements), marker.length)
    try:
        check(again)
    except CheckError:
        return None
    return again


def _move(band: Band, other: Band, before: Repeat | None, after: Repeat | None) -> float:
    """How far across a band's layout moves: it keeps to the lines of a pattern, or to the fold."""
    if before is not None and after is not None and after.across:
        return after.low - before.low
    if band.high_edge == "fold" and band.low_edge != "fold":
        return other.high - band.high
    return other.low - band.low


def _same_way(variants: tuple[Variant, ...], wanted: Variant) -> int | None:
    """Which of some ways to lie is the one wanted."""
    for i, way in enumerate(variants):
        if (way.band, way.mirrored, way.turn, way.on_fold) == (
            wanted.band,
            wanted.mirrored,
            wanted.turn,
            wanted.on_fold,
        ) and np.array_equal(way.outline, wanted.outline):
            return i
    return None
