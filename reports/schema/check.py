"""The answer of `check`: what holds of a marker, and the first thing that does not."""

from __future__ import annotations

from typing import Literal

from reports.schema.sealed import Sealed


class HoldsAnswer(Sealed):
    """One thing that holds, with its figures."""

    what: Literal[
        "cloth", "places", "outlines", "fold", "apart", "faults", "figures", "grain", "counts", "nap", "pattern"
    ]
    seen: str


class CheckAnswer(Sealed):
    """What holds, what nothing was held against, and the first thing that is wrong."""

    schema: Literal[2]
    holds: list[HoldsAnswer]
    not_checked: list[str]
    wrong: str | None
