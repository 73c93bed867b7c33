"""Tilt: the angles off the grain that are worth trying, and what is sure of a piece at every angle in between.

The search tries a few angles, a proof must hold for all of them. As a convex outline turns, its extent across a
direction falls to its least only where a side lies flat, or at an end of the range: between two such angles it is the
distance of two corners times a cosine, which is concave. So the extents that a piece can be laid in are exact.

For all other arguments each range of angles is cut in parts. All that an outline covers at every angle of a part, as it
turns about its middle, is an outline that can stand for it there: what does not fit with these does not fit.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem

    Floats = NDArray[np.float64]

MOST_TILTS = 7
"""Angles tried of one piece, upright and both ends included."""

PARTS = 4
"""Parts of a range of angles, for proofs."""

SAMPLES = 9
"""Angles of a part at which the outline is looked at; between them it is pared by as far as it can move."""

SAME_ANGLE = 1e-3
"""Angles nearer than this are one to the search, degrees; a proof tells them apart."""

FINEST = 0.02
"""How much is given away so that an outline that stands for a range has fewer corners, mm."""

PROBLEMS_KEPT = 16
"""Problems whose outlines that stand for all angles are kept."""


def tilts(outline: Floats, most: float) -> tuple[float, ...]:
    """Angles off the grain worth trying, degrees: upright first, then both ends, then some at which a side lies flat.

    Parameters
    ----------
    outline
        Shape (n, 2), mm, as it lies upright on the cloth.
    most
        How far it may be tilted either way.
    """
    if not most:
        return (0.0,)
    ends = [0.0, -most, most]
    found = [tilt for tilt in _flat(outline, most) if SAME_ANGLE < abs(tilt) < most - SAME_ANGLE]
    narrowest = [min((*ends, *found), key=lambda tilt: float(np.ptp(_turn(outline, tilt)[:, axis]))) for axis in (1, 0)]
    wanted = dict.fromkeys((*narrowest, *found))
    return (*ends, *(tilt for tilt in wanted if tilt not in ends))[:MOST_TILTS]


def least_extents(outline: Floats, most: float) -> tuple[float, float]:
    """The least size along and across the cloth that an outline takes, tilted by any angle that is allowed, mm."""
    angles = (0.0, -most, most, *_flat(outline, most)) if most else (0.0,)
    sizes = [np.ptp(_turn(outline, tilt), axis=0) for tilt in angles]
    along, across = np.min(sizes, axis=0).tolist()
    return along, across


def _flat(outline: Floats, most: float) -> list[float]:
    """Angles at which a side of the outline's hull lies along or across the cloth, those of the longest sides first."""
    import shapely

    corners = shapely.get_coordinates(shapely.convex_hull(shapely.MultiPoint(outline)))
    sides = np.diff(corners, axis=0)
    angles = -np.degrees(np.arctan2(sides[:, 1], sides[:, 0]))
    angles -= 90.0 * np.round(angles / 90.0)
    lengths: dict[float, float] = {}
    for angle, length in zip(angles.tolist(), np.hypot(*sides.T).tolist(), strict=True):
        if abs(angle) < most:
            lengths[angle] = lengths.get(angle, 0.0) + length
    return sorted(lengths, key=lambda angle: -lengths[angle])


def _turn(outline: Floats, degrees: float) -> Floats:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    turned: Floats = outline @ np.array([[cos, sin], [-sin, cos]])
    return turned


def least_length(variant: Variant, depth: float = 0.0) -> float:
    """The least size along the cloth of an outline over all tilts that are allowed, tried or not, mm.

    Parameters
    ----------
    depth
        By how much the outline is pared, mm: what is enlarged one way more than the other is pared so when it turns.
    """
    if not variant.most_tilt:
        return variant.length
    family = _Family(variant)
    uneven = 1 - float(family.growth.min() / family.growth.max())
    return family.least_extents()[0] - 2 * depth * uneven


@lru_cache(maxsize=PROBLEMS_KEPT)
def over_all_tilts(problem: Problem) -> Problem:
    """The problem as a proof sees it: each outline that may be tilted stands for a part of its range of angles.

    Each marker of the problem, with its pieces tilted by any angles that are allowed, is one of this problem, no
    longer, once each outline is put in place of the one that it stands for.
    """
    if not any(variant.most_tilt for item in problem.items for variant in item.variants):
        return problem
    items = tuple(_item_over_all(problem, item) for item in problem.items)
    return replace(problem, items=items, repeat=None)


def _item_over_all(problem: Problem, item: Item) -> Item:
    fixed = tuple(variant for variant in item.variants if not variant.most_tilt)
    seen: dict[tuple[int, bool, float], _Family] = {}
    for variant in item.variants:
        if variant.most_tilt:
            family = _Family(variant)
            seen.setdefault((variant.band, variant.mirrored, family.upright), family)
    return replace(item, variants=(*fixed, *(way for family in seen.values() for way in family.ways(problem))))


class _Family:
    """All the angles of which a variant shows one."""

    def __init__(self, variant: Variant) -> None:
        self.variant = variant
        self.upright = round(variant.turn - variant.tilt, 6) % 360.0
        self.growth = np.array(variant.transform.growth if variant.transform else (1.0, 1.0))
        self.outline = _turn(variant.outline / self.growth, -variant.tilt)

    def least_extents(self) -> tuple[float, float]:
        """The least size along and across, mm."""
        along, across = least_extents(self.outline, self.variant.most_tilt)
        return along * float(self.growth[0]), across * float(self.growth[1])

    def ways(self, problem: Problem) -> Iterator[Variant]:
        """Variants that stand for all angles, each for a part of them."""
        band, most = problem.bands[self.variant.band], self.variant.most_tilt
        for first, last in pairwise(np.linspace(-most, most, PARTS + 1).tolist()):
            outline = covered(self.outline, first, last, self.growth)
            x, y = outline.min(axis=0).tolist()
            outline = np.ascontiguousarray(outline - (x, y))
            high = max(band.low, band.high - float(outline[:, 1].max()))
            yield replace(self.variant, outline=outline, low=band.low, high=high, tilt=0.0, most_tilt=0.0, match=None)


def covered(outline: Floats, first: float, last: float, growth: Floats) -> Floats:
    """What an outline covers at every angle of a range, turned about its box's middle; of several parts the largest.

    Parameters
    ----------
    outline
        Shape (n, 2), mm, upright.
    first, last
        The range, degrees.
    growth
        Factors along and across, after the turn.

    Returns
    -------
    ndarray
        Shape (m, 2), mm, the middle being (0, 0); three equal points where nothing is covered.
    """
    import shapely

    centred = outline - (outline.min(axis=0) + outline.max(axis=0)) / 2
    turned = [_turn(centred, float(tilt)) * growth for tilt in np.linspace(first, last, SAMPLES)]
    common = shapely.intersection_all([shapely.Polygon(one).buffer(0) for one in turned])
    reach = float(np.hypot(*centred.T).max() * growth.max())
    # Half a step from the nearest sample at the most; a little more, as rounded corners are drawn with few sides.
    moved = 1.02 * reach * math.radians(last - first) / (2 * (SAMPLES - 1))
    core = common.buffer(-(moved + FINEST)).simplify(FINEST * 0.9)
    parts = [part for part in shapely.get_parts(core) if part.area > 0]
    if not parts:
        return np.zeros((3, 2))
    largest = shapely.geometry.polygon.orient(max(parts, key=lambda part: part.area))
    return np.asarray(largest.exterior.coords)[:-1].copy()
