"""From a marker's length to the length to buy, each addition on its own line."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING, Literal

from pieces.units import format_fraction, round_up, unit_size, unit_written
from reports.money.sums import add_up

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces.units import Units
    from reports.money.sums import SumLine


AdditionKind = Literal["ends", "splice", "begin", "plies", "shrinkage", "margin", "least", "rounding", "price"]
"""Why more is bought: the ends of each length, a splice, to begin on the pattern, between plies on a pattern, what
shrinks before it is cut, for safety, the least length sold, whole steps, or a lower price for more."""


@dataclass(frozen=True)
class Addition:
    """One thing added to the marker's length: its kind, in words what it is, and its length, mm.

    Parameters
    ----------
    percent
        Of shrinkage and margin.
    step
        Of the rounding up: the step in which the cloth is sold, mm.
    repeat
        Of what a pattern takes: its repeat, mm.
    """

    kind: AdditionKind
    what: str
    mm: float
    percent: float | None = None
    step: float | None = None
    repeat: float | None = None


@dataclass(frozen=True)
class Increment:
    """The step in which a shop sells: its length, mm, and the words it was written in."""

    mm: float
    text: str

    def write(self, mm: float) -> str:
        """A bought length in the shop's own unit: yards and eighths, metres, or inches."""
        unit = self.unit(mm)
        number = mm / unit_size(unit)
        is_written_out = unit == "m" or not _is_sixteenths(number)
        return f"{_decimal(number) if is_written_out else format_fraction(number, 16)} {unit}"

    def unit(self, mm: float) -> str:
        """The unit that the shop writes a length in."""
        if unit_written(self.text) in ("mm", "cm", "m"):
            return "m"
        return next((unit for unit in ("yd", "in") if _is_sixteenths(mm / unit_size(unit))), "yd")


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
    text, unit
        The same as the shop writes it, and the unit it is written in.
    needed
        Length that is used, with all additions, mm: before it was brought up to what is sold.
    enough
        The least length sold that is enough, mm; `buy` is more where a lower price makes more cost less.
    """

    need: float
    additions: tuple[Addition, ...]
    buy: float
    text: str
    unit: str
    needed: float
    enough: float

    @property
    def number(self) -> float:
        """What is bought in the shop's unit."""
        return self.buy / unit_size(self.unit)

    @property
    def spare(self) -> float:
        """What is bought beyond the need, mm."""
        return max(0.0, self.buy - self.needed)

    def lines(self, need: str, units: Units) -> tuple[SumLine, ...]:
        """Every step from the need to what is bought, for a person: the lengths shown add up to what is bought."""
        steps = [(need, self.need), *((more.what, more.mm) for more in self.additions)]
        rests = [i for i, more in enumerate(self.additions, 1) if more.kind == "rounding"]
        return add_up(steps, rests[0], self.buy, units)


def _is_sixteenths(number: float) -> bool:
    return abs(number * 16 - round(number * 16)) < 1e-6


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
    apart: float = 0.0,
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
    apart
        What is left between plies so that each begins on the same place of the pattern, mm over all.
    minimum
        Least length that is sold, mm.
    """
    additions, length = [], need
    shrinks = (need + 2 * ends + splice + start + apart) * (1 / (1 - shrinkage / 100) - 1)
    for more in (
        Addition("ends", "end allowance, both ends", 2 * ends),
        Addition("splice", "splice", splice),
        Addition("begin", "one repeat, to begin on the pattern", start, repeat=start),
        Addition("plies", "between plies, each to begin on the pattern", apart, repeat=start),
        Addition("shrinkage", f"shrinkage before cutting, {shrinkage:g} %", shrinks, percent=shrinkage),
    ):
        additions += [more] if more.mm else []
        length += more.mm
    if margin:
        additions.append(Addition("margin", f"margin, {margin:g} %", length * margin / 100, percent=margin))
        length += additions[-1].mm
    needed = length
    if length < minimum:
        additions.append(Addition("least", "up to the least length sold", minimum - length))
        length = minimum
    buy = round_up(length, increment.mm)
    rounding = f"rounded up to whole steps of {increment.text}"
    additions.append(Addition("rounding", rounding, buy - length, step=increment.mm))
    return Purchase(need, tuple(additions), buy, increment.write(buy), increment.unit(buy), needed, buy)


def left_between(plies: Iterable[tuple[int, float]], repeat: float) -> float:
    """Cloth left between plies so that each begins whole repeats after the one before, mm over all.

    Nothing is left after the last, whichever that is: the least is taken off that any ply leaves.

    Parameters
    ----------
    plies
        How many are cut in each length, and the length, mm, ends included.
    repeat
        The pattern's along the cloth, mm.
    """
    left = [(number, whole_repeats(length, repeat) - length) for number, length in plies if number]
    return sum(number * more for number, more in left) - min((more for _, more in left), default=0.0)


def whole_repeats(length: float, repeat: float) -> float:
    """The least length, mm, of whole repeats that holds a ply; the ply's own where there is no pattern."""
    return max(length, ceil(length / repeat - 1e-9) * repeat) if repeat else length


def more_for_less(bought: Purchase, increment: Increment, at: float) -> Purchase:
    """A purchase raised to the length from which a lower price makes more cost less, mm."""
    buy = round_up(at, increment.mm)
    more = Addition("price", "more, as it costs less at the lower price", buy - bought.buy)
    additions = (*bought.additions, more)
    return replace(bought, additions=additions, buy=buy, text=increment.write(buy), unit=increment.unit(buy))
