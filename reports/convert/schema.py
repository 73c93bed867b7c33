"""The answer of `convert`: how much at another width."""

from __future__ import annotations

from typing import Literal

from reports.schema.head import UnitsName
from reports.schema.sealed import Sealed


class ToldAnswer(Sealed):
    """What one published table says; `row` is what its own garment of that length takes, if it has one."""

    name: str
    source: str
    least: float
    most: float
    row: float | None
    between_columns: bool


class ConvertAnswer(Sealed):
    """A length on cloth of one width, told of another, mm; without a range where no table has both widths."""

    schema: Literal[1]
    units: UnitsName
    unit: Literal["mm"]
    length: float
    width: float
    other_width: float
    least: float | None
    most: float | None
    by_area: float
    tables: list[ToldAnswer]
    words: list[str]
