"""Lengths where a person writes them: text with its unit, or a number that has one. A bare number is refused.

Inside, a length is a float in millimetres. `Length` is such a float that was given with its unit, so that what takes
lengths from people tells it from a number of which nobody said the unit.
"""

from __future__ import annotations

from typing import Any

from pieces.errors import LengthError, WrongTypeError
from pieces.require import require_number, told
from pieces.units import INCH, parse_length


class Length(float):
    """A length in mm that was given with its unit; sums and products of it are plain numbers again."""

    __slots__ = ()

    def __new__(cls, mm: float) -> Length:  # noqa: D102 - said above
        require_number(mm, "the mm of a Length")
        return super().__new__(cls, mm)


Written = str | Length
"""A length as a person gives it: ``"22 1/2 in"`` or ``inches(22.5)``."""

_SUCH = '"60 in", inches(60) or cm(150)'


def inches(number: float) -> Length:
    """So many inches, as a length; WrongTypeError if it is no number."""
    return _with_unit(number, INCH, "inches")


def cm(number: float) -> Length:
    """So many centimetres, as a length; WrongTypeError if it is no number."""
    return _with_unit(number, 10.0, "cm")


def mm(number: float) -> Length:
    """So many millimetres, as a length; WrongTypeError if it is no number."""
    return _with_unit(number, 1.0, "mm")


def _with_unit(number: float, unit: float, called: str) -> Length:
    require_number(number, f"{called}()")
    return Length(number * unit)


def length_in_mm(given: Any, what: str) -> Length:
    """A length that a person gave, in mm.

    Parameters
    ----------
    given
        Text with its unit, or what `inches`, `cm` or `mm` makes of a number.
    what
        What it is the length of, as the error names it.

    Raises
    ------
    LengthError
        If it is a bare number, or text that cannot be read.
    WrongTypeError
        If it is neither text nor a number.
    """
    if isinstance(given, Length):
        return given
    try:
        if isinstance(given, str):
            return Length(parse_length(given))
        require_number(given, what)
    except LengthError as error:
        raise LengthError(error.text, error.why, what) from error
    except WrongTypeError as error:
        raise WrongTypeError(f"{what} must be a length with its unit, such as {_SUCH}, not {told(given)}") from error
    raise LengthError(f"{given:g}", f"a bare number has no unit: write {_SUCH}", what)
