"""Lines that keep convex parts apart."""

from __future__ import annotations

import numpy as np

from nesting.kernels.jit import kernel


@kernel
def _best_side(corners, a, a_end, b, b_end, dx, dy):  # type: ignore[no-untyped-def]
    """The side of part a that part b, moved by (dx, dy), is furthest outside of: its normal and that distance."""
    best, best_x, best_y = -1e30, 0.0, 0.0
    for k in range(a, a_end):
        after = k + 1 if k + 1 < a_end else a
        nx, ny = corners[after, 1] - corners[k, 1], corners[k, 0] - corners[after, 0]
        size = np.sqrt(nx * nx + ny * ny)
        if size == 0:
            continue
        nx, ny = nx / size, ny / size
        least = 1e30
        for m in range(b, b_end):
            least = min(least, nx * (corners[m, 0] + dx - corners[k, 0]) + ny * (corners[m, 1] + dy - corners[k, 1]))
            if least < best:
                break
        if least > best:
            best, best_x, best_y = least, nx, ny
    return best, best_x, best_y


@kernel
def gaps(corners, parts, of_shape, boxes, shape, x, y, reach, out_pair, out_row):  # type: ignore[no-untyped-def]
    """For each two convex parts of different outlines that could meet: the line that parts them best.

    Parameters
    ----------
    corners
        (c, 2), float64: corners of all parts of all shapes, counter-clockwise.
    parts
        (p + 1,), int64: where each part's corners begin.
    of_shape
        (V + 1,), int64: where each shape's parts begin.
    boxes
        (p, 4), float64: left, low, right, high of each part.
    shape, x, y
        (n,): the layout.
    reach
        How far apart two parts may be to be of interest.
    out_pair, out_row
        (m, 2), int64, and (m, 3), float64: the two outlines; normal and least offset of the second from the
        first along it.

    Returns
    -------
    int
        Number of rows; more than m means that there was no room for all.
    """
    count = 0
    for i in range(len(x)):
        for j in range(i + 1, len(x)):
            dx, dy = x[j] - x[i], y[j] - y[i]
            for a in range(of_shape[shape[i]], of_shape[shape[i] + 1]):
                for b in range(of_shape[shape[j]], of_shape[shape[j] + 1]):
                    if (
                        boxes[b, 0] + dx > boxes[a, 2] + reach
                        or boxes[a, 0] > boxes[b, 2] + dx + reach
                        or boxes[b, 1] + dy > boxes[a, 3] + reach
                        or boxes[a, 1] > boxes[b, 3] + dy + reach
                    ):
                        continue
                    one, nx, ny = _best_side(corners, parts[a], parts[a + 1], parts[b], parts[b + 1], dx, dy)
                    two, mx, my = _best_side(corners, parts[b], parts[b + 1], parts[a], parts[a + 1], -dx, -dy)
                    if two > one:
                        one, nx, ny = two, -mx, -my
                    if one > reach:
                        continue
                    if count < len(out_pair):
                        out_pair[count, 0], out_pair[count, 1] = i, j
                        out_row[count, 0], out_row[count, 1] = nx, ny
                        out_row[count, 2] = nx * dx + ny * dy - one
                    count += 1
    return count
