"""What is drawn in DXF as points in mm: lines, polylines with bulges, arcs, ellipses and splines; words and points."""

from __future__ import annotations

from math import hypot, isfinite
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.exchange.mend.arc import FINE, ROUND, arc_by_height
from pieces.exchange.mend.joining import as_ring
from pieces.exchange.read.dxf_signs import words_written
from pieces.piece.polygon import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

CURVES = ("ARC", "CIRCLE", "ELLIPSE", "SPLINE")

LINES = ("LINE", "LWPOLYLINE", "POLYLINE", *CURVES)

MOST_POLES = 5000
"""Control points of a spline: more is no line that a person drew."""

MOST_DEGREE = 11

MOST_POINTS = 1_000_000
"""Of all lines of a file, or of a block."""


BETWEEN = (
    "a spline gives only points that it passes through, and programs draw it differently in between: check its lengths"
)

LEVEL = 0.1
"""Points of a line may lie this far above one another, and count as level, mm."""


class UnreadableError(Exception):
    """An entity that stands for no line in the plane; says why."""


def points_of(entity: Any, scale: float) -> tuple[Floats, bool]:
    """Points of a line, mm, and whether it is closed.

    Raises
    ------
    UnreadableError
        If it lies out of bounds, or is no line in the plane.
    """
    kind = entity.dxftype()
    try:
        if kind == "LINE":
            points, closed = _seen([entity.dxf.start, entity.dxf.end], scale), False
        elif kind == "LWPOLYLINE":
            rows = np.array(entity.lwpoints.values, dtype=np.float64).reshape(-1, 5)[:, [0, 1, 4]]
            closed = bool(entity.closed)
            points = _flipped(_bulged(rows, closed), entity)
        elif kind == "POLYLINE":
            points, closed = _polyline(entity, scale)
        else:
            points, closed = _seen(_curve(entity, kind, FINE / scale), scale), kind == "CIRCLE"
    except (UnreadableError, MemoryError):
        raise
    except Exception as error:  # a library's own words for a curve that is none
        raise UnreadableError(f"it cannot be drawn ({type(error).__name__})") from error
    if len(points) < 2:
        raise UnreadableError("it has fewer than two points")
    if not (np.abs(points) < FARTHEST / scale).all():
        raise UnreadableError(
            "one of its points is not a finite number, or is more than a kilometre away: move it to the origin"
        )
    return as_ring(points * scale, closed=closed)


def _seen(places: Iterable[Any], scale: float) -> Floats:
    """Points in space as they are seen from above.

    Raises
    ------
    UnreadableError
        If they do not lie at one height: seen from above the line would be shorter than it is.
    """
    points = np.array([tuple(place) for place in places], dtype=np.float64).reshape(-1, 3)
    if len(points) and np.ptp(points[:, 2]) * scale > LEVEL:
        raise UnreadableError("its points lie at different heights (z): it is not a flat line")
    return points[:, :2]


def _polyline(entity: Any, scale: float) -> tuple[Floats, bool]:
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        raise UnreadableError("it is a mesh, not a line")
    rows = np.array(
        [(*v.dxf.location, v.dxf.get("bulge", 0.0)) for v in entity.vertices if not v.dxf.flags & 16],
        dtype=np.float64,
    ).reshape(-1, 4)
    closed = bool(entity.is_closed)
    flat = np.column_stack([_seen(rows[:, :3], scale), rows[:, 3]])
    return _flipped(_bulged(flat, closed), entity), closed


def _bulged(rows: Floats, closed: bool) -> Floats:
    """Points of a polyline whose rows are x, y and the bulge towards the next: height over half the chord."""
    points: Floats = rows[:, :2]
    if not rows[:, 2].any():
        return points
    if not np.isfinite(rows).all():
        raise UnreadableError("one of its points is not a finite number")
    parts, last = [points[:1]], len(rows) if closed else len(rows) - 1
    for i in range(last):
        (x0, y0, bulge), (x1, y1, _) = rows[i].tolist(), rows[(i + 1) % len(rows)].tolist()
        parts.append(arc_by_height((x0, y0), (x1, y1), bulge * hypot(x1 - x0, y1 - y0) / 2)[1:])
    whole = np.vstack(parts)
    return whole[:-1] if closed else whole


def _flipped(points: Floats, entity: Any) -> Floats:
    """Points of an entity that was drawn from behind, which counts x the other way."""
    z = entity.dxf.get("extrusion", (0, 0, 1))[2]
    if abs(abs(z) - 1) > 1e-6:
        raise UnreadableError("it is not flat")
    return points * (-1, 1) if z < 0 else points


def _curve(entity: Any, kind: str, fine: float) -> list[Any]:
    sizes = [float(v) for name in ("radius", "ratio", "start_angle", "end_angle") if entity.dxf.is_supported(name)
             for v in [entity.dxf.get(name, 0.0)]]  # fmt: skip
    if kind == "SPLINE":
        poles = [*entity.control_points, *entity.fit_points]
        if len(poles) > MOST_POLES or not 1 <= entity.dxf.degree <= MOST_DEGREE:
            raise UnreadableError(f"it has {len(poles)} control points: at most {MOST_POLES} are read")
        sizes += [float(v) for pole in poles for v in pole]
    else:
        sizes += [float(v) for v in entity.dxf.center]
    if kind == "ELLIPSE":
        sizes += [float(v) for v in entity.dxf.major_axis]
    most = 1e9 * fine  # bounds the number of points
    if not all(isfinite(size) and abs(size) < most for size in sizes):
        raise UnreadableError("one of its numbers is not finite, or is far too large")
    if entity.dxf.is_supported("radius") and entity.dxf.radius <= 0:
        raise UnreadableError("it has no radius")
    if entity.dxf.is_supported("radius"):
        fine = min(fine, ROUND * entity.dxf.radius)
    return list(entity.flattening(fine))


def is_interpolated(entity: Any) -> bool:
    """Whether a curve is given by points that it passes through and nothing else: programs differ in between."""
    return bool(entity.dxftype() == "SPLINE" and not len(entity.control_points) and len(entity.fit_points) > 2)


def words_of(entity: Any, scale: float) -> tuple[str, Point] | None:
    """The words of a text, and where they stand in the drawing, mm."""
    place, words = entity.dxf.insert, words_written(entity)
    kind, dxf = entity.dxftype(), entity.dxf
    if kind != "MTEXT" and (dxf.get("halign", 0) or dxf.get("valign", 0)) and dxf.hasattr("align_point"):
        place = dxf.align_point
    if kind != "MTEXT":  # whose place is the drawing's own; a mirrored text counts x the other way
        place = entity.ocs().to_wcs(place)
    if kind == "ATTRIB" and words.strip().isdigit():  # whose tag alone says what it counts: QTY
        words = f"{dxf.tag.replace('_', ' ')}: {words}"
    x, y = float(place[0]) * scale, float(place[1]) * scale
    return (words.strip(), (x, y)) if words.strip() and isfinite(x) and isfinite(y) else None
