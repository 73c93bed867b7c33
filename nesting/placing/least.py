"""How short a marker can be at the least: questions asked one after another, while the effort lasts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.placing.question import HELD, Placing

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.marker.marker import Marker

    Aims = Callable[[float], float | None]

EDGE = 0.002
"""By how much beyond an aim is asked, mm: what is impossible there is so at the aim, and a little above."""

NEAREST = 1.0
"""A marker is known to be the shortest to this, mm, and no closer."""

FIRST_LOOK = 0.5
"""Effort for the first question about a length; where it was not enough, most of what is left comes next."""

MOST_OF_IT = 0.6
"""Share of the effort left that goes to a hard question, where there is an easier one to ask after it."""

BRIEF, LONG = 1.0, 5.0
"""Effort for how short a marker can be, once no length is left that is worth reaching: by default, and to be sure."""

CLOSE = 0.003
"""A length this close to what is proved, as a share, is asked about itself."""


@dataclass
class Least:
    """What is proved of a problem's shortest marker, and what to ask next.

    Parameters
    ----------
    placing
        Of which is asked.
    bound, held
        A length that no marker undercuts, mm, and why.
    aims
        From a marker's length to the next length worth reaching, mm; None if there is none. Without it all are.
    tightening
        Effort that is left for other lengths, once none is worth reaching any more.
    """

    placing: Placing
    bound: float
    held: str
    aims: Aims | None = None
    tightening: float = BRIEF

    def __post_init__(self) -> None:
        if self.aims is None:
            self.tightening = math.inf
        self._looks: dict[float, float] = {}
        self._blurred = math.inf

    def go_on(self, marker: Marker, effort: float) -> tuple[Marker, float]:
        """Ask with some effort; the shortest marker that is known after it, and the effort spent."""
        left = effort
        while left > 0 and self.is_open(marker):
            marker, spent = self.ask(marker, left)
            left -= spent
        return marker, effort - left

    def ask(self, marker: Marker, effort: float) -> tuple[Marker, float]:
        """Ask once, with some of the effort that is left, while something is left to ask; as `go_on`."""
        question = self._next(marker.length, effort)
        assert question
        decides = self._aim(marker.length) is not None
        length, look = question[0], min(effort, question[1]) if decides else min(effort, question[1], self.tightening)
        answer = self.placing.ask(length, look)
        self.tightening -= 0 if decides else answer.spent
        if answer.kind == "impossible":
            self.bound, self.held = length, HELD
        elif answer.kind == "open":
            self._looks[length] = look
            if answer.is_blurred:
                self._blurred = min(self._blurred, length)
        found = self.placing.best
        return found if found is not None and found.length < marker.length else marker, answer.spent

    def is_open(self, marker: Marker) -> bool:
        """Whether something is left to ask, now that a marker is known."""
        return not self.placing.is_too_large and self._next(marker.length, 1.0) is not None

    def _aim(self, length: float) -> float | None:
        """The next length worth reaching that is still open, and a little more, mm: a smaller purchase hangs on it."""
        aim = self.aims(length) if self.aims else None
        return aim + EDGE if aim is not None and aim + EDGE > self.bound else None

    def _next(self, length: float, left: float) -> tuple[float, float] | None:
        """The next length to ask about, mm, and the effort to look with; None if nothing is left to ask.

        That is first the one that a smaller purchase hangs on. What is too hard is asked for less, half way from what
        is proved; where that is too hard as well, longer, with most of the effort that is left.
        """
        aim = self._aim(length)
        if aim is None and self.tightening <= 0:
            return None
        top = min(length - NEAREST if aim is None else aim, self._blurred - NEAREST)
        if top <= self.bound:
            return None
        looked = self._looks.get(top, 0.0)
        if aim is not None and not looked:
            return top, FIRST_LOOK
        half, looked = (self.bound + top) / 2, max(looked, FIRST_LOOK)
        is_close = top - self.bound <= CLOSE * length
        if not is_close and self._looks.get(half, 0.0) < looked:
            return half, looked
        # What was begun once is not gone on from: a look is worth nothing unless it is longer than the last.
        share = MOST_OF_IT * left
        return top, left if is_close or share <= looked else share
