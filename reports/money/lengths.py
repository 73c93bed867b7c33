"""Lengths of cloth as a buying list writes them."""

from __future__ import annotations

from math import floor

from pieces.units import INCH, SHORT, YARD, Units, format_bound, format_need, format_size, whole_steps

ON_TAPE = 24 * INCH
"""Shorter lengths are written as on a tape, mm."""


def write_length(mm: float, units: Units) -> str:
    """A length of cloth in a run, to the nearest: yards or metres to the hundredth, short ones as on a tape."""
    return format_size(mm, units) if mm < ON_TAPE else _hundredths(round(mm / _hundredth(units)), units)


def write_need(mm: float, units: Units) -> str:
    """The same, of cloth that must be there: rounded up."""
    if mm < ON_TAPE:
        return format_need(mm, units)
    return _hundredths(whole_steps(mm, _hundredth(units)), units)


def write_left(mm: float, units: Units) -> str:
    """The same, of cloth that there is: rounded down."""
    if mm < ON_TAPE:
        return format_bound(mm, units)
    return _hundredths(floor((mm + SHORT) / _hundredth(units)), units)


def _hundredth(units: Units) -> float:
    return (YARD if units is Units.INCHES else 1000) / 100


def _hundredths(number: int, units: Units) -> str:
    return f"{number / 100:.2f} {'yd' if units is Units.INCHES else 'm'}"
