"""From a marker's length to the length to buy, each addition on its own line."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

from pieces.units import INCH, YARD, format_fraction, round_up
from reports.sums import add_up

if TYPE_CHECKING:
    from pieces.units import Units
    from reports.sums import Line


@dataclass(frozen=True)
class Addition:
    """One thing added to the marker's length: what it is, and its length, mm; whether it is the rounding up."""

    what: str
    mm: float
    fills: bool = False


@dataclass(frozen=True)
class Increment:
    """The step in which a shop sells: its length, mm, and the words it was written in."""

    mm: float
    text: str

    def write(self, mm: float) -> str:
        """A bought length in the shop's own unit: yards and eighths, metres, or inches."""
        if re.search(r"\d\s*[cm]?m\b|met", self.text):
            return f"{_decimal(mm / 1000)} m"
        for unit, size in (("yd", YARD), ("in", INCH)):
            sixteenths = mm / size * 16
            if abs(sixteenths - round(sixteenths)) < 1e-6:
                return f"{format_fraction(mm / size, 16)} {unit}"
        return f"{_decimal(mm / YARD)} yd"


@dataclass(frozen=True)
class Purchase:
    """How a length to buy comes about.

    Parameters
    ----------
    need
        Length the layout takes, mm.
    additions
        What is added to it, in order, rounding last; `need` and all of these make `buy`.
    buy
        Length to buy, mm: a whole number of increments.
    text
        The same as the shop writes it.
    needed
        Length before it was rounded up, mm.
    """

    need: float
    additions: tuple[Addition, ...]
    buy: float
    text: str
    needed: float

    @property
    def spare(self) -> float:
        """What is bought beyond the need, mm."""
        return max(0.0, self.buy - self.needed)

    def lines(self, need: str, units: Units) -> tuple[Line, ...]:
        """Every step from the need to what is bought, for a person: the lengths shown add up to what is bought."""
        steps = [(need, self.need), *((more.what, more.mm) for more in self.additions)]
        rests = [i for i, more in enumerate(self.additions, 1) if more.fills]
        return add_up(steps, rests[0], self.buy, units)


def _decimal(number: float) -> str:
    """A number with as many decimals as it takes, six at the most; rounded up, as it is a length to buy."""
    return f"{ceil(number * 1e6 - 1e-3) / 1e6:.10g}"


def purchase(
    need: float,
    increment: Increment,
    *,
    ends: float,
    shrinkage: float,
    margin: float,
    splice: float = 0.0,
    start: float = 0.0,
    minimum: float = 0.0,
) -> Purchase:
    """Work out how much to buy.

    Parameters
    ----------
    need
        Length the layout takes, mm.
    increment
        The step in which it is sold; the length is rounded up to a whole number of them.
    ends
        Allowance at each of the two ends, mm (1 cm for cloth that does not stretch: Vilumsone-Nemes,
        Industrial Cutting of Textile Materials, p. 31).
    shrinkage
        Percent of its length that the cloth loses before it is cut: length / (1 - shrinkage) is bought.
    margin
        Percent to add for safety.
    splice
        Added once where a length is put together of two, mm.
    start
        A repeat of the pattern, mm: cloth is cut off the roll anywhere on it, the marker begins at one place of it.
    minimum
        Least length that is sold, mm.
    """
    additions, length = [], need
    for what, more in (
        ("end allowance, both ends", 2 * ends),
        ("splice", splice),
        ("one repeat, to begin on the pattern", start),
        (
            f"shrinkage before cutting, {shrinkage:g} %",
            (need + 2 * ends + splice + start) * (1 / (1 - shrinkage / 100) - 1),
        ),
    ):
        additions += [Addition(what, more)] if more else []
        length += more
    if margin:
        additions.append(Addition(f"margin, {margin:g} %", length * margin / 100))
        length += additions[-1].mm
    if length < minimum:
        additions.append(Addition("up to the least length sold", minimum - length))
        length = minimum
    buy = round_up(length, increment.mm)
    additions.append(Addition(f"rounded up to whole steps of {increment.text}", buy - length, fills=True))
    return Purchase(need, tuple(additions), buy, increment.write(buy), length)


def more_for_less(bought: Purchase, increment: Increment, at: float) -> Purchase:
    """A purchase raised to the length from which a lower price makes more cost less, mm."""
    buy = round_up(at, increment.mm)
    more = Addition("more, as it costs less at the lower price", buy - bought.buy)
    return replace(bought, additions=(*bought.additions, more), buy=buy, text=increment.write(buy))
