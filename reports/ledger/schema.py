"""The answer of `ledger`: what is on hand, how far orders are, rates by what was done, and entries."""

from __future__ import annotations

from typing import Any, Literal

from reports.ledger.entry import LedgerKind
from reports.schema.sealed import Sealed
from reports.stock.item import ItemKind


class LedgerEntryAnswer(Sealed):
    """An entry: the `day` that it is about, and when it was `made`. What it tells names things as people do.

    It takes the place of the entry that it `corrects`; where it no longer counts, another has `replaced_by` it.
    """

    number: int
    day: str
    made: str
    kind: LedgerKind
    words: str
    note: str
    told: dict[str, Any]
    corrects: int | None
    replaced_by: int | None


class StockItemAnswer(Sealed):
    """A thing on hand: what came in of it, was used, and is left, in mm or pieces."""

    item: str
    number: int
    kind: ItemKind
    name: str
    colour: str
    lot: str
    width_mm: float | None
    day: str
    unit: Literal["mm", "pieces"]
    got: float
    used: float
    left: float
    left_words: str
    cut_from: int | None


class CountedGarmentAnswer(Sealed):
    """Garments of a colour and size: ordered, cut, sewn and delivered."""

    colour: str
    size: str
    ordered: int
    cut: int
    sewn: int
    delivered: int


class CountedTotalAnswer(Sealed):
    """The same of all."""

    ordered: int
    cut: int
    sewn: int
    delivered: int


class UsedClothAnswer(Sealed):
    """Cloth of an order; null where it was not planned."""

    name: str
    planned_mm: float | None
    used_mm: float


class WorkedAnswer(Sealed):
    """Minutes that a kind of work took for so many garments, and what was planned for each."""

    work: str
    minutes: float
    garments: int
    planned_each: float | None


class LedgerOrderAnswer(Sealed):
    """An order, and the kinds of work that minutes may be entered for."""

    name: str
    number: int
    garment: str
    day: str
    garments: list[CountedGarmentAnswer]
    total: CountedTotalAnswer
    cloths: list[UsedClothAnswer]
    minutes: list[WorkedAnswer]
    works: list[str]


class MinuteRateAnswer(Sealed):
    """Minutes a garment by what was done, with the runs and garments that it rests on."""

    garment: str
    work: str
    minutes: float
    runs: int
    garments: int
    least: float
    most: float
    planned: float | None


class ClothRateAnswer(Sealed):
    """Cloth used for each length planned, with the runs that it rests on; `margin_percent` is what to add to a plan."""

    garment: str
    factor: float
    margin_percent: float
    runs: int
    planned_mm: float
    used_mm: float
    least: float
    most: float


class LedgerFaultAnswer(Sealed):
    """An entry that does not go with the others, and why."""

    entry: int
    why: str


class LedgerAnswer(Sealed):
    """How things stand. `entries` are those that were asked for, or the one that was entered."""

    schema: Literal[1]
    entries: list[LedgerEntryAnswer]
    items: list[StockItemAnswer]
    orders: list[LedgerOrderAnswer]
    minute_rates: list[MinuteRateAnswer]
    cloth_rates: list[ClothRateAnswer]
    faults: list[LedgerFaultAnswer]
    files: list[str]
