"""Which outlines of a path bound what is filled: holes are not filled, and an outline within may be no hole."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


MOST_RINGS = 2000
"""Of one path: more is no pattern."""


def edges_of_fill(rings: Sequence[Floats], rule: str) -> list[bool]:
    """Whether each ring of a path has filled ground on one of its sides alone (SVG 1.1, 11.3, fill-rule).

    Parameters
    ----------
    rings
        Outlines that do not cross one another.
    rule
        ``"nonzero"``: ground is filled unless outlines round it run one way as often as the other. ``"evenodd"``: it
        is filled if an odd number of outlines run round it.
    """
    import shapely

    if not 1 < len(rings) <= MOST_RINGS:
        return [len(rings) == 1] * len(rings)
    areas = np.array([shapely.Polygon(ring) if len(ring) > 2 else shapely.Polygon() for ring in rings])
    turns = np.array([1 if rule == "evenodd" or shapely.is_ccw(shapely.get_exterior_ring(a)) else -1 for a in areas])
    places = shapely.points([ring[0] for ring in rings])
    edges = []
    for i, place in enumerate(places):
        around = shapely.contains(areas, place)
        around[i] = False
        outside = int(turns[around].sum())
        inside = outside + int(turns[i])
        edges.append(outside % 2 != inside % 2 if rule == "evenodd" else (outside == 0) != (inside == 0))
    return edges
