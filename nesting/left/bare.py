"""Bare cloth: a strip of it, and what is taken of it, with the gap that cutting needs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import shapely

from nesting.fit.remnant import Zone

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.marker.marker import Marker

    Floats = NDArray[np.float64]

TOUCH = 1e-6
"""What overlaps by no more than this, mm, only touches: rounding."""


@dataclass(frozen=True, eq=False)
class Bare:
    """A strip of cloth of some layers.

    Parameters
    ----------
    band
        Index of the marker's band that it is.
    zone
        Where it lies on the laid cloth.
    layers
        Of cloth, cut at once.
    gap
        Least distance between two cuts, mm.
    taken
        All that nothing may be cut of: what lies there, grown by the gap.
    """

    band: int
    zone: Zone
    layers: int
    gap: float
    taken: tuple[shapely.Polygon, ...]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self.taken)

    @cached_property
    def bounds(self) -> Floats:
        """The box of each thing that is taken, shape (n, 4): start, low, end, high."""
        boxes: Floats = shapely.bounds(np.array(self.taken, dtype=object)).reshape(-1, 4)
        return boxes

    def boxes_in(self, window: Zone) -> Floats:
        """The box of each part of a window that is taken, shape (n, 4); what only touches it is left out."""
        inner = shapely.box(window.start + TOUCH, window.low + TOUCH, window.end - TOUCH, window.high - TOUCH)
        if not self.taken or window.start + 2 * TOUCH >= window.end or window.low + 2 * TOUCH >= window.high:
            return np.empty((0, 4))
        near = self._tree.query(inner, predicate="intersects")
        parts = shapely.get_parts(shapely.intersection(self._tree.geometries[near], inner))
        boxes: Floats = shapely.bounds(parts[shapely.area(parts) > 0]).reshape(-1, 4)
        return boxes

    def without(self, zone: Zone) -> Bare:
        """The same once a rectangle is cut of it."""
        cut = shapely.box(zone.start - self.gap, zone.low - self.gap, zone.end + self.gap, zone.high + self.gap)
        return Bare(self.band, self.zone, self.layers, self.gap, (*self.taken, cut))


def bare_cloth(marker: Marker, length: float) -> list[Bare]:
    """The strips of cloth under a marker, and what it leaves of them.

    Parameters
    ----------
    length
        Of the cloth from the marker's start, mm: no less than the marker's.
    """
    problem = marker.problem
    shapes = [shapely.Polygon(outline) for *_, outline in marker.outlines()]
    shapes += [shapely.Polygon(fault) for fault in problem.faults]
    # A mitre holds all that is nearer than the gap; a round corner is drawn with chords, which cut it short.
    grown = shapely.buffer(shapes, problem.gap, join_style="mitre") if problem.gap else np.array(shapes, dtype=object)
    found = []
    for number, band in enumerate(problem.bands):
        end = length if band.end >= marker.length else band.end
        zone = Zone(band.start, end, band.low, band.high)
        box = shapely.box(zone.start, zone.low, zone.end, zone.high)
        near = shapely.intersects(grown, box)
        found.append(Bare(number, zone, band.layers, problem.gap, tuple(grown[near])))
    return found


def free_area(marker: Marker, length: float) -> float:
    """Usable cloth that becomes no piece, over all layers, mm²; faults are no use and are not counted."""
    shapes = [shapely.Polygon(outline) for *_, outline in marker.outlines()]
    shapes += [shapely.Polygon(fault) for fault in marker.problem.faults]
    free = 0.0
    for bare in bare_cloth(marker, length):
        box = shapely.box(bare.zone.start, bare.zone.low, bare.zone.end, bare.zone.high)
        free += bare.layers * (box.area - float(shapely.area(shapely.intersection(shapes, box)).sum()))
    return free


def lines(first: float, last: float, known: Floats, most: int) -> Floats:
    """Lines from the first to the last place, at each known place between and at even steps, about `most` in all."""
    inside = known[(known > first + TOUCH) & (known < last - TOUCH)]
    even = np.linspace(first, last, max(2, most - len(inside)))
    placed = np.unique(np.concatenate([even, inside]))
    apart = np.concatenate([[True], np.diff(placed) > TOUCH])
    apart[-1] = True
    found: Floats = placed[apart]
    return found
