"""Whether an outline is its own mirror image: then left and right are alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ALIKE = 0.98
"""How much of each other an outline and its mirror image cover, where it is symmetric."""

POINTS = 1000
"""Along an outline, for its main axes."""

TURNS = 72
"""How many ways the mirror image is tried beside those of its main axes."""


def is_symmetric(ring: Floats) -> bool:
    """Whether an outline, turned over and turned round its middle, covers itself."""
    import shapely
    from shapely import affinity

    outline = shapely.make_valid(shapely.Polygon(ring)) if len(ring) > 2 else shapely.Polygon()
    if outline.is_empty or outline.area <= 0:
        return True
    middle = outline.centroid
    places = _places(ring)
    _, axes = np.linalg.eigh(places.T @ places)
    main = float(np.degrees(np.arctan2(axes[1, 1], axes[0, 1])))
    mirrored = affinity.scale(outline, 1.0, -1.0, origin=middle)
    for turn in [2 * main, 2 * main + 180.0, *np.linspace(0.0, 360.0, TURNS, endpoint=False)]:
        turned = affinity.rotate(mirrored, turn, origin=middle)
        if turned.intersection(outline).area >= ALIKE * outline.area:
            return True
    return False


def _places(ring: Floats) -> Floats:
    """Points along an outline in even steps, about their middle."""
    closed = np.vstack([ring, ring[:1]])
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))))
    steps = np.linspace(0.0, along[-1], POINTS, endpoint=False)
    places = np.column_stack([np.interp(steps, along, closed[:, axis]) for axis in (0, 1)])
    centred: Floats = places - places.mean(axis=0)
    return centred
