"""How long is searched for."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from nesting.search.stop import MaxIterations, SearchTime

ITERATIONS = 60
"""Of the search for each marker, where neither these nor a time are asked for: some half a second for a jacket, more
for larger markers, and the same answer each time. More brings less than a step of what is sold, mostly."""

PROOF, MOST_PROOF = 0.2, 2.0
"""Effort for a sharper bound: by default and for each second of search time, and at most. It is work that is counted,
no time, so that a bound repeats however busy the machine is. The jackets that `new` writes take 0.11 and 0.16."""


class SearchOptions(NamedTuple):
    """How a command was asked to search."""

    seconds: float | None
    iterations: int | None
    seed: int
    workers: int
    quiet: bool = False

    @property
    def total(self) -> float:
        """Iterations of the search for each marker, or its seconds."""
        if self.iterations is None and self.seconds is not None:
            return self.seconds
        return ITERATIONS if self.iterations is None else self.iterations

    @property
    def is_timed(self) -> bool:
        """Whether the search is limited by time, not by iterations."""
        return self.iterations is None and self.seconds is not None

    def limit(self) -> SearchTime | MaxIterations:
        """A fresh criterion for one search."""
        from nesting.search.stop import MaxIterations, SearchTime

        return SearchTime(self.total) if self.is_timed else MaxIterations(int(self.total))

    @property
    def proof(self) -> float:
        """Effort for a sharper bound on each marker."""
        return min(PROOF * self.total, MOST_PROOF) if self.is_timed else PROOF * (self.total > 0)
