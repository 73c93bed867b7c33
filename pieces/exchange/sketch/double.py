"""Lines drawn as bands: an editor that makes strokes into areas, or a tracing, gives each line two edges."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.sketch.within import LEAST_ALLOWANCE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.outline import Outline

    Floats = NDArray[np.float64]

WIDEST_BAND = 1.0
"""Two outlines that are not said to bound one area may be sizes if they are further apart, mm."""

LEAST_BAND = 0.02
"""Outlines nearer than this are no band but one outline drawn twice, mm."""

UNEVEN = 0.35
"""By how much of its width a band may be wider or narrower somewhere: at its corners it is."""

THIN = 20
"""An outline is so many times larger, either way, than the line that it is drawn by."""

MOST_EDGE = 20_000
"""Points of an outline that is compared with another."""


def one_of_two(found: Sequence[Outline], report: ImportReport) -> list[Outline]:
    """Outlines with the two edges of a band made one: the line midway between them. That is guessed, and told."""
    every = [(outer, edge, width) for outer in found for edge, width in _band(outer)]
    first = {id(outer) for outer, _, _ in every}
    # Where several follow one another, they are sizes, and not the edges of one line.
    bands = [band for band in every if id(band[1]) not in first and id(band[0].parent) not in first]
    gone: set[int] = set()
    widths: list[float] = []
    for outer, edge, width in bands:
        points = _midway(outer, width)
        if points is None:
            continue
        numbers = (*outer.ring.numbers, *edge.ring.numbers)
        outer.ring = replace(outer.ring, points=points, numbers=numbers, area=0, is_ground=False, is_unlined=False)
        outer.area = _polygon(points)
        outer.children = [child for child in outer.children if child is not edge] + edge.children
        for child in edge.children:
            child.parent = outer
        outer.words, outer.marks = [*outer.words, *edge.words], outer.marks + edge.marks
        report.account.joined(numbers)
        widths.append(width)
        gone.add(id(edge))
    if widths:
        many = f"{len(widths)} outlines are" if len(widths) > 1 else "1 outline is"
        wide = f"{min(widths):.2g}" + (f" to {max(widths):.2g}" if max(widths) > 1.1 * min(widths) else "")
        report.guess(f"{many} drawn as a band, {wide} mm wide: the line midway between its edges is used")
    return [outline for outline in found if id(outline) not in gone]


def _band(outer: Outline) -> Iterator[tuple[Outline, float]]:
    """The other edge of a band that an outline is the outer edge of, and how wide it is; at most one."""
    import shapely

    inner = [child for child in outer.children if not child.is_small]
    if len(inner) != 1 or len(outer.ring.points) + len(inner[0].ring.points) > MOST_EDGE:
        return
    edge = inner[0]
    if (
        edge.ring.called != outer.ring.called
        or edge.ring.groups != outer.ring.groups
        or outer.area.geom_type != "Polygon"
    ):
        return
    width = (outer.size - edge.size) / max(float(outer.area.length + edge.area.length) / 2, 1e-9)
    most = LEAST_ALLOWANCE if outer.ring.area and outer.ring.area == edge.ring.area else WIDEST_BAND
    if not LEAST_BAND <= width < most or width * THIN > np.ptp(outer.ring.points, axis=0).min():
        return
    apart = shapely.distance(shapely.points(edge.ring.points), outer.area.exterior)
    if bool((np.abs(apart - width) <= UNEVEN * width + LEAST_BAND).all()):
        yield edge, width


def _midway(outer: Outline, width: float) -> Floats | None:
    """The outline half a width within; None if that is not one outline."""
    found = outer.area.buffer(-width / 2, join_style="mitre")
    if found.geom_type != "Polygon" or found.is_empty or found.interiors:
        return None
    points: Floats = np.array(found.exterior.coords)[:-1]
    return points


def _polygon(points: Floats) -> object:
    import shapely

    return shapely.Polygon(points)
