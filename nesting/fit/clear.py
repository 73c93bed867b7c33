"""Places clear of cut-outs: whether an outline has one, and cut-outs as pieces that are to be laid."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.fit.remnant import Zone
from nesting.problem.item import Item, Variant
from nesting.tolerance import ALLOWED, TOLERANCE, pare

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from nesting.problem.problem import Problem

STEPS_PER_MM = 1e7
"""Steps that a place clear of cut-outs is sought in: a hundred thousandth of the tolerance."""


def has_place(variant: Variant, length: float, zones: Sequence[Zone]) -> bool:
    """Whether an outline, alone on cloth of some length, mm, has a place clear of all zones, to a tolerance."""
    import pyclipper

    if variant.length > length + TOLERANCE + 2 * ALLOWED:
        return False
    rim, last = ALLOWED, length + TOLERANCE - variant.length
    outline = pare(variant.outline, ALLOWED / 2)
    cores = [Zone(zone.start + rim, zone.end - rim, zone.low + rim, zone.high - rim) for zone in zones]
    ways = [_in_the_way(outline, core) for core in cores if core.start < core.end and core.low < core.high]
    # In whole steps: shapely fails on some unions of floats, or gives too much. Each of three rounds moves no line by
    # more than a step or two. A place that the check lets pass is kept: it lies half of `ALLOWED` outside all ways,
    # and a thousandth of the tolerance, a hundred steps, within the rim.
    left, low, right, high = _steps([-rim, variant.low - rim, last + rim, variant.high + rim])
    right, high = max(right, left + 1), max(high, low + 1)
    clipper = pyclipper.Pyclipper()
    clipper.AddPath([[left, low], [right, low], [right, high], [left, high]], pyclipper.PT_SUBJECT, True)
    if ways:
        clipper.AddPaths([path for way in ways for path in way], pyclipper.PT_CLIP, True)
    return bool(clipper.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO))


def _in_the_way(outline: NDArray[np.float64], zone: Zone) -> list[list[list[int]]]:
    """Places at which an outline overlaps a zone, as paths in steps: the zone swept along the outline turned about."""
    import pyclipper
    import shapely

    turned, corners, middle = -outline, zone.outline, zone.outline.mean(axis=0)
    inner = shapely.get_coordinates(shapely.point_on_surface(shapely.Polygon(turned)))
    # The sum of both borders lacks where one lies wholly within the other: there a point well inside of it does.
    border: list[list[list[int]]] = pyclipper.MinkowskiSum(_steps(corners), _steps(turned), True)
    return [*border, _steps(corners + inner), _steps(turned + middle)]


def _steps(mm: ArrayLike) -> Any:
    """Millimetres as whole steps, in lists."""
    return np.rint(np.asarray(mm) * STEPS_PER_MM).astype(np.int64).tolist()


def with_zones(problem: Problem, zones: Sequence[Zone]) -> Problem:
    """The problem with its cut-outs as pieces to be laid at their heights: they lie within the length as well."""
    items = []
    for number, zone in enumerate(zones, 1):
        for i, band in enumerate(problem.bands):
            part = zone.within(band.low, band.high)
            if part:
                outline = part.outline - (part.start, part.low)
                items.append(Item(f"cut-out {number}", 1, (Variant(outline, 0.0, False, i, part.low, part.low),)))
    return replace(problem, items=(*problem.items, *items), faults=())
