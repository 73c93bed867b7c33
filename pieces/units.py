"""Lengths as people write them, in and out; inside, a length is a float in millimetres.

An inch is 25.4 mm and a yard 0.9144 m, both exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor, isfinite

from pieces.errors import LengthError

INCH = 25.4
YARD = 914.4

_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "yd": Fraction(9144, 10),
}
_SPELLINGS = {
    **{unit: unit for unit in _MM},
    **dict.fromkeys(('"', "″", "”", "''", "inch", "inches", "ins"), "in"),
    **dict.fromkeys(("'", "′", "’", "foot", "feet"), "ft"),
    **dict.fromkeys(("yds", "yard", "yards"), "yd"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
}
_VULGAR = dict(zip("½⅓⅔¼¾⅛⅜⅝⅞", ("1/2", "1/3", "2/3", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8"), strict=True))
_NUMBER = r"(?:(\d+)\s*[\s-]\s*)?(\d+)\s*/\s*(\d+)|(\d+(?:\.\d*)?|\.\d+)"
_TERM = re.compile(rf"\s*(?:{_NUMBER})\s*([a-z]+|''|[\"″”'′’])?\s*")
_WRITE = 'write it with in, ft, yd, mm, cm or m, such as "22 1/2 in", "57 cm", "2 3/8 yd"'
_MOST_SIGNS = 64
_LONGEST = 10_000_000  # 10 km: no roll is as long


class Units(StrEnum):
    """How answers are written: the choice a job makes once."""

    INCHES = "in"
    METRIC = "cm"


def parse_length(text: str) -> float:
    """Read a length written with its unit, such as ``5¼ in``, ``1 yd 4 in`` or ``57cm``; millimetres.

    Raises
    ------
    LengthError
        If there is no number, no unit or an unknown one, a comma, anything left over, or more than 10 km.
    """
    if not isinstance(text, str):
        raise LengthError(str(text), f"a bare number has no unit; {_WRITE}")
    if len(text) > _MOST_SIGNS:
        raise LengthError(text[:20] + "…", "it is too long to be a length")
    if "," in text:
        raise LengthError(text, "use a point, not a comma, for decimals")
    if text.strip().startswith("-"):
        raise LengthError(text, "a length cannot be negative")
    written = "".join(f" {_VULGAR[sign]}" if sign in _VULGAR else sign for sign in text).lower()
    total, at = Fraction(0), 0
    while at < len(written.rstrip()) or at == 0:
        term = _TERM.match(written, at)
        if term is None:
            raise LengthError(text, _WRITE)
        total += _number(term, text) * _unit(term[5], text)
        at = term.end()
    if total > _LONGEST:
        raise LengthError(text, "it is longer than any cloth; check the number and the unit")
    return float(total)


def is_unit(spelling: str) -> bool:
    """Whether a word or sign, in small letters, is a unit of length."""
    return spelling in _SPELLINGS


def _number(term: re.Match[str], text: str) -> Fraction:
    whole, top, bottom, decimal = term.group(1, 2, 3, 4)
    if decimal is not None:
        return Fraction(decimal)
    if int(bottom) == 0:
        raise LengthError(text, "a fraction cannot be over 0")
    return int(whole or 0) + Fraction(int(top), int(bottom))


def _unit(spelling: str | None, text: str) -> Fraction:
    if spelling is None:
        raise LengthError(text, f"a bare number has no unit; {_WRITE}")
    if spelling not in _SPELLINGS:
        raise LengthError(text, f"unknown unit {spelling!r}; {_WRITE}")
    return _MM[_SPELLINGS[spelling]]


def format_fraction(value: float, parts: int = 8) -> str:
    """A number as a mixed fraction, to the nearest 1/`parts`: ``22 1/2``, ``7/8``, ``3``."""
    nearest = Fraction(floor(value * parts + 0.5), parts)
    sign, nearest = ("-", -nearest) if nearest < 0 else ("", nearest)
    whole, rest = divmod(nearest, 1)
    words = [str(whole)] if whole or not rest else []
    words += [str(rest)] if rest else []
    return sign + " ".join(words)


def format_size(mm: float, units: Units, parts: int = 8) -> str:
    """A dimension of a body or a piece: inches to 1/8 (or 1/`parts`), or centimetres to 0.5."""
    if units is Units.INCHES:
        return f"{format_fraction(mm / INCH, parts)} in"
    return f"{floor(mm / 5 + 0.5) / 2:g} cm"


def format_both(mm: float) -> str:
    """A dimension in inches and millimetres, for errors that know no job: ``3 1/2 in (89 mm)``."""
    return f"{format_size(mm, Units.INCHES)} ({mm:.0f} mm)" if isfinite(mm) else f"{mm} mm"


def format_cloth(mm: float, units: Units) -> str:
    """A length of cloth, rounded up so that it is never short: yards to 1/8, or metres to 0.05."""
    if units is Units.INCHES:
        return f"{format_fraction(round_up(mm, YARD / 8) / YARD)} yd"
    return f"{round_up(mm, 50) / 1000:.2f} m"


def round_up(mm: float, step: float) -> float:
    """The least whole multiple of `step` that is no less than `mm`, give or take a thousandth of a mm."""
    return ceil((mm - 1e-3) / step) * step
