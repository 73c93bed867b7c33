"""The answer of `check`: what holds of a marker, and the first thing that does not."""

from __future__ import annotations

from reports.schema.sealed import Sealed


class HoldsAnswer(Sealed):
    """One thing that holds, with its figures."""

    what: str
    seen: str


class CheckAnswer(Sealed):
    """What holds, what nothing was held against, and the first thing that is wrong."""

    holds: list[HoldsAnswer]
    not_checked: list[str]
    wrong: str | None
