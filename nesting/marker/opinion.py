"""The second opinion: whether a marker could be cut, by shapely alone.

Shares no line with the search: it starts from the true cut lines in place and the problem as given. Nothing may be
amiss by more than `nesting.tolerance.TOLERANCE`.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.marker.marker import Marker
from nesting.tolerance import TOLERANCE
from pieces.require import require

if TYPE_CHECKING:
    from shapely import Polygon

    from nesting.problem.problem import Problem


def check(marker: Marker) -> None:
    """Make sure that a marker can be cut as drawn.

    Every item lies on the cloth as often as it must, inside its band and the marker's length, in one of its
    allowed ways, on the fold if it is a half; no two outlines overlap, and the gap is kept.

    Raises
    ------
    CheckError
        At the first thing that is wrong; it names the pieces and by how much.
    """
    require(marker, Marker, "the marker of check", "a Marker, such as result.marker")
    _check_counts(marker)
    _check_places(marker)
    _check_apart(marker)


def _check_counts(marker: Marker) -> None:
    copies = Counter((p.item, p.copy) for p in marker.placements)
    laid = Counter(p.item for p in marker.placements)
    wanted = {(i, copy) for i, number in _wanted(marker.problem, laid).items() for copy in range(number)}
    if set(copies) != wanted or max(copies.values()) > 1:
        wrong = sorted(wanted ^ set(copies)) or [key for key, times in copies.items() if times > 1]
        item, copy = wrong[0]
        name = marker.problem.items[item].name if item < len(marker.problem.items) else f"item {item}"
        raise CheckError(f"copy {copy + 1} of '{name}' lies on the cloth {copies[item, copy]} times instead of once")


def _wanted(problem: Problem, laid: Counter[int]) -> dict[int, int]:
    """How often each item must be there, where others stand in for some as often as they are there."""
    counts = {i: item.quantity for i, item in enumerate(problem.items)}
    for choice in problem.choices:
        stand_in = min(laid[other] // choice.instead.count(other) for other in choice.instead)
        stand_in = min(stand_in, problem.items[choice.item].quantity)
        counts[choice.item] -= stand_in
        for other in choice.instead:
            counts[other] += stand_in
    return counts


def _check_places(marker: Marker) -> None:
    problem, slack = marker.problem, TOLERANCE
    if not 0 < marker.length < float("inf"):
        raise CheckError(f"a marker cannot be {marker.length} mm long")
    for placement in marker.placements:
        item = problem.items[placement.item]
        if not 0 <= placement.variant < len(item.variants):
            raise CheckError(
                f"'{item.name}' lies in a way that is not allowed: way {placement.variant} of {len(item.variants)}"
            )
    for _, item, variant, outline in marker.outlines():
        if not np.isfinite(outline).all():
            raise CheckError(f"'{item.name}' has no finite place")
        band = problem.bands[variant.band]
        left, low = outline.min(axis=0)
        right, high = outline.max(axis=0)
        if left < -slack or right > marker.length + slack:
            raise CheckError(
                f"'{item.name}' lies from {left:.3f} to {right:.3f}; the marker ends at {marker.length:.2f}"
            )
        if left < band.start - slack or right > band.end + slack:
            raise CheckError(
                f"'{item.name}' lies from {left:.3f} to {right:.3f}; its stretch is {band.start:.3f} to {band.end:.3f}"
            )
        if low < band.low - slack or high > band.high + slack:
            where = f"its band from {band.low:.3f} to {band.high:.3f}"
            raise CheckError(f"'{item.name}' lies from {low:.3f} to {high:.3f} across, {where}")
        if not variant.low - slack <= low <= variant.high + slack:
            allowed = f"{variant.low:.3f} to {variant.high:.3f}"
            raise CheckError(f"'{item.name}' lies at {low:.3f} across, it may lie at {allowed}")
        if problem.repeat and variant.match and problem.repeat.misses(variant.match, left, low) > slack:
            raise CheckError(f"'{item.name}' misses the lines of the pattern")
        if variant.on_fold and not (
            (band.low_edge == "fold" and abs(low - band.low) <= slack)
            or (band.high_edge == "fold" and abs(high - band.high) <= slack)
        ):
            raise CheckError(f"'{item.name}' is half a piece, but is not on a fold")


def _check_apart(marker: Marker) -> None:
    import shapely

    problem = marker.problem
    names, shapes = [], []
    for _, item, _, outline in marker.outlines():
        shape = shapely.Polygon(outline)
        if not shape.is_valid:
            raise CheckError(f"the cut line of '{item.name}' crosses itself")
        names.append(item.name)
        shapes.append(shape)
    names += ["a fault in the cloth"] * len(problem.faults)
    shapes += [shapely.Polygon(fault) for fault in problem.faults]
    # Pieces overlap by no more than the tolerance if, pared by half of it all round, they are apart.
    pared = shapely.buffer(shapes, -TOLERANCE / 2, join_style="mitre", mitre_limit=2.0)
    tree = shapely.STRtree(pared)
    placed = len(marker.placements)
    for first, second in tree.query(pared, predicate="dwithin", distance=problem.gap).T:
        if first < min(second, placed):
            one, other = pared[first], pared[second]
            if one.intersects(other):
                deep = _depth(shapes[first], shapes[second])
                raise CheckError(f"'{names[first]}' and '{names[second]}' overlap by {deep:.3f} mm")
            if one.distance(other) < problem.gap:
                apart = f"{shapes[first].distance(shapes[second]):.3f} mm apart instead of {problem.gap:.3f}"
                raise CheckError(f"'{names[first]}' and '{names[second]}' are {apart}")


def _depth(shape: Polygon, other: Polygon) -> float:
    """How deep two outlines overlap: the diameter of the largest disc that lies in both, mm."""
    import shapely

    parts = shapely.get_parts(shape.intersection(other))
    discs = [shapely.maximum_inscribed_circle(part, TOLERANCE / 10) for part in parts if part.area > 0]
    return 2 * max((disc.length for disc in discs), default=0.0)
