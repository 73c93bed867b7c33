"""How much at another width: a range from the published tables, and what the area says."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from pieces.errors import LengthError
from pieces.length import length_in_mm
from pieces.units import YARD
from reports.convert.published import NEAR, PublishedTable, published, shares

if TYPE_CHECKING:
    from reports.convert.published import WidthColumn


@dataclass(frozen=True)
class TableTold:
    """What one table says.

    Parameters
    ----------
    table
        The table.
    least, most
        The length on the other cloth, mm, by the garments for which that differs least and most.
    row
        What the table's own garment of just that length takes there, mm; None if it has none.
    columns
        For either width the columns it was read in: its own twice, or the narrower and the wider next to it.
    """

    table: PublishedTable
    least: float
    most: float
    row: float | None
    columns: tuple[tuple[WidthColumn, WidthColumn], tuple[WidthColumn, WidthColumn]]

    @property
    def is_between(self) -> bool:
        """Whether a width has no column of its own."""
        return any(narrower is not wider for narrower, wider in self.columns)


@dataclass(frozen=True)
class Conversion:
    """A length of cloth of one width, told of another width; all mm.

    Parameters
    ----------
    length, width, other
        What is needed on cloth of one width, and the other width.
    told
        What each published table says; empty where none has both widths.
    """

    length: float
    width: float
    other: float
    told: tuple[TableTold, ...]

    @property
    def by_area(self) -> float:
        """The length that has the same area."""
        return self.length * self.width / self.other

    @property
    def least(self) -> float:
        """The least that a table says; without one there is none."""
        return min(one.least for one in self.told)

    @property
    def most(self) -> float:
        """The most that a table says; without one there is none."""
        return max(one.most for one in self.told)


def convert_length(length: str, width: str, other: str) -> Conversion:
    """What a length of cloth is on cloth of another width.

    Parameters
    ----------
    length, width, other
        As people write them, each with its unit: what is needed, on which width, and the other width.

    Raises
    ------
    LengthError
        If one cannot be read, is nothing, or both widths are the same.
    """
    needs = _read(length, "the length")
    here, there = _read(width, "--from"), _read(other, "--to")
    if abs(here - there) < NEAR:
        raise LengthError(other, "it is the width of --from: give another width", "--to")
    told = [one for table in published() if (one := _tell(table, needs, here, there))]
    direct = [one for one in told if not one.is_between]
    return Conversion(needs, here, there, tuple(direct or told[:1]))


def _read(text: str, what: str) -> float:
    mm = length_in_mm(text, what)
    if mm <= 0:
        raise LengthError(text, "it must be more than nothing", what)
    return float(mm)


def _tell(table: PublishedTable, length: float, width: float, other: float) -> TableTold | None:
    """What a table says; None if it does not reach to one of the widths."""
    here, there = table.around(width), table.around(other)
    if here is None or there is None:
        return None
    is_between = here[0] is not here[1] or there[0] is not there[1]
    least: Fraction = min(shares(here[0], there[1]))
    most: Fraction = max(shares(here[1], there[0]))
    if is_between and other > width:  # from neighbours: but a layout also lies on cloth that is wider
        most = min(most, Fraction(1))
    elif is_between:
        least = max(least, Fraction(1))
    row = None if is_between else _row(here[0], there[0], length)
    return TableTold(table, float(least) * length, float(most) * length, row, (here, there))


def _row(here: WidthColumn, there: WidthColumn, length: float) -> float | None:
    """What the garment of that length takes on the other cloth, mm; None if there is none, or several that differ."""
    found: set[Fraction] = {
        yards for yards, own in zip(there.yards, here.yards, strict=True) if abs(float(own) * YARD - length) < NEAR
    }
    return float(found.pop()) * YARD if len(found) == 1 else None
