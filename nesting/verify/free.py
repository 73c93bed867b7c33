"""Whether rectangles of the laid cloth are free: within its edges, clear of all that is cut, and of faults."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE
from nesting.verify.clear import overlap
from nesting.verify.cloth import cloth_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely import Polygon

    from nesting.verify.asked import Asked, Flaw
    from nesting.verify.cloth import Region
    from nesting.verify.laid import LaidMarker


def check_free(
    layout: LaidMarker, asked: Asked, length: float, zones: Sequence[tuple[float, float, float, float]]
) -> None:
    """Make sure that rectangles can be cut besides all pieces of a marker, and besides one another.

    Parameters
    ----------
    length
        Of the laid cloth, mm: as long as the marker, or longer.
    zones
        Of each rectangle: from where to where along the laid cloth, and across it, mm.

    Raises
    ------
    CheckError
        If one reaches beyond the usable cloth, or is nearer than the gap to a piece, a fault or another one.
    """
    import shapely

    cloth = cloth_of(asked, layout.length, layout.opened)
    pieces = [(laid.piece, shapely.Polygon(laid.outline)) for laid in layout.laid]
    boxes: list[tuple[str, Polygon]] = []
    for number, (start, end, low, high) in enumerate(zones, 1):
        name = f"free rectangle {number}"
        corners = np.array([[start, low], [end, low], [end, high], [start, high]])
        if not (start < end and low < high):
            raise CheckError(f"{name} has no length or no width")
        regions = [_to(region, layout.length, length) for region in cloth.regions]
        region = min(regions, key=lambda one: max(one.outside(corners).values()))
        side, by = max(region.outside(corners).items(), key=lambda item: item[1])
        if by > TOLERANCE:
            raise CheckError(f"{name} reaches {by:.2f} mm beyond the {side} of {region.name}")
        box = shapely.Polygon(corners)
        for other, shape in (*pieces, *boxes):
            _check_apart(name, box, f"'{other}'", shape, asked.fabric.gap)
        for layer in region.layers:
            flat = shapely.Polygon(layer.to_cloth(corners))
            for flaw in asked.flaws:
                _check_apart(name, flat, "a fault in the cloth", _usable(flaw, asked), asked.fabric.gap)
        boxes.append((name, box))


def check_inside(
    zone: tuple[float, float, float, float], outlines: Sequence[Sequence[tuple[float, float]]], gap: float
) -> None:
    """Make sure that outlines lie in a rectangle, and as far from one another as cutting asks; else CheckError."""
    import shapely

    start, end, low, high = zone
    whole = shapely.box(start, low, end, high).buffer(TOLERANCE)
    shapes = [shapely.Polygon(outline) for outline in outlines]
    for number, shape in enumerate(shapes, 1):
        if not whole.covers(shape):
            raise CheckError(f"strip {number} reaches beyond its rectangle")
        for before, other in enumerate(shapes[: number - 1], 1):
            _check_apart(f"strip {number}", shape, f"strip {before}", other, gap)


def _to(region: Region, marker: float, length: float) -> Region:
    """A region with what is left beyond the marker, if it reaches to its end."""
    return region._replace(last=length) if region.last >= marker else region


def _usable(flaw: Flaw, asked: Asked) -> Polygon:
    import shapely

    edge, width = asked.fabric.selvedge, asked.fabric.width
    return shapely.box(flaw.start, max(flaw.low, edge), flaw.end, min(flaw.high, width - edge))


def _check_apart(name: str, box: Polygon, other: str, shape: Polygon, gap: float) -> None:
    if (deep := overlap(box, shape)) > TOLERANCE:
        raise CheckError(f"{name} and {other} overlap: they share a strip {deep:.2f} mm wide or more")
    if gap and (apart := box.distance(shape)) < gap - TOLERANCE:
        raise CheckError(f"{name} and {other} are {apart:.2f} mm apart instead of {gap:.2f}")
