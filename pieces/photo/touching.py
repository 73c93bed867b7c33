"""What was traced as one piece and may be two that touch, or lie so near that no table is seen between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.photo.paper import LEAST_PIECE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pieces.photo.traced import TracedPiece

    Floats = NDArray[np.float64]

ENDS = 6.0
"""A line that ends no further from the edge runs to it, mm: nearer to the edge ink is not told from its shadow."""

NECK = 20.0
"""Where a piece is narrower, and wider on both sides, two may meet by a corner, mm: common practice, no source."""

LINES = ("inner line", "sew line", "grain", "dart", "fold")


def touching_words(piece: TracedPiece) -> Iterator[str]:
    """Why a piece may be two, and what to do."""
    import shapely
    from shapely.ops import split

    area = shapely.Polygon(piece.outline.points)
    across = 0
    for mark in piece.marks:
        if mark.kind in LINES and not mark.is_ring:
            parts = split(area, shapely.LineString(_longer(mark.points))).geoms
            across += sum(part.area >= LEAST_PIECE for part in parts) > 1
    do = "lay them 2 cm apart, and take the photo again"
    if across:
        lines = "a line runs" if across == 1 else f"{across} lines run"
        yield f"'{piece.name}' may be two pieces that touch: {lines} all across it; if they are two, {do}"
        return
    wide = shapely.get_parts(area.buffer(-NECK / 2))
    if sum(part.buffer(NECK / 2).area >= LEAST_PIECE for part in wide) > 1:
        why = f"between two wide parts it is narrower than {NECK:g} mm"
        yield f"'{piece.name}' may be two pieces that touch: {why}; if they are two, {do}"


def _longer(line: Floats) -> Floats:
    """A line, longer at both ends by what may be missing to the edge."""
    found = line.copy()
    for end, before in ((0, 1), (-1, -2)):
        way = line[end] - line[before]
        found[end] += ENDS * way / max(float(np.hypot(*way)), 1e-9)
    return found
