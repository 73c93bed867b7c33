"""Lengths as people write them, in and out; inside, a length is a float in millimetres.

An inch is 25.4 mm and a yard 0.9144 m, both exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re
from contextlib import contextmanager
from contextvars import ContextVar
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor, isfinite
from typing import TYPE_CHECKING

from pieces.errors import LengthError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

CM = 10.0
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
_NOISE = 1e-6  # mm: what a sum of floats may be off by, and no tape or gauge could show
SHORT = 1e-3
"""A need that is longer than what there is by no more than this, mm, is met: the arithmetic makes as much of it."""
_IN_SHORT = 1000
"""Needs are counted in whole thousandths of a mm, and from there on exactly."""

_LONGEST = 10_000_000  # 10 km: no roll is as long


class Units(StrEnum):
    """How answers are written: the choice a job makes once."""

    INCHES = "in"
    METRIC = "cm"


_SPOKEN: ContextVar[Units | None] = ContextVar("spoken", default=None)


def speak(units: Units) -> None:
    """Have what knows no job (errors, notes of a draft) speak these units from here on, in this context."""
    _SPOKEN.set(units)


@contextmanager
def speaking(units: Units) -> Iterator[None]:
    """Have what knows no job speak these units for a while."""
    token = _SPOKEN.set(units)
    try:
        yield
    finally:
        _SPOKEN.reset(token)


def is_metric() -> bool:
    """Whether centimetres are spoken."""
    return _SPOKEN.get() is Units.METRIC


def spoken(inches: str, metric: str) -> str:
    """Of two ways to say the same that in the units spoken."""
    return metric if is_metric() else inches


def parse_length(text: str) -> float:
    """Read a length written with its unit, such as ``5¼ in``, ``1 yd 4 in`` or ``57cm``; millimetres.

    Raises
    ------
    LengthError
        If there is no number, no unit, an unknown one or one twice, a comma, anything left over, or more than 10 km.
    """
    if not isinstance(text, str):
        raise LengthError(str(text), f"a bare number has no unit; {_WRITE}")
    if len(text) > _MOST_SIGNS:
        raise LengthError(text[:20] + "…", "it has too many characters for a length")
    if "," in text:
        raise LengthError(text, "use a point, not a comma, for decimals")
    if text.strip().startswith("-"):
        raise LengthError(text, "a length cannot be negative")
    written = _with_fractions(text)
    total, at, seen = Fraction(0), 0, set[Fraction]()
    while at < len(written.rstrip()) or at == 0:
        term = _TERM.match(written, at)
        if term is None:
            raise LengthError(text, _WRITE)
        number, unit = _number(term, text), _unit(term[5], text)
        if unit in seen:
            raise LengthError(text, "it names one unit twice; write one length")
        seen.add(unit)
        total += number * unit
        at = term.end()
    if total > _LONGEST:
        raise LengthError(text, "it is too long; check the number and the unit")
    return float(total)


def unit_written(text: str) -> str:
    """The unit that a length which `parse_length` reads was written in last, such as ``"m"`` of ``5 Metres``."""
    return _SPELLINGS[[term[5] for term in _TERM.finditer(_with_fractions(text))][-1]]


def unit_size(spelling: str) -> float:
    """Millimetres of a unit of length, however it is spelt."""
    return float(_MM[_SPELLINGS[spelling.lower()]])


def is_unit(spelling: str) -> bool:
    """Whether a word or sign, in small letters, is a unit of length."""
    return spelling in _SPELLINGS


def _with_fractions(text: str) -> str:
    """A length in small letters, signs such as ¼ written out."""
    return "".join(f" {_VULGAR[sign]}" if sign in _VULGAR else sign for sign in text).lower()


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
    return write_fraction(Fraction(floor(value * parts + 0.5), parts))


def write_fraction(value: Fraction) -> str:
    """A fraction as it is spoken: whole number first."""
    sign, value = ("-", -value) if value < 0 else ("", value)
    whole, rest = divmod(value, 1)
    words = [str(whole)] if whole or not rest else []
    words += [str(rest)] if rest else []
    return sign + " ".join(words)


def format_size(mm: float, units: Units, parts: int = 8) -> str:
    """A dimension of a body or a piece, to the nearest: inches to 1/8 (or 1/`parts`), or centimetres to 0.5."""
    return _write(_nearest(mm, units, parts), units, parts)


def format_sizes(sizes: Iterable[float], units: Units, between: str) -> str:
    """Several dimensions, the unit written once: ``3 × 4 in``."""
    *first, last = sizes
    return between.join([*(bare_size(mm, units) for mm in first), format_size(last, units)])


def bare_size(mm: float, units: Units) -> str:
    """What `format_size` writes before the unit: for a column, or a field, that names the unit itself."""
    return _number_of(_nearest(mm, units, 8), units, 8)


def format_exact(mm: float, units: Units) -> str:
    """A length as somebody gave it, never too much: inches in exact fractions, else to a thousandth of the unit."""
    for parts in (8, 16, 32, 64) if units is Units.INCHES else ():
        if abs(mm - _nearest(mm, units, parts) * INCH / parts) < _NOISE:
            return format_size(mm, units, parts)
    unit = INCH if units is Units.INCHES else 10.0
    return f"{floor((mm + _NOISE) / unit * 1000) / 1000:.10g} {units}"


def format_need(mm: float, units: Units, parts: int = 8) -> str:
    """A length that must be there (a marker's, an addition, what a piece takes): rounded up, so never too little.

    As much is bought (`round_up`) as is shown.
    """
    return _write(whole_steps(mm, _tick(units, parts)), units, parts)


def format_bound(mm: float, units: Units, parts: int = 8) -> str:
    """A length that nothing undercuts, or that there is to use: rounded down, so never too much."""
    return _write(floor((mm + _NOISE) / _tick(units, parts)), units, parts)


def _nearest(mm: float, units: Units, parts: int) -> int:
    return floor(mm / _tick(units, parts) + 0.5)


def _tick(units: Units, parts: int) -> float:
    return INCH / parts if units is Units.INCHES else 5.0


def _write(ticks: int, units: Units, parts: int) -> str:
    return f"{_number_of(ticks, units, parts)} {units}"


def _number_of(ticks: int, units: Units, parts: int) -> str:
    return write_fraction(Fraction(ticks, parts)) if units is Units.INCHES else f"{ticks / 2:g}"


def metres_need(mm: float) -> str:
    """A length that must be there, in metres to the millimetre: rounded up."""
    return f"{whole_steps(mm, 1) / 1000:.3f} m"


def metres_bound(mm: float) -> str:
    """A length that nothing undercuts, in metres to the millimetre: rounded down."""
    return f"{floor(mm + _NOISE) / 1000:.3f} m"


def percent_need(share: float) -> str:
    """A share that may be left to save or to lose, 0 to 1, rounded up to a tenth of a percent."""
    return f"{ceil(share * 1000 - _NOISE) / 10:.1f}%"


def percent_reached(share: float) -> str:
    """A share that is reached, such as a density, 0 to 1, rounded down to a tenth of a percent."""
    return f"{floor(share * 1000 + _NOISE) / 10:.1f}%"


def format_both(mm: float) -> str:
    """A dimension for what knows no job: ``3 1/2 in (89 mm)``, or ``8.9 cm`` where centimetres are spoken."""
    if is_metric() and isfinite(mm):
        return f"{floor(mm + 0.5) / 10:g} cm"
    return f"{format_size(mm, Units.INCHES)} ({mm:.0f} mm)" if isfinite(mm) else f"{mm} mm"


def need_both(mm: float) -> str:
    """As `format_both`, of what must be there: rounded up."""
    if is_metric() and isfinite(mm):
        return f"{whole_steps(mm, 1) / 10:g} cm"
    return f"{format_need(mm, Units.INCHES)} ({whole_steps(mm, 1)} mm)" if isfinite(mm) else f"{mm} mm"


def bound_both(mm: float) -> str:
    """As `format_both`, of what there is: rounded down."""
    if is_metric() and isfinite(mm):
        return f"{floor(mm + _NOISE) / 10:g} cm"
    return f"{format_bound(mm, Units.INCHES)} ({floor(mm + _NOISE)} mm)" if isfinite(mm) else f"{mm} mm"


def format_cloth(mm: float, units: Units) -> str:
    """A length of cloth, rounded up so that it is never short: yards to 1/8, or metres to 0.05."""
    if units is Units.INCHES:
        return f"{format_fraction(round_up(mm, YARD / 8) / YARD)} yd"
    return f"{round_up(mm, 50) / 1000:.2f} m"


def round_up(mm: float, step: float) -> float:
    """The least whole multiple of `step` that is no less than `mm`, to the nearest thousandth of a mm."""
    return whole_steps(mm, step) * step


def whole_steps(need: float | Fraction, step: float | Fraction) -> int:
    """The fewest whole steps that cover a need, which is taken to the nearest thousandth of a mm: exact from there on.

    What a sum of binary numbers is off by is far less than that, so that a need of whole steps takes no step more.
    """
    return ceil(Fraction(round(need * _IN_SHORT), _IN_SHORT) / Fraction(step).limit_denominator(10_000_000))
