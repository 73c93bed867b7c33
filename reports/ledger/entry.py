"""Entries of the ledger: what each kind of them says, checked when it comes in and again when it is read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from reports.ask.offer import LONGEST_NAME, Dimension, FileTable
from reports.money.cost.amounts import Quantity  # noqa: TC001  pydantic reads it

if TYPE_CHECKING:
    from datetime import date

LONGEST_NOTE = 200
"""Signs of a note."""

MOST_COUNTED = 1_000_000
"""Garments, minutes or pieces of a trim in one entry: more is a slip of the hand."""

WORK_PARTS = ("cutting", "sewing", "finishing")
"""Kinds of work that minutes may be entered for besides an order's own operations."""


def _named(text: Any) -> str:
    """A name, its blanks made single."""
    if not isinstance(text, str):
        raise ValueError(f"write a name, not {text!r}")
    name = " ".join(text.split())
    if not 0 < len(name) <= LONGEST_NAME or not name.isprintable():
        raise ValueError(f"a name is one line of 1 to {LONGEST_NAME} characters: write a shorter or plainer name")
    return name


def _name_or_none(text: Any) -> str:
    return _named(text) if text else ""


def _noted(text: Any) -> str:
    if not isinstance(text, str) or len(text) > LONGEST_NOTE or not text.isprintable():
        raise ValueError(f"a note is one line of at most {LONGEST_NOTE} characters: write a shorter or plainer one")
    return text.strip()


LedgerName = Annotated[str, BeforeValidator(_named)]
NameOrNone = Annotated[str, BeforeValidator(_name_or_none)]
EntryNote = Annotated[str, BeforeValidator(_noted)]
EntryId = Annotated[str, Field(pattern=r"^[0-9a-f]{16}$")]
SomeGarments = Annotated[int, Field(ge=1, le=MOST_COUNTED)]
BySize = Annotated[dict[LedgerName, SomeGarments], Field(min_length=1)]
ByColour = Annotated[dict[LedgerName, BySize], Field(min_length=1)]


class EntryData(FileTable):
    """What all entries may have: a note."""

    note: EntryNote = ""


class BoughtEntry(EntryData):
    """Cloth, rib or a trim that came in: a number, or a length; cloth has a width."""

    what: Literal["cloth", "rib", "trim"]
    name: LedgerName
    amount: Quantity
    width: Dimension | None = None
    colour: NameOrNone = ""
    lot: NameOrNone = ""

    @model_validator(mode="after")
    def _agrees(self) -> BoughtEntry:
        if self.what == "cloth" and not self.amount.by_length:
            raise ValueError('cloth is bought by length: write the amount with its unit, such as "25 yd" or "20 m"')
        if self.what != "trim" and self.width is None and self.amount.by_length:
            raise ValueError(f'{self.what} needs its full width, such as "60 in" or "150 cm"')
        if self.what == "trim" and self.width is not None:
            raise ValueError("a trim has no width: leave it out, or put it into the name")
        if self.amount.number > MOST_COUNTED and not self.amount.by_length:
            raise ValueError(f"at most {MOST_COUNTED} are entered at a time: check the amount")
        return self


class RemnantEntry(EntryData):
    """A remnant: what it measures; `of` is the roll or remnant that it was cut from, whose length it takes."""

    name: LedgerName
    length: Quantity
    width: Dimension
    colour: NameOrNone = ""
    lot: NameOrNone = ""
    of: EntryId | None = None

    @model_validator(mode="after")
    def _agrees(self) -> RemnantEntry:
        if not self.length.by_length:
            raise ValueError('a remnant has a length: write it with its unit, such as "1 1/4 yd" or "1.2 m"')
        return self


class UsedEntry(EntryData):
    """What was taken of something on hand, and for which order."""

    item: EntryId
    amount: Quantity
    order: EntryId | None = None


class PlannedOperation(FileTable):
    """An operation of an order, with its planned minutes for each garment."""

    name: LedgerName
    part: Literal["cutting", "sewing", "finishing"]
    minutes: Annotated[float, Field(ge=0, le=MOST_COUNTED)]


class PlannedRun(FileTable):
    """What a run planned: garments cut, cloth spread by name, mm, and minutes of cutting."""

    cut: ByColour
    cloth: dict[LedgerName, Annotated[float, Field(gt=0)]]
    cutting_minutes: Annotated[float, Field(ge=0)]


class OrderEntry(EntryData):
    """An order: what it is called, what is made, how many by colour and size, and what was planned."""

    name: LedgerName
    garment: LedgerName
    ordered: ByColour
    operations: tuple[PlannedOperation, ...] = Field((), strict=False)
    planned: PlannedRun | None = None


class CountEntry(EntryData):
    """Garments of an order and a colour that were cut, sewn or delivered, by size."""

    order: EntryId
    colour: LedgerName
    garments: BySize


class MinutesEntry(EntryData):
    """Minutes that a kind of work took, and for how many garments of the order."""

    order: EntryId
    work: LedgerName
    minutes: Annotated[float, Field(gt=0, le=MOST_COUNTED)]
    garments: SomeGarments


class StruckEntry(EntryData):
    """An entry taken back: the one that it corrects no longer counts."""


LedgerKind = Literal["bought", "remnant", "used", "order", "cut", "sewn", "delivered", "minutes", "struck"]

KINDS: dict[LedgerKind, type[EntryData]] = {
    "bought": BoughtEntry,
    "remnant": RemnantEntry,
    "used": UsedEntry,
    "order": OrderEntry,
    "cut": CountEntry,
    "sewn": CountEntry,
    "delivered": CountEntry,
    "minutes": MinutesEntry,
    "struck": StruckEntry,
}
"""What an entry of each kind says."""

CountKind = Literal["cut", "sewn", "delivered"]
COUNTS: tuple[CountKind, ...] = ("cut", "sewn", "delivered")
"""Kinds that count garments, in the order in which a garment goes through them."""


@dataclass(frozen=True)
class Entry:
    """An entry as it stands in the ledger.

    Parameters
    ----------
    number
        In the order of entering, from 1.
    id
        What other entries name it by: it stays the same when a backup is restored elsewhere.
    day, made
        The day that it is about, and when it was entered.
    told
        What was told, as it is kept.
    data
        The same, read.
    corrects
        The id of the entry that it takes the place of; empty if of none.
    """

    number: int
    id: str
    day: date
    made: str
    kind: LedgerKind
    told: dict[str, Any]
    data: EntryData
    corrects: str = ""


def read_data(kind: LedgerKind, told: dict[str, Any]) -> EntryData:
    """What an entry says, checked; pydantic's ValidationError if it makes no sense."""
    return KINDS[kind].model_validate(told)
