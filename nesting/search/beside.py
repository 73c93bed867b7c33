"""A proof beside a search: how short a marker can be is asked in a thread, while the search goes on.

Search and proof go in step, by work that is counted: a look is taken with some effort, and heard of when the search
has done as much. So the same effort comes to the same marker and the same bound, however busy the machine is.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor, wait
from functools import partial
from typing import TYPE_CHECKING, Literal

from nesting.marker.marker import Marker, Result
from nesting.placing.least import Least
from nesting.placing.question import Placing
from nesting.proof.bounds import lower_bound
from nesting.proof.slices import slice_bound
from nesting.search.settled import marker_of

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterable
    from concurrent.futures import Future

    from nesting.problem.problem import Problem
    from nesting.search.candidates import Candidate
    from nesting.search.meter import WorkMeter
    from nesting.search.stop import Aims

FIRST, MORE = 0.2, 4
"""Effort of the first look, and how many times as much each next one has."""

LEAST = 0.01
"""Effort that a look is worth taking with."""

SLICES = 0.2
"""Effort for the schedule of widths across, where places prove nothing at first."""

OFTEN = 0.05
"""Seconds between two looks at whether the proof is done, where the search waits for it."""


class ProofBeside:
    """What is proved of a problem while it is searched.

    Parameters
    ----------
    aims
        As of `solve`.
    rate
        Effort for the proof, for each effort of the search.
    spent
        The share of the search's effort that is spent.
    """

    def __init__(
        self, problem: Problem, aims: Aims | None, meter: WorkMeter, rate: float, spent: Callable[[], float]
    ) -> None:
        self._best: Marker | None = None
        self._better: Marker | None = None
        self._problem, self._aims, self._meter, self._rate, self._spent = problem, aims, meter, rate, spent
        self._least: Least | None = None
        self._look, self._due = FIRST, 0.0
        self._future: Future[tuple[Marker, float]] | None = None
        self._thread, self._is_sliced = ThreadPoolExecutor(1), False
        self._settled = math.inf

    def of(self, candidates: Iterable[Candidate]) -> Generator[Candidate, None, None]:
        """The candidates of a search, and in between what is proved; and what is proved once there are no more."""
        for candidate in candidates:
            marker = candidate.marker if isinstance(candidate, Result) else candidate
            if isinstance(marker, Marker) and (self._best is None or marker.length < self._best.length):
                self._best = marker
            yield candidate
            if self._best is None or not self._meter.has_begun:
                continue
            if self._future is None:
                self._begin(self._best)
            elif self._meter.done >= self._due:
                yield from self._hear()
        while self._best is not None and (self._future is not None or self._begin(self._best)):
            self._meter.done = max(self._meter.done, self._due)
            yield from self._hear()

    def end(self, *, is_spent: bool) -> Result | None:
        """End the proof. Where the search ended since its effort was spent, the look that was begun is heard of."""
        found = None
        if self._future is not None and is_spent:
            wait([self._future])
            found = self._heard()
        while self._future is not None and not self._future.done():
            assert self._least
            self._least.placing.stop()
            wait([self._future], OFTEN)
        self._thread.shutdown()
        return found

    def found(self) -> Marker | None:
        """The shortest marker that the proof has come upon."""
        return self._better

    def _begin(self, best: Marker) -> bool:
        """Begin a look, if there is effort for it and something to ask; whether one was begun."""
        look = self._next_look()
        if look < LEAST or best.length == self._settled:
            return False
        if self._least is None:
            placing = Placing(self._problem, best.length, settle=partial(marker_of, self._problem))
            self._least = Least(placing, *lower_bound(self._problem), self._aims)
        if not self._least.is_open(best):
            self._settled = best.length
            return False
        self._future = self._thread.submit(self._looked, self._least, best, look)
        self._due = self._meter.done + look / self._rate
        self._look *= MORE
        return True

    def _hear(self) -> Generator[Literal["proving"] | Result, None, None]:
        """Wait for the look that was begun, and tell what came of it."""
        assert self._future
        while not self._future.done():
            wait([self._future], OFTEN)
            yield "proving"
        yield self._heard()

    def _next_look(self) -> float:
        """Effort of the next look: more than for the last, and all that is left where that is not much more."""
        share = self._spent()
        if share <= 0:
            return 0.0  # the search has not begun
        left = self._rate * self._meter.done * (1 / share - 1)
        return left if left < self._look * (1 + MORE) else self._look

    def _looked(self, least: Least, best: Marker, effort: float) -> tuple[Marker, float]:
        """Ask with some effort; where that proves nothing, the schedule of widths across may."""
        found = least.go_on(best, effort)
        if least.bound <= lower_bound(self._problem)[0] and not self._is_sliced:
            self._is_sliced = True
            bound, held = slice_bound(self._problem, SLICES)
            if bound > least.bound:
                least.bound, least.held = bound, held
        return found

    def _heard(self) -> Result:
        assert self._least and self._future
        marker, _ = self._future.result()
        self._future = None
        if self._best is None or marker.length < self._best.length:
            self._best = self._better = marker
        return Result(marker, self._least.bound, self._least.held, 0, 0.0, 0, "effort")
