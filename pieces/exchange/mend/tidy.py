"""An outline as it was drawn made one that can be cut: doubled points, spikes and crossings taken out, and told."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.polygon import FARTHEST

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.exchange.imported import ImportReport

    Floats = NDArray[np.float64]

DOUBLED = 1e-4
"""Points of an outline nearer than this to one another are one, mm."""

MOST_LOST = 0.05
"""Share of an outline's area that may be lost where it crosses itself: more would make another piece of it."""

MOST_MENDED = 1500
"""Points of an outline that crosses itself: of more it could cross itself millions of times."""

LEAST_AREA = 25.0
"""Less is no piece of cloth, mm²."""


def tidy(ring: Floats, name: str, report: ImportReport) -> Floats | None:
    """The outline counter-clockwise, simple, without doubled points; None, and told, where it cannot be made so."""
    if not (np.abs(ring) < FARTHEST).all():
        return _left(
            name,
            "one of its points is not a finite number, or is more than a kilometre away: move it to the origin",
            report,
        )
    if len(ring) > 1 and np.hypot(*(ring[-1] - ring[0])) <= DOUBLED:
        ring = ring[:-1]
    kept = _spread(ring)
    if len(kept) < len(ring) and len(kept) > 2:
        many = len(ring) - len(kept)
        report.mended(name, f"{many} doubled point{'s' * (many > 1)} dropped", 0.0)
    if len(kept) < 3:
        return _left(name, "it encloses nothing", report)
    simple = _simple(kept, name, report)
    if simple is None:
        return None
    area = _signed_area(simple)
    if abs(area) < LEAST_AREA:
        return _left(name, f"it encloses {abs(area):.3g} mm², too little for a piece: is its unit right?", report)
    return simple if area > 0 else np.ascontiguousarray(simple[::-1])


def is_beyond_mending(ring: Floats) -> bool:
    """Whether an outline crosses itself, and has too many points to be mended in a moment."""
    import shapely

    return len(ring) > MOST_MENDED and not shapely.Polygon(ring).is_valid


def _left(name: str, why: str, report: ImportReport) -> Floats | None:
    report.leave(f"'{name}'", why)
    return None


def _spread(ring: Floats) -> Floats:
    """The ring without points that lie on the one before."""
    apart = np.hypot(*(ring - np.roll(ring, 1, axis=0)).T) > DOUBLED
    apart[:1] = True
    kept: Floats = ring[apart]
    return kept


def _simple(ring: Floats, name: str, report: ImportReport) -> Floats | None:
    """The ring itself, or the largest part of one that crosses itself."""
    import shapely

    outline = shapely.Polygon(ring)
    if outline.is_valid:
        return ring
    if len(ring) > MOST_MENDED:
        return _left(name, f"it crosses itself and has {len(ring)} points: draw it again", report)
    ring = np.round(ring, 9)
    outline = shapely.Polygon(ring)
    parts = [p for p in shapely.get_parts(shapely.make_valid(outline)) if p.geom_type in ("Polygon", "MultiPolygon")]
    areas = [(part.area, part) for whole in parts for part in shapely.get_parts(whole)]
    if not areas:
        return _left(name, "it encloses nothing", report)
    area, largest = max(areas, key=lambda pair: pair[0])
    lost = 1 - area / sum(each for each, _ in areas)
    if lost > MOST_LOST:
        why = f"it crosses itself so that only {1 - lost:.0%} of it would be left: draw it again"
        return _left(name, why, report)
    mended = shapely.get_coordinates(largest.exterior)[:-1]
    moved = float(np.max(shapely.distance(shapely.points(ring), largest.exterior)))
    report.mended(name, "the smaller part is cut off where it crosses or touches itself", moved)
    return np.asarray(mended, dtype=np.float64)


def _signed_area(ring: Floats) -> float:
    x, y = (ring - ring[0]).T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)
