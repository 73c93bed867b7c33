"""How far a search over some cloths is: which one it lays, and how long it will still take."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

LEAST_DONE = 0.1
"""Share of a search that is done before anything is said of what is left."""

USUAL_END = 0.5
"""How long a search waits at its end for the proof beside it, as a share of what it took, before one has ended."""


class Pace:
    """Counts the work of one search after another, each of one cloth in one way.

    Parameters
    ----------
    cloths
        How many there are.
    work
        Of a search, in efforts, that takes all of them; 0 for first layouts alone.
    """

    def __init__(self, cloths: int, work: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._cloths, self._work, self._clock = cloths, work, clock
        self._cloth, self._is_proving = 0, False
        self._ahead: Sequence[float] = ()
        self._all = self._done = 0.0
        self._seconds = self._worked = 0.0
        self._starts: list[float] = []
        self._ends: list[float] = []
        self._used: list[float] = []
        self._began, self._last = clock(), -1.0

    def follow(self, shares: Sequence[float]) -> None:
        """Searches come after the next one, each of which takes such a share of the work."""
        self._ahead = shares

    def begin(self, cloth: int, share: float | None) -> None:
        """A search begins, or a proof, of which nobody knows how long it takes; what ran before has ended.

        Parameters
        ----------
        cloth
            Its number, from 0.
        share
            The share of the work that it takes; None for a proof.
        """
        now = self._clock()
        if self._last > self._began:
            self._ends.append((now - self._last) / (self._last - self._began))
        if self._all:
            self._used.append(min(1.0, self._done / self._all))
        self._cloth, self._is_proving = cloth, share is None
        self._all, self._done = self._work * (share or 0.0), 0.0
        self._began, self._last = now, -1.0

    def step(self, work: float) -> None:
        """The search that runs has done so much."""
        now = self._clock()
        if self._last < 0:
            self._starts.append(now - self._began)
        else:
            self._seconds += now - self._last
            self._worked += work - self._done
        self._last, self._done = now, work

    def plain(self) -> dict[str, Any]:
        """Which cloth it is at, counted from 1, of how many; seconds left, about, or None where that is not known."""
        return {"cloth": self._cloth + 1, "of": self._cloths, "left_s": self._left(), "proving": self._is_proving}

    def _left(self) -> float | None:
        """What is still to be done, at the pace up to now; to begin and to end takes as long as it has taken before."""
        if self._is_proving or self._worked <= LEAST_DONE * self._work:
            return None
        pace = self._seconds / self._worked
        here = max(0.0, self._all - self._done) * pace
        beginning = len(self._ahead) * sum(self._starts) / len(self._starts)
        used = sum(self._used) / len(self._used) if self._used else 1.0  # some end before, as all is proved
        after = sum(self._ahead) * self._work * used * pace + beginning
        ending = sum(self._ends) / len(self._ends) if self._ends else USUAL_END
        spent = max(0.0, self._last - self._began)
        return round(here + after + ending * (spent + here + after), 1)
