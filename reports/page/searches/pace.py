"""How far a search over some cloths is: which one it lays, and how long it will still take."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


class Pace:
    """Counts the work of one search after another, each of one cloth in one way.

    Parameters
    ----------
    ways
        In how many ways each cloth may lie: each is as much work as any other, and some are refused without any.
    work
        Of each search, in efforts; 0 for first layouts alone.
    """

    def __init__(self, ways: Sequence[int], work: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._ways, self._work, self._clock = list(ways), work, clock
        self._began: list[int] = []
        self._cloth, self._share, self._is_proving = 0, 0.0, False
        self._start = clock()

    def begin(self, cloth: int, *, is_proof: bool) -> None:
        """A search begins, or a proof, of which nobody knows how long it takes; what ran before has ended."""
        self._cloth, self._share, self._is_proving = cloth, 0.0, is_proof
        if not is_proof:
            self._began.append(cloth)

    def step(self, work: float) -> None:
        """The search that runs has done so much."""
        self._share = min(1.0, work / self._work) if self._work else 0.0

    def plain(self) -> dict[str, Any]:
        """Which cloth it is at, counted from 1, of how many; seconds left, about, or None where that is not known."""
        return {"cloth": self._cloth + 1, "of": len(self._ways), "left_s": self._left(), "proving": self._is_proving}

    def _left(self) -> float | None:
        """What is still to be done, at the pace up to now. Ways that a cloth passed over were refused."""
        done = max(0, len(self._began) - 1) + self._share
        if self._is_proving or done < 0.02:
            return None
        ahead = sum(
            max(0, ways - self._began.count(cloth)) for cloth, ways in enumerate(self._ways) if cloth >= self._cloth
        )
        left = (ahead + 1 - self._share) / done * (self._clock() - self._start)
        return round(left, 1)
