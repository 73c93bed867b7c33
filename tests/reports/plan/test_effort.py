"""The effort of a search: by rounds or by time, what a trial gets, and what ends it."""

from __future__ import annotations

import pytest

from nesting.search.stop import Interrupted, MaxIterations, SearchTime
from reports.asking.options import ManySearch, OneSearch
from reports.plan.effort import MANY_ITERATIONS, MOST_PROOF, PROOF, Effort


def test_by_rounds_or_by_time() -> None:
    """Seconds, where given, count instead of rounds; a trial is a tenth of either; each has a key of its own."""
    rounds, timed = Effort(50, seed=3), Effort(50, seconds=2.0, seed=3)
    assert isinstance(rounds.stop(), MaxIterations) and isinstance(timed.stop(), SearchTime)
    assert (rounds.total, timed.total) == (50, 2.0)
    assert (rounds.trial.total, timed.trial.total) == (5, pytest.approx(0.2))
    assert rounds.parts == ("iterations", 50, 3) and timed.parts == ("seconds", 2.0, 3)
    assert rounds.to_plain() == {"seed": 3, "iterations": 50, "seconds": None}
    assert timed.to_plain() == {"seed": 3, "iterations": None, "seconds": 2.0}


def test_work_for_a_proof() -> None:
    """None without a search, a share of the time up to a most, and as much as is asked for."""
    assert [Effort(0).proving, Effort(1).proving, Effort(seconds=2).proving] == [0, PROOF, 2 * PROOF]
    assert Effort(seconds=1000).proving == MOST_PROOF
    assert Effort(0, proof=0.5).proving == 0.5


def test_an_interrupt_ends_it() -> None:
    """An interrupt ends a search that has rounds left; a process of its own has none."""
    interrupt = Interrupted()
    effort = Effort(10, interrupt=interrupt)
    stop = effort.stop()
    assert not stop(1.0)
    interrupt.set()
    assert stop(1.0)
    assert effort.alone.interrupt is None and len(effort.alone.criteria()) == 1
    assert effort == Effort(10)


def test_what_a_command_is_told() -> None:
    """Rounds, where told, count before seconds; where nothing is told, it is as usual; the seed is taken always."""
    usual = Effort(seconds=2.0)
    assert OneSearch(seed=4).effort(usual) == Effort(seconds=2.0, seed=4)
    assert OneSearch(iterations=5, workers=2).effort(usual) == Effort(5, workers=2)
    assert OneSearch(seconds=1.0).effort(Effort(7)) == Effort(7, seconds=1.0)
    assert ManySearch(workers=4).effort(Effort(MANY_ITERATIONS)) == Effort(MANY_ITERATIONS)
