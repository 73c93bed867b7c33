"""The answer of `saves`: what each change to the job would save of its cloth."""

from __future__ import annotations

from typing import Literal

from reports.save.saves import Outcome
from reports.schema.head import SearchedAnswer
from reports.schema.sealed import Sealed


class ChangeAnswer(Sealed):
    """A change against the job as it is, which comes first: how much shorter its marker is, how much less is bought."""

    change: str
    marker_mm: float | None
    saved_mm: float | None
    less_mm: float | None
    buy: str | None
    buy_mm: float | None
    cost: float | None
    outcome: Outcome
    refused: str


class SavesAnswer(SearchedAnswer):
    """All changes that were tried; `cut_short` if an interrupt came before some were laid.

    `scatter_mm` is by how much the job as it is differs by the random seed; null if that was not searched.
    """

    schema: Literal[4]
    fabric: str
    cut_short: bool
    scatter_mm: float | None
    changes: list[ChangeAnswer]
