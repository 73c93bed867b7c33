"""The answers of `measures` and `sizes`: measurements and their names, tables of sizes, a garment in each size."""

from __future__ import annotations

from typing import Literal, NotRequired

from reports.schema.draft import DraftAnswer
from reports.schema.sealed import Sealed

WearerName = Literal["women", "men", "children"]


class MeasureAnswer(Sealed):
    """How a measurement is taken, the standard's name and clause for it, and the rule that stands in for it, if any."""

    how: str
    term: str
    clause: str
    left_out: str | None
    source: str | None


class MeasuresAnswer(Sealed):
    """All measurements by their names in a job file."""

    schema: Literal[3]
    measures: dict[str, MeasureAnswer]


class TableAnswer(Sealed):
    """A table of sizes that is built in."""

    name: str
    title: str
    source: str
    wearer: WearerName
    sizes: list[str]


class TablesAnswer(Sealed):
    """All tables: what `sizes` alone prints."""

    schema: Literal[3]
    tables: list[TableAnswer]


class GradedSizeAnswer(Sealed):
    """A size: its body and what is finished, mm; the garment drafted in it, or why it cannot be."""

    name: str
    measures_mm: dict[str, float]
    finished_mm: dict[str, float]
    garment: NotRequired[DraftAnswer]
    refused: NotRequired[str]


class SizeTableAnswer(Sealed):
    """One table: what `sizes TABLE` prints, and with `--job` a garment in each size."""

    schema: Literal[3]
    job: str | None
    table: str
    title: str
    source: str
    notes: dict[str, str]
    wearer: WearerName | None
    sizes: list[GradedSizeAnswer]


SizesAnswer = TablesAnswer | SizeTableAnswer
