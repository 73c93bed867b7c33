"""A proof beside a search: in step by work, so that it repeats; and at an end when the search is."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING

import pytest

from nesting.placing.question import HELD
from nesting.problem.lay import lay_pieces
from nesting.proof.bounds import lower_bound
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import AnyOf, Interrupted, MaxRuntime, MaxWork
from nesting.tolerance import ALLOWED
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from tests.make.jigsaw import jigsaw
from tests.make.model import MODEL

if TYPE_CHECKING:
    from nesting.marker.marker import Result
    from nesting.problem.problem import Problem


def jacket() -> Problem:
    """The model jacket on folded cloth: four outlines."""
    job = parse_job(MODEL)
    return lay_pieces(draft_job(job).of("shell"), job.fabric[0].fabric(), "folded")


@pytest.fixture(scope="module")
def proved() -> tuple[Result, list[float]]:
    """A search with a proof beside it, and each bound that a listener heard of."""
    told: list[float] = []

    class Hears(Listener):
        def on_bound(self, length: float) -> None:
            told.append(length)

    return solve(jacket(), MaxWork(0.3), proof=3.0, listener=Hears()), told


def test_more_is_proved_beside_a_search(proved: tuple[Result, list[float]]) -> None:
    """Of a jacket on folded cloth more is proved than by bounds alone; without a proof it is the bound."""
    problem, (found, _) = jacket(), proved
    plain = solve(problem, MaxWork(0.05))
    assert (plain.bound, plain.bound_held) == lower_bound(problem)
    assert found.bound_held == HELD
    assert found.bound > plain.bound * 1.05
    assert found.bound <= found.marker.length


def test_it_repeats() -> None:
    """The same seed and effort: the same marker, bound and work, however long the thread takes."""
    found = [solve(jacket(), MaxWork(0.15), proof=3.0, seed=2) for _ in range(2)]
    assert len({(one.marker.length, one.bound, one.work, one.iterations, one.stopped_by) for one in found}) == 1
    assert found[0].marker.placements == found[1].marker.placements


def test_out_of_reach_is_an_end() -> None:
    """Where no less would be bought, proved, the search ends before its effort is spent."""
    problem = jacket()
    length = solve(problem, MaxWork(0.1)).marker.length
    result = solve(problem, MaxWork(20.0), proof=3.0, aims=lambda best: length - 30.0)
    assert result.stopped_by in ("purchase", "no improvement")
    assert result.bound > length - 30.0 - ALLOWED
    assert result.work < 20.0


def test_what_is_proved_is_told(proved: tuple[Result, list[float]]) -> None:
    """A listener hears of each bound; they rise, and the last is the result's."""
    found, told = proved
    assert told == sorted(set(told))
    assert told[-1] == found.bound


@pytest.mark.parametrize("clock", [True, False])
def test_an_end_ends_the_proof_at_once(clock: bool) -> None:
    """An interrupt, or the clock, ends the solver in the thread too: nothing is left running after a moment."""
    before, asked = threading.active_count(), Interrupted()
    problem = jigsaw(900.0, 1200.0, 13, 4)
    stop = MaxRuntime(1.0) if clock else AnyOf(asked, MaxWork(1000.0))
    if not clock:
        threading.Timer(1.0, asked.set).start()
    began = time.monotonic()
    solve(problem, stop, proof=50.0)
    assert time.monotonic() - began < 20.0
    assert threading.active_count() <= before + 1
