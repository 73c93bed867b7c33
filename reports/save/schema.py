"""The answer of `saves`: what each change to the job would save of its cloth."""

from __future__ import annotations

from typing import Literal

from reports.schema.sealed import Sealed


class ChangeAnswer(Sealed):
    """A change, and what it saves against the job as it is; the first is the job as it is."""

    change: str
    marker_mm: float | None
    saved_mm: float | None
    buy_mm: float | None
    cost: float | None
    refused: str


class SavesAnswer(Sealed):
    """All changes that were tried."""

    schema: Literal[1]
    job: str
    fabric: str
    changes: list[ChangeAnswer]
