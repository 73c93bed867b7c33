"""Stop criteria, with the clock handed in."""

from __future__ import annotations

from itertools import count
from typing import Any

import pytest

from nesting.errors import StopError
from nesting.search.listener import Listener
from nesting.search.meter import EFFORT, PLACE, WorkMeter
from nesting.search.solver import solve
from nesting.search.stop import (
    AnyOf,
    Interrupted,
    MaxIterations,
    MaxRuntime,
    MaxWork,
    NoImprovement,
    SearchTime,
    StopCriterion,
    Target,
    reason_of,
)
from pieces.length import mm
from tests.make.jigsaw import jigsaw


class Clock:
    """A clock that goes only when told."""

    time = 100.0

    def __call__(self) -> float:
        """The time now."""
        return self.time


def test_runtime() -> None:
    """Two seconds from the first call, and no sooner."""
    clock = Clock()
    stop = MaxRuntime(2.0, now=clock)
    assert (stop(1.0), stop.left) == (False, 2.0)
    clock.time += 1.5
    assert (stop(1.0), stop.left) == (False, 0.5)
    clock.time += 0.5
    assert stop(1.0)


def test_runtime_started_early() -> None:
    """The clock can be started before the first call; no time at all stops at once."""
    clock = Clock()
    stop = MaxRuntime(2.0, now=clock)
    stop.start()
    clock.time += 2.0
    assert stop(1.0)
    assert MaxRuntime(0.0, now=clock)(1.0)


def test_work() -> None:
    """It ends once all searches have begun and the work is done, not before; by itself it knows of none."""
    stop, meter = MaxWork(0.5), WorkMeter(2)
    with pytest.raises(StopError, match="give it to solve"):
        stop(1.0)
    AnyOf(AnyOf(stop)).follow(meter)
    meter.place(round(0.6 * EFFORT / PLACE))
    assert not stop(1.0)
    meter.begin()
    assert not stop(1.0)
    meter.begin()
    assert stop(1.0) and stop.spent == 1.0
    with pytest.raises(StopError):
        MaxWork(-1)


def test_the_same_work_gives_the_same_marker() -> None:
    """Two runs with the same effort end at the same work with the same marker; with no effort, at first layouts."""
    problem = jigsaw(100.0, 140.0, 8, seed=1)
    one, other = (solve(problem, MaxWork(0.03), seed=3) for _ in range(2))
    assert (one.work, one.marker.placements, one.stopped_by) == (other.work, other.marker.placements, "effort")
    assert 0.03 <= one.work < 0.06
    first = solve(problem, AnyOf(MaxWork(0)))
    assert first.work == 0 and first.stopped_by == "effort" and first.iterations > 0


def test_iterations() -> None:
    """Three iterations are three calls that go on; the fourth stops."""
    stop = MaxIterations(3)
    assert [stop(1.0) for _ in range(4)] == [False, False, False, True]
    assert MaxIterations(0)(1.0)


def test_no_improvement() -> None:
    """Stops after two calls without a shorter marker; a shorter one starts the count anew."""
    stop = NoImprovement(2)
    assert [stop(length) for length in (9.0, 9.0, 8.0, 8.0, 8.5)] == [False, False, False, False, True]


def test_any_callable() -> None:
    """Any function of the best length is a criterion, alone or among others: the marker is not lost at its end."""
    problem = jigsaw(100.0, 140.0, 14, seed=3)

    def at_once(best: float) -> bool:
        return best > 0

    assert solve(problem, at_once).stopped_by == "criterion"
    assert solve(problem, AnyOf(lambda best: best > 0, MaxIterations(9))).marker.length >= 140
    assert reason_of(at_once) == "criterion"
    assert reason_of(Target(mm(1.0))) == "target"


def test_target() -> None:
    """Stops at the length asked for or a shorter one."""
    assert [Target(mm(10.0))(length) for length in (10.1, 10.0, 9.9)] == [False, True, True]


def test_interrupted() -> None:
    """Stops once someone has said so."""
    stop = Interrupted()
    assert not stop(1.0)
    stop.set()
    assert stop(1.0)


def test_any_of_gives_the_reason() -> None:
    """Any of several criteria stops, and its reason is given."""
    stop = AnyOf(MaxIterations(5), Target(mm(3.0)))
    lengths = count(6, -1)
    assert [stop(float(next(lengths))) for _ in range(4)] == [False, False, False, True]
    assert stop.reason == "target"
    assert not AnyOf()(1.0)


@pytest.mark.parametrize(
    ("make", "value", "why"),
    [
        (MaxRuntime, -1.0, "zero or more seconds"),
        (MaxRuntime, float("nan"), "zero or more seconds"),
        (MaxIterations, -1, "zero or more"),
        (NoImprovement, 0, "one or more"),
    ],
)
def test_values_that_make_no_sense(make: Any, value: float, why: str) -> None:
    """A negative time or number is refused."""
    with pytest.raises(ValueError, match=why):
        make(value)


def test_any_callable_is_a_criterion() -> None:
    """A criterion needs no base class, only a reason."""

    class Bored:
        reason = "bored"

        def __call__(self, best_length: float) -> bool:
            return True

    bored: StopCriterion = Bored()
    assert AnyOf(bored)(1.0)


def test_listener_does_nothing() -> None:
    """A listener's callbacks are there to be overridden, and do nothing by default."""
    listener = Listener()
    assert listener.on_step(1, 0.5) is None and listener.on_note("hello") is None  # type: ignore[func-returns-value]


def test_time_left_is_that_of_the_strictest_clock() -> None:
    """Of several criteria the clock that runs out first counts; those that look at none leave time without end."""
    assert AnyOf(MaxRuntime(5.0), MaxRuntime(3.0), MaxIterations(1)).left == 3.0
    assert AnyOf(MaxIterations(1)).left == float("inf")


def test_an_interrupt_leaves_no_time() -> None:
    """Once someone has asked to stop there are no seconds left."""
    stop = Interrupted()
    assert stop.left == float("inf")
    stop.set()
    assert AnyOf(stop, MaxRuntime(5.0)).left == 0.0


def test_search_time_stands_still() -> None:
    """A pause is added to a search time, also where it is one criterion of several, and not to a running time."""
    now = [0.0]
    search, running = SearchTime(2.0, now=lambda: now[0]), MaxRuntime(5.0, now=lambda: now[0])
    either = AnyOf(search, running)
    assert not either(1.0)
    now[0] = 1.0
    either.pause(3.0)
    now[0] = 4.9
    assert not either(1.0)
    now[0] = 5.0
    assert either(1.0)
