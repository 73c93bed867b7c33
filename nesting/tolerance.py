"""Tolerance: how deep two pieces may overlap, or one stick out of the cloth, and still be cut.

One figure for search, check and proof, a *depth* in mm. Shears or a blade follow a line no closer than some tenths of
a millimetre (common practice, no source): a hundredth is far below what anyone can cut, and far above all rounding in
here. A depth, unlike an area, means the same for a long seam as for a corner: two panels that fill the cloth may
share a sliver of 1e-7 mm along metres, and no spike of 0.1 mm passes.

The depth of an overlap is the diameter of the largest disc that lies in it. So it is at most `TOLERANCE` just where
the pieces no longer meet once each is *pared* by half of that all round. That one sentence is the whole model:

- the check pares the pieces, and asks that they keep apart;
- a proof is made of the pared pieces, on cloth that reaches as much further on all sides. What it proves of them
  holds for whatever the check lets pass, however many pieces there are, once the length is taken back as well;
- the search stays far within: its own rounding is under a millionth of the cloth's width
  (`nesting.shape.grid.INSET`, `nesting.search.compact.MARGIN`), so that no marker owes its length to the tolerance.
  Only across the cloth, where a piece is wider than its band by what the check lets pass, it lies in the middle all
  the same (`nesting.problem.ways.free_span`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


TOLERANCE = 0.01
"""Most that pieces may overlap, stick out of their band or miss their line, mm."""

ALLOWED = TOLERANCE * 1.001
"""What a proof allows for, mm: the tolerance, and the rounding of the check itself."""

MITRE = 2.0
"""Where an outline turns inwards, its pared corner stays sharp up to this many times the distance."""


def pare(outline: NDArray[np.float64], by: float) -> NDArray[np.float64]:
    """An outline, shape (n, 2), mm, with a strip taken off all round, counter-clockwise; of several parts the largest.

    Of an outline that is thinner than the strip a point is left.
    """
    import shapely

    shape = shapely.Polygon(outline)
    parts = shapely.get_parts(shape.buffer(-by, join_style="mitre", mitre_limit=MITRE))
    if not len(parts) or parts[0].is_empty:
        return np.repeat(outline.mean(axis=0, keepdims=True), 3, axis=0)
    largest = shapely.geometry.polygon.orient(max(parts, key=lambda part: part.area))
    corners: NDArray[np.float64] = np.asarray(largest.exterior.coords)[:-1]
    return corners
