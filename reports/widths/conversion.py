"""The published table of what one garment takes on cloth of different widths.

Twelve garments, yards on each width, from the common fabric conversion chart (three copies were seen, which
agree but for slips). It is attributed to the Cooperative Extension of Rutgers, New Jersey: from memory only.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from pieces.units import INCH

SOURCE = "the common fabric conversion chart (attributed to a cooperative extension service, from memory)"

BASE = 45 * INCH
"""The width at which the table is set equal to what was laid."""

_YARDS = {
    36: "1 3/4, 2, 2 1/4, 2 1/2, 2 7/8, 3 1/8, 3 3/8, 3 3/4, 4 1/4, 4 1/2, 4 3/4, 5",
    39: "1 1/2, 1 3/4, 2, 2 1/4, 2 1/2, 2 3/4, 3, 3 1/4, 3 1/2, 3 3/4, 4, 4 1/4",
    41: "1 1/2, 1 3/4, 2, 2 1/4, 2 1/2, 2 3/4, 2 7/8, 3 1/8, 3 3/8, 3 5/8, 3 7/8, 4 1/8",
    45: "1 3/8, 1 5/8, 1 3/4, 2 1/8, 2 1/4, 2 1/2, 2 3/4, 2 7/8, 3 1/8, 3 3/8, 3 5/8, 3 7/8",
    50: "1 1/4, 1 1/2, 1 5/8, 1 3/4, 2, 2 1/4, 2 3/8, 2 5/8, 2 3/4, 3, 3 1/4, 3 3/8",
    54: "1 1/8, 1 3/8, 1 1/2, 1 3/4, 1 7/8, 2, 2 1/4, 2 3/8, 2 5/8, 2 3/4, 2 7/8, 3 1/8",
    60: "1, 1 1/4, 1 3/8, 1 5/8, 1 3/4, 1 7/8, 2, 2 1/4, 2 3/8, 2 5/8, 2 3/4, 2 7/8",
    66: "7/8, 1 1/8, 1 1/4, 1 1/2, 1 5/8, 1 3/4, 1 7/8, 2 1/8, 2 1/4, 2 1/2, 2 5/8, 2 3/4",
}
"""Yards of each garment by width in inches; of a column such as 44-45 in, the wider."""


@cache
def ratios() -> dict[float, tuple[float, float, float]]:
    """For each width, mm: the least, mean and greatest share of what the same garment takes on 45 in."""
    base = _column(45)
    found = {}
    for width in _YARDS:
        shares = [float(yards / of) for yards, of in zip(_column(width), base, strict=True)]
        found[width * INCH] = (min(shares), sum(shares) / len(shares), max(shares))
    return found


def _column(width: int) -> list[Fraction]:
    return [sum((Fraction(part) for part in entry.split()), Fraction(0)) for entry in _YARDS[width].split(",")]
