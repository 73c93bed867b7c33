"""Hems: what is cut beyond the finished edge, to be turned in."""

from __future__ import annotations

from pieces.units import INCH

UNDER = INCH * 3 / 8
"""Turned under first, unless the hem itself is narrower: common practice, no source."""


def turned_twice(depth: float) -> float:
    """The allowance of a hem of a finished depth, mm, whose raw edge is turned under first."""
    return depth + min(depth, UNDER)
