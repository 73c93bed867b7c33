"""What answers to a job say first."""

from __future__ import annotations

from typing import Literal

from reports.schema.sealed import Sealed

UnitsName = Literal["in", "cm"]


class SearchedAnswer(Sealed):
    """The job's name, how its words are written, and the random seed."""

    job: str
    units: UnitsName
    seed: int


class ManyLaidAnswer(SearchedAnswer):
    """The cloth as well, and how hard was searched for each of many markers: one of the two is null.

    It is `cut_short` if an interrupt came before some of the markers were searched for.
    """

    fabric: str
    effort: float | None
    seconds: float | None
    cut_short: bool
