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
"""Effort for the first question about a length; each time it was not enough, twice as much."""

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
        From a marker's length to the next length worth reaching, mm; None if there is none.
    """

    placing: Placing
    bound: float
    held: str
    aims: Aims = lambda length: None

    def __post_init__(self) -> None:
        self._looks: dict[float, float] = {}
        self._blurred = math.inf

    def go_on(self, marker: Marker, effort: float) -> tuple[Marker, float]:
        """Ask with some effort; the shortest marker that is known after it, and the effort spent."""
        left = effort
        while left > 0 and not self.placing.is_too_large:
            question = self._next(marker.length)
            if question is None:
                break
            length, look = question[0], min(left, question[1])
            answer = self.placing.ask(length, look)
            left -= answer.spent
            found = self.placing.best
            if found is not None and found.length < marker.length:
                marker = found
            if answer.kind == "impossible":
                self.bound, self.held = length, HELD
            elif answer.kind == "open":
                self._looks[length] = look
                if answer.is_blurred:
                    self._blurred = min(self._blurred, length)
        return marker, effort - left

    def is_open(self, marker: Marker) -> bool:
        """Whether something is left to ask, now that a marker is known."""
        return not self.placing.is_too_large and self._next(marker.length) is not None

    def _next(self, length: float) -> tuple[float, float] | None:
        """The next length to ask about, mm, and the effort to look with; None if nothing is left to ask.

        That is first the one that a smaller purchase hangs on. What is too hard is asked for less, half way from what
        is proved; where that is too hard as well, longer.
        """
        aim = self.aims(length)
        decides = aim is not None and aim + EDGE > self.bound
        top = aim + EDGE if aim is not None and decides else length - NEAREST
        top = min(top, self._blurred - NEAREST)
        if top <= self.bound:
            return None
        looked = self._looks.get(top, 0.0)
        if decides and not looked:
            return top, FIRST_LOOK
        half, looked = (self.bound + top) / 2, max(looked, FIRST_LOOK)
        if top - self.bound > CLOSE * length and self._looks.get(half, 0.0) < looked:
            return half, looked
        return top, math.inf  # all that is left: what was begun once is not gone on from
