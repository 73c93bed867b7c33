"""The answer of `saves`: what each change to the job would save of its cloth."""

from __future__ import annotations

from typing import Literal

from reports.save.saves import Outcome
from reports.schema.head import SearchedAnswer
from reports.schema.sealed import Sealed


class ChangeAnswer(Sealed):
    """A change, and what it saves against the job as it is; the first is the job as it is."""

    change: str
    marker_mm: float | None
    saved_mm: float | None
    buy_mm: float | None
    cost: float | None
    outcome: Outcome
    refused: str


class SavesAnswer(SearchedAnswer):
    """All changes that were tried; `cut_short` if an interrupt came before some were laid."""

    schema: Literal[3]
    fabric: str
    cut_short: bool
    changes: list[ChangeAnswer]
