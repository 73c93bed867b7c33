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
        (rows, columns), float64, all 0: the result; columns run along the cloth.
    """
    rows, columns = out.shape
    ax, ay = sides[:, 0], sides[:, 1] * pitch
    ux, uy = sides[:, 2] - ax, sides[:, 3] * pitch - ay
    per_square = 1.0 / (ux * ux + uy * uy + 1e-300)
    for row in range(rows):
        y = (low + row) * pitch
        for k in range(len(sides)):
            if (ay[k] <= y) != (ay[k] + uy[k] <= y):
                # From the first offset beyond the side on, inside and outside change places.
                first = int(np.floor(ax[k] + (y - ay[k]) * ux[k] / uy[k] - left)) + 1
                for column in range(max(0, first), columns):
                    out[row, column] = 1.0 - out[row, column]
        for column in range(columns):
            if out[row, column] == 0.0:
                continue
            x, least = left + column, 1e30
            for k in range(len(sides)):
                px, py = x - ax[k], y - ay[k]
                along = min(1.0, max(0.0, (px * ux[k] + py * uy[k]) * per_square[k]))
                dx, dy = px - along * ux[k], py - along * uy[k]
                least = min(least, dx * dx + dy * dy)
            out[row, column] = np.sqrt(least)
