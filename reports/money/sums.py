"""Sums of lengths as they are shown: every need rounded up, and all lines together the total to the last figure."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, NamedTuple

from pieces.units import SHORT, Units, whole_steps, write_fraction

if TYPE_CHECKING:
    from collections.abc import Sequence

_INCH = Fraction(254, 10)


class SumLine(NamedTuple):
    """A line of a sum: what it is, the length shown, mm, and how it is written."""

    what: str
    mm: float
    text: str


class Steps(NamedTuple):
    """The steps in which a sum is shown: one of them, mm, and the unit that is written."""

    one: Fraction
    unit: str

    def up(self, mm: float) -> int:
        """Steps that cover a length, as in `round_up`."""
        return whole_steps(mm, self.one)

    def write(self, number: int) -> str:
        """So many steps in words."""
        if self.unit == "in":
            return f"{write_fraction(number * self.one / _INCH)} in"
        return f"{float(number * self.one / 10):.9g} cm"


_INCHES = tuple(Steps(_INCH / parts, "in") for parts in (8, 16, 32, 64))
_METRIC = tuple(Steps(Fraction(step), "cm") for step in ("5", "1", "1/10", "1/100"))
STEPS = {Units.INCHES: (*_INCHES, *_METRIC), Units.METRIC: (*_METRIC, *_INCHES, _METRIC[-1])}
"""Steps from coarse to fine; the first in which a sum comes out is shown. Cloth sold by the other unit needs that."""


def add_up(steps: Sequence[tuple[str, float]], rest: int, total: float, units: Units) -> tuple[SumLine, ...]:
    """The lines of a sum that is rounded up to a total.

    Each length is shown rounded up, and the rounding up as what is then left to the total. Where that would be less
    than nothing, all is shown in finer steps. If no steps are fine enough, each running total is shown rounded up.

    Parameters
    ----------
    steps
        What each line is, and its true length, mm; the true lengths add up to the total, give or take `SHORT`.
    rest
        Which line is the rounding up.
    total
        What comes out, mm.
    """
    for by in STEPS[units]:
        counts = [by.up(mm) for _, mm in steps]
        counts[rest] = round(total / float(by.one)) - sum(counts[:rest] + counts[rest + 1 :])
        if counts[rest] >= 0 and abs(sum(counts) * float(by.one) - total) <= SHORT:
            break
    else:
        by = STEPS[units][-1]
        counts = [after - before for before, after in pairwise([0, *map(by.up, accumulate(mm for _, mm in steps))])]
    return tuple(SumLine(what, float(n * by.one), by.write(n)) for (what, _), n in zip(steps, counts, strict=True))
