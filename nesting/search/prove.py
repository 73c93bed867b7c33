"""Proving on: a longer look at a marker that was found, whether one can be shorter."""

from __future__ import annotations

import math
import time
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from nesting.placing.least import LONG, Least
from nesting.placing.question import CASES, Placing
from nesting.search.listener import listener_of
from nesting.search.settled import marker_of
from nesting.search.stop import Interrupted, reason_of, require_aims

if TYPE_CHECKING:
    from nesting.marker.marker import Result
    from nesting.search.listener import AnyListener
    from nesting.search.stop import Aims, StopCriterion

OFTEN = 0.05
"""Seconds between two looks at whether someone has asked to stop."""


def prove_on(
    before: Result,
    effort: float = math.inf,
    *,
    aims: Aims | None = None,
    stop: StopCriterion | None = None,
    listener: AnyListener | None = None,
) -> Result:
    """Look longer at what was found: first whether a length worth reaching is, then how short a marker can be.

    The same effort comes to the same answer. An interrupt from the keyboard ends it, not the answer.

    Parameters
    ----------
    before
        What was found and proved before; neither gets worse.
    effort
        In units of `Placing`; one is about a second.
    aims
        As of `solve`.
    stop
        Asked every moment; true ends it.
    listener
        As of `solve`.
    """
    require_aims(aims)
    hears, began = listener_of(listener), time.monotonic()
    # One thread for all questions: in the coming and going of many, an interrupt can get lost.
    with ThreadPoolExecutor(1) as thread:
        looks = _Looks(before, effort, aims, stop, thread)
        try:
            hears.on_best(before.marker)
            while looks.go_on():
                if looks.found.bound > before.bound:
                    hears.on_bound(looks.found.bound)
                if looks.found.marker is not before.marker:
                    hears.on_best(looks.found.marker)
                before = looks.found
        except KeyboardInterrupt:  # between two questions
            looks.end(Interrupted.reason)
    return replace(looks.found, seconds=before.seconds + time.monotonic() - began)


class _Looks:
    """Questions asked one after another, in a thread, so that an interrupt is heard at once."""

    def __init__(
        self, before: Result, effort: float, aims: Aims | None, stop: StopCriterion | None, thread: ThreadPoolExecutor
    ) -> None:
        self.found, self._left, self._stop, self._thread = before, effort, stop, thread
        problem = before.marker.problem
        placing = Placing(problem, before.marker.length, settle=partial(marker_of, problem), threads=CASES)
        self._least = Least(placing, before.bound, before.bound_held, aims, LONG)

    def go_on(self) -> bool:
        """Ask once more; whether there was something to ask, and effort for it."""
        least, marker = self._least, self.found.marker
        if self._left <= 0 or not least.is_open(marker):
            return False
        asked = self._thread.submit(least.ask, marker, self._left)
        while not asked.done():
            try:
                wait([asked], OFTEN)
                if self._stop and self._stop(marker.length):  # again and again: a solver that only begins is deaf
                    self.end(reason_of(self._stop))
            except KeyboardInterrupt:
                self._stop = interrupt = Interrupted()
                interrupt.set()
                self.end(interrupt.reason)
        marker, spent = asked.result()
        self._left -= spent if self._left > 0 else 0.0  # once it is told to end, nothing is left
        self.found = replace(self.found, marker=marker, bound=least.bound, bound_held=least.held)
        return True

    def end(self, reason: str) -> None:
        """Let what is asked end, and ask no more."""
        self._left = 0.0
        self._least.placing.stop()
        self.found = replace(self.found, stopped_by=reason)
