"""Tables of overlap depth for every two shapes, on a lattice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.kernels.depth import depths
from nesting.kernels.raster import Tables

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

FINENESS = 32
"""Depths are counted in this part of a cell."""

UNSEEN = 0.15
"""Depth, in cells, that counts as none: a linear program clears it afterwards."""

BOUND_UNSEEN = 1e-6
"""The same between two shapes that no linear program may move."""


def make_tables(shapes: Shapes, nofit: NoFit, cells: tuple[float, float]) -> Tables:
    """Depth tables for a lattice of `cells` mm along and across.

    A shape's lattice starts at its least x and its lowest y. Depths are scaled by the pair's size, so that large pieces
    part first: by (hull area of one × of the other) to the power 1/4, over the mean.
    """
    v = len(shapes.all)
    bound = [all(shape.is_bound) for shape in shapes.all]
    scale = _scale(shapes)
    info = np.zeros((5, v, v), dtype=np.int64)
    chunks: list[NDArray[np.int16]] = []
    size = 0
    for fixed in range(v):
        for moved in range(fixed + 1):
            left, low, table = _table(shapes, nofit, fixed, moved, cells)
            table[table < (BOUND_UNSEEN if bound[fixed] and bound[moved] else UNSEEN)] = 0
            whole = np.rint(table * (scale[fixed] * scale[moved] * FINENESS)).clip(0, 32767).astype(np.int16)
            rows, columns = whole.shape
            info[:, fixed, moved] = size, left, low, columns, rows
            chunks.append(whole.ravel())
            size += whole.size
            if fixed != moved:
                # Seen from the other shape the offset, and with it the table, is turned about.
                info[:, moved, fixed] = size, 1 - left - columns, 1 - low - rows, columns, rows
                chunks.append(whole[::-1, ::-1].ravel())
                size += whole.size
    numbers = [*shapes.of_item, *([number] for number in shapes.faults)]
    first = np.array([of_item[0] for of_item in numbers])
    last = np.array([of_item[-1] + 1 for of_item in numbers])
    steps = np.array([shape.steps for shape in shapes.all]).T
    stride_x, stride_y = np.maximum(np.rint(steps / np.array([cells]).T), 1).astype(np.int64)
    start, lefts, lows, widths, heights = info
    depth = np.concatenate(chunks)
    own = depth[(start - lows * widths - lefts).diagonal()].astype(np.int64)
    return Tables(depth, start, lefts, lows, widths, heights, first, last, own, stride_x, stride_y)


def _table(
    shapes: Shapes, nofit: NoFit, fixed: int, moved: int, cells: tuple[float, float]
) -> tuple[int, int, NDArray[np.float64]]:
    """First offset, in cells, and depths in cells at the lattice offsets of two shapes."""
    one, other = shapes.all[fixed], shapes.all[moved]
    shift = (other.first - one.first, other.low - one.low)
    ends = []
    for path in nofit.paths(fixed, moved):
        border = (shapes.grid.to_mm(path) - shift) / cells
        ends.append(np.concatenate([border, np.roll(border, -1, axis=0)], axis=1))
    sides = np.concatenate(ends)
    left, low = np.ceil(sides[:, :2].min(axis=0)).astype(np.int64).tolist()
    right, high = np.floor(sides[:, :2].max(axis=0)).astype(np.int64).tolist()
    table = np.zeros((max(1, high - low + 1), max(1, right - left + 1)))
    depths(sides, float(left), float(low), cells[1] / cells[0], table)
    return left, low, table


def _scale(shapes: Shapes) -> NDArray[np.float64]:
    """Factor of each shape; the product of two, averaged over all pairs of outlines, is near 1."""
    import shapely

    hulls = np.array([shapely.MultiPoint(shape.outline).convex_hull.area for shape in shapes.all]) ** 0.25
    first = np.array([of_item[0] for of_item in shapes.of_item])
    scale: NDArray[np.float64] = hulls / hulls[first[shapes.items]].mean()
    return scale
