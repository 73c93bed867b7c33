"""Stop criteria: when a search has gone on long enough.

A criterion is any callable that takes the best length so far and says whether to stop. One run, one
criterion: it holds state. Names follow the habit of optimisation libraries.
"""

from __future__ import annotations

import math
import time
from typing import TYPE_CHECKING, Protocol

from nesting.errors import StopError
from pieces.length import length_in_mm
from pieces.require import require_callable, require_number, require_whole

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.search.meter import WorkMeter
    from pieces.length import Written

    Aims = Callable[[float], float | None]
    """For the best length so far, the next one worth reaching, mm; None where none is."""


class StopCriterion(Protocol):
    """Called once an iteration with the best length so far, mm; true means stop.

    One that has a `reason` says so in `Result.stopped_by`; of any other function that is ``"criterion"``.
    """

    def __call__(self, best_length: float, /) -> bool:
        """Whether to stop now."""
        ...


def require_stop(given: object) -> None:
    """Make sure that something is a criterion; WrongTypeError says what to give."""
    require_callable(given, "the stop", "a function of the best length so far, such as MaxRuntime(60)", takes=1)


def require_aims(given: object) -> None:
    """Make sure that something gives lengths worth reaching, or is None; WrongTypeError says what to give."""
    if given is not None:
        require_callable(given, "the aims", "a function of the best length that gives a shorter one or None", takes=1)


def reason_of(stop: StopCriterion) -> str:
    """Why a criterion stops a search, in a word."""
    return str(getattr(stop, "reason", "criterion"))


def spent_of(stop: StopCriterion) -> float:
    """What share is spent of what a criterion allows; all of it, where it cannot say."""
    return float(getattr(stop, "spent", 1.0))


class MaxRuntime:
    """Stop after a number of seconds, counted from the first call or from `start`."""

    reason = "time"

    def __init__(self, seconds: float, *, now: Callable[[], float] = time.monotonic) -> None:
        require_number(seconds, "the seconds of a stop")
        if not seconds >= 0:
            raise StopError(f"a running time must be zero or more seconds, not {seconds}")
        self.seconds, self._now = seconds, now
        self._end: float | None = None

    def start(self) -> None:
        """Start the clock now rather than at the first call."""
        self._end = self._now() + self.seconds

    @property
    def left(self) -> float:
        """Seconds that are left."""
        return self.seconds if self._end is None else self._end - self._now()

    @property
    def spent(self) -> float:
        """Share that is spent."""
        return min(1.0, 1 - self.left / self.seconds) if self.seconds else 1.0

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        if self._end is None:
            self.start()
        return self.left <= 0


class SearchTime(MaxRuntime):
    """Stop after a number of seconds of searching: the clock stands still while kernels are made ready.

    So the first run on a machine, which compiles them, takes longer and gives as good an answer as the next.
    """

    def pause(self, seconds: float) -> None:
        """Let the clock stand still for some seconds."""
        if self._end is not None:
            self._end += seconds


class MaxIterations:
    """Stop after a number of iterations: the criterion under which a run repeats bit for bit."""

    reason = "iterations"

    def __init__(self, iterations: int) -> None:
        require_whole(iterations, "the iterations of a stop")
        if iterations < 0:
            raise StopError(f"a number of iterations must be zero or more, not {iterations}")
        self.iterations, self._done = iterations, 0

    @property
    def spent(self) -> float:
        """Share that is spent."""
        return min(1.0, self._done / self.iterations) if self.iterations else 1.0

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        self._done += 1
        return self._done > self.iterations


class MaxWork:
    """Stop after so much work, counted by the search: a run repeats bit for bit, and takes about as long for all sizes.

    An effort of 1 is some 5 s of one core. With 0 there are first layouts only.
    """

    reason = "effort"

    def __init__(self, effort: float) -> None:
        require_number(effort, "the effort of a stop")
        if not effort >= 0:
            raise StopError(f"an effort must be zero or more, not {effort}")
        self.effort = effort
        self._meter: WorkMeter | None = None

    def follow(self, meter: WorkMeter) -> None:
        """Go by the work of a search."""
        self._meter = meter

    @property
    def spent(self) -> float:
        """Share that is spent."""
        done = self._meter.done if self._meter else 0.0
        return min(1.0, done / self.effort) if self.effort else 1.0

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        if self._meter is None:
            raise StopError("MaxWork knows no work by itself: give it to solve, alone or in AnyOf")
        return self._meter.has_begun and self._meter.done >= self.effort


class NoImprovement:
    """Stop after a number of iterations without a shorter marker."""

    reason = "no improvement"

    def __init__(self, iterations: int) -> None:
        require_whole(iterations, "the iterations of a stop")
        if iterations < 1:
            raise StopError(f"a number of iterations must be one or more, not {iterations}")
        self.iterations, self._best, self._since = iterations, float("inf"), 0

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        if best_length < self._best:
            self._best, self._since = best_length, 0
        else:
            self._since += 1
        return self._since >= self.iterations


class Target:
    """Stop as soon as the marker is no longer than a length, given with its unit."""

    reason = "target"

    def __init__(self, length: Written) -> None:
        self.length = length_in_mm(length, "the length of a Target")

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        return best_length <= self.length


class Interrupted:
    """Stop when someone has said so: a flag that a signal handler or another thread sets."""

    reason = "interrupt"

    def __init__(self) -> None:
        self.asked = False

    def set(self) -> None:
        """Ask the search to stop."""
        self.asked = True

    @property
    def left(self) -> float:
        """Seconds that are left: none once someone has asked."""
        return 0.0 if self.asked else math.inf

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        return self.asked


class AnyOf:
    """Stop as soon as one of several criteria does; `reason` is then that criterion's."""

    def __init__(self, *criteria: StopCriterion) -> None:
        for criterion in criteria:
            require_stop(criterion)
        self.criteria, self.reason = criteria, ""

    @property
    def left(self) -> float:
        """Seconds that are left, if any of the criteria looks at the clock."""
        return min(getattr(criterion, "left", math.inf) for criterion in self.criteria)

    @property
    def spent(self) -> float:
        """Share that is spent of what ends first, if any of the criteria can say."""
        return max((spent_of(criterion) for criterion in self.criteria if hasattr(criterion, "spent")), default=1.0)

    def pause(self, seconds: float) -> None:
        """Let the clock of those criteria stand still that count search time alone."""
        for criterion in self.criteria:
            if isinstance(criterion, SearchTime | AnyOf):
                criterion.pause(seconds)

    def follow(self, meter: WorkMeter) -> None:
        """Let those criteria go by the work of a search that count it."""
        for criterion in self.criteria:
            if isinstance(criterion, MaxWork | AnyOf):
                criterion.follow(meter)

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        for criterion in self.criteria:
            if criterion(best_length):
                self.reason = reason_of(criterion)
                return True
        return False
