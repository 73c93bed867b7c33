"""Strips on the bias of a rectangle: at 45 degrees to the grain, their ends cut square."""

from __future__ import annotations

import math
from typing import NamedTuple

STARTS = 60
"""Places tried for the first strip."""

SQRT2 = math.sqrt(2.0)


class BiasStrip(NamedTuple):
    """A strip on the bias: its four corners, mm from the corner of its rectangle, and its length."""

    corners: tuple[tuple[float, float], ...]
    length: float


def bias_strips(length: float, width: float, depth: float, *, gap: float = 0.0, least: float = 0.0) -> list[BiasStrip]:
    """The strips of one width that are cut side by side of a rectangle, at 45 degrees.

    Each is a whole rectangle within the other, so that no more is told than can be cut: what its ends would give if
    they were cut along the grain is left out.

    Parameters
    ----------
    length, width
        Of the rectangle, mm.
    depth
        Width of each strip, mm.
    gap
        Between two strips, mm.
    least
        Strips shorter than this, mm, are left out.
    """
    pitch = (depth + gap) * SQRT2
    tried = (_side_by_side(length, width, depth, -width + pitch * i / STARTS, pitch, least) for i in range(STARTS))
    return max(tried, key=lambda strips: sum(strip.length for strip in strips))


def _side_by_side(
    length: float, width: float, depth: float, first: float, pitch: float, least: float
) -> list[BiasStrip]:
    """The strips from one place on. A place u is where a line at 45 degrees meets the rectangle's lower edge."""
    found, across = [], depth * SQRT2
    for k in range(math.ceil((length - first) / pitch)):
        u = first + k * pitch
        # Along the line, x + y runs from |u| to where it meets the far edges. Square ends: both sides of the strip.
        start = max(abs(u), abs(u + across))
        end = min(2 * length - u - across, 2 * width + u)
        if end - start > 0 and (end - start) / SQRT2 >= least:
            corners = tuple(((s + v) / 2, (s - v) / 2) for s, v in _corners(start, end, u, u + across))
            found.append(BiasStrip(corners, (end - start) / SQRT2))
    return found


def _corners(start: float, end: float, low: float, high: float) -> tuple[tuple[float, float], ...]:
    """Corners by x + y and x - y."""
    return (start, low), (start, high), (end, high), (end, low)
