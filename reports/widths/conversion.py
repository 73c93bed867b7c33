"""The published conversion chart, set equal at one width."""

from __future__ import annotations

from functools import cache

from pieces.units import INCH
from reports.convert.published import published, shares

BASE = 45 * INCH
"""The width at which the table is set equal to what was laid."""


def source() -> str:
    """Where the chart is from."""
    return published()[0].source


@cache
def ratios() -> dict[float, tuple[float, float, float]]:
    """For each width, mm: the least, mean and greatest share of what the same garment takes on 45 in.

    Of a column such as 44-45 in, the wider is meant.
    """
    columns = published()[0].columns
    base = next(column for column in columns if not column.off(BASE))
    found = {}
    for column in columns:
        of = [float(share) for share in shares(base, column)]
        found[column.high] = (min(of), sum(of) / len(of), max(of))
    return found
