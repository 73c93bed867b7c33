"""Orders in the ledger: ordered, cut, sewn and delivered by colour and size; minutes and cloth, planned and actual."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from reports.ledger.entry import COUNTS, WORK_PARTS

if TYPE_CHECKING:
    from datetime import date
    from fractions import Fraction

    from nesting.lays.order import ColourSize
    from reports.ledger.entry import ByColour, CountKind, OrderEntry


class Worked(NamedTuple):
    """Minutes that a kind of work took for so many garments."""

    work: str
    minutes: float
    garments: int


@dataclass(frozen=True, eq=False)
class LedgerOrder:
    """An order and what has come of it.

    Parameters
    ----------
    done
        Garments cut, sewn and delivered, by colour and size.
    worked
        Minutes, as they were entered.
    cloth
        What was used of rolls and remnants for it, mm, by the name of the cloth.
    """

    number: int
    id: str
    day: date
    data: OrderEntry
    done: dict[CountKind, Counter[ColourSize]] = field(default_factory=lambda: {kind: Counter() for kind in COUNTS})
    worked: list[Worked] = field(default_factory=list)
    cloth: dict[str, Fraction] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """What it is called."""
        return self.data.name

    @property
    def ordered(self) -> dict[ColourSize, int]:
        """Garments ordered, by colour and size."""
        return kinds_of(self.data.ordered)

    @property
    def total(self) -> dict[str, int]:
        """Garments in all: ordered, cut, sewn and delivered."""
        return {"ordered": sum(self.ordered.values()), **{kind: sum(self.done[kind].values()) for kind in COUNTS}}

    @property
    def works(self) -> tuple[str, ...]:
        """The kinds of work that minutes may be entered for."""
        return tuple(dict.fromkeys((*WORK_PARTS, *(one.name for one in self.data.operations))))

    def planned_minutes(self, work: str) -> float | None:
        """Planned minutes a garment of an operation or a kind of work; None where nothing is planned."""
        operations = self.data.operations
        named = [one.minutes for one in operations if one.name == work]
        if named or work not in WORK_PARTS:
            return sum(named) if named else None
        minutes = [one.minutes for one in operations if one.part == work]
        planned = self.data.planned
        if work == "cutting" and planned is not None:
            minutes.append(planned.cutting_minutes / sum(kinds_of(planned.cut).values()))
        return sum(minutes) if minutes else None

    @property
    def is_cut(self) -> bool:
        """Whether all that was planned to be cut has been cut; without a plan it is not known, and so not."""
        if self.data.planned is None:
            return False
        return all(self.done["cut"][kind] >= number for kind, number in kinds_of(self.data.planned.cut).items())

    @property
    def cloths(self) -> dict[str, tuple[float | None, float]]:
        """Length of each cloth, mm: what was planned, None where it was not, and what was used."""
        planned = self.data.planned.cloth if self.data.planned else {}
        names = dict.fromkeys((*planned, *self.cloth))
        return {name: (planned.get(name), float(self.cloth.get(name, 0))) for name in names}


def kinds_of(by_colour: ByColour) -> dict[ColourSize, int]:
    """Numbers by colour and then size, as one table."""
    return {(colour, size): number for colour, sizes in by_colour.items() for size, number in sizes.items()}
