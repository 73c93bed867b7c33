"""Depth of overlap at lattice offsets."""

from __future__ import annotations

import numpy as np

from nesting.kernels.jit import kernel


@kernel
def depths(sides, left, low, pitch, out):  # type: ignore[no-untyped-def]
    """For each offset inside a no-fit polygon the distance to its border; 0 outside.

    Parameters
    ----------
    sides
        (m, 4), float64: x, y of both ends of each side of the border, in cells.
    left, low
        The first offset, in cells; the others follow at whole cells.
    pitch
        Size of a cell across over its size along: depths are in the latter.
    out
        (rows, columns), float64: the result; columns run along the cloth.
    """
    rows, columns = out.shape
    for row in range(rows):
        for column in range(columns):
            x, y = left + column, (low + row) * pitch
            inside, least = False, 1e30
            for k in range(len(sides)):
                ax, ay, bx, by = sides[k, 0], sides[k, 1] * pitch, sides[k, 2], sides[k, 3] * pitch
                if (ay <= y) != (by <= y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                    inside = not inside
                ux, uy, px, py = bx - ax, by - ay, x - ax, y - ay
                along = min(1.0, max(0.0, (px * ux + py * uy) / (ux * ux + uy * uy + 1e-300)))
                dx, dy = px - along * ux, py - along * uy
                least = min(least, dx * dx + dy * dy)
            out[row, column] = np.sqrt(least) if inside else 0.0
