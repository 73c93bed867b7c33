"""Filled areas of DXF as outlines: some programs write a polygon as nothing but its filling."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.exchange.drawing import DrawnLine
from pieces.exchange.mend.arc import FINE
from pieces.exchange.mend.joining import as_ring
from pieces.exchange.sketch.outline import DRILL_HOLE
from pieces.exchange.standard import role_of
from pieces.piece.polygon import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.drawing import Drawing
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.read.dxf_entities import PlacedEntity

    Floats = NDArray[np.float64]

FILLED = ("HATCH", "MPOLYGON")

MOST_LOOKED_AT = 200
"""Filled areas that are held against the lines."""

ON_LINE, SHOWN = 1.0, 0.5
"""A corner of an area that lies this near to a line is shown by it, mm; and the share of them that are."""

MOST_BOUNDS, MOST_POINTS = 2000, 200_000
"""Of one filled area: more is a pattern of dots, not of a garment."""


def take_filled(
    found: Sequence[tuple[PlacedEntity, int]], drawing: Drawing, scale: float, report: ImportReport
) -> None:
    """Put filled areas into a drawing that has no lines; where it has, they only fill what lines show already.

    Parameters
    ----------
    found
        The areas, each with its number in the account.
    """
    why = "it only fills what lines show already"
    has_lines = any(stroke.role == "outline" for stroke in drawing.strokes)
    taken = 0
    looked_at = {number for _, number in found[:MOST_LOOKED_AT]}
    for area, number in found:
        if has_lines and (what := _bare(area, scale, drawing) if number in looked_at else ""):
            report.leave(
                what, "it is a filled area without a line round it: draw its outline to have it read", [number]
            )
            continue
        rings = [] if has_lines else _rings(area.entity, scale)
        if not rings:
            report.leave(area.entity.dxftype(), why if has_lines else "its edge cannot be read", [number])
            continue
        taken += 1
        role = role_of(area.layer)
        entry = report.account.entries[number - 1]
        entry.kind, entry.points = "closed outline", rings[0]
        for at, ring in enumerate(rings):
            own = report.account.enter(area.source, "closed outline", area.called, ring) if at else number
            shared = number if len(rings) > 1 else 0
            drawing.strokes.append(DrawnLine(ring, role, area.layer, True, (own,), area.block, shared))
    if taken:
        report.guess(f"no line is drawn, but {taken} filled area{'s' * (taken > 1)}: their edges are taken as outlines")


def _bare(area: PlacedEntity, scale: float, drawing: Drawing) -> str:
    """What a filled area is called that is as large as a piece and no line shows; empty for any other."""
    import shapely

    rings = _rings(area.entity, scale)
    if not rings or float(np.ptp(rings[0], axis=0).max()) <= DRILL_HOLE:
        return ""
    points = np.asarray(shapely.points(rings[0]))
    tree = shapely.STRtree([shapely.LineString(stroke.points) for stroke in drawing.strokes])
    shown = np.unique(tree.query(points, predicate="dwithin", distance=ON_LINE)[0])
    if len(shown) > SHOWN * len(points):
        return ""
    wide, high = np.ptp(rings[0], axis=0).tolist()
    return f"{area.called} of {wide:.0f} × {high:.0f} mm"


def _rings(entity: Any, scale: float) -> list[Floats]:
    """The edges of a filled area, the outermost first; none if one of them is no outline."""
    try:
        rings = list(_flattened(entity, scale))
    except MemoryError:
        raise
    except Exception:  # whatever a damaged area makes of the library
        return []
    if any(len(ring) < 3 or not (np.abs(ring) < FARTHEST).all() for ring in rings):
        return []
    return sorted(rings, key=lambda ring: -float(np.prod(np.ptp(ring, axis=0))))


def _flattened(entity: Any, scale: float) -> Iterator[Floats]:
    from ezdxf.path import from_hatch

    many = 0
    for number, path in enumerate(from_hatch(entity)):
        if not np.abs([(v.x, v.y) for v in path.control_vertices()]).max() < FARTHEST / scale:
            raise ValueError("far away")
        points = np.array([(v.x, v.y) for v in path.flattening(FINE / scale)], dtype=np.float64)
        many += len(points)
        if number > MOST_BOUNDS or many > MOST_POINTS:
            raise ValueError("too many")
        yield as_ring(points * scale, closed=True)[0]
