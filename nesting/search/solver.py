"""The front door of the layout engine."""

from __future__ import annotations

import math
import time
from contextlib import closing
from functools import partial
from typing import TYPE_CHECKING, Any

from nesting.errors import CheckError
from nesting.marker.marker import Marker, Result
from nesting.marker.opinion import check
from nesting.problem.likeness import difference
from nesting.problem.problem import Problem
from nesting.proof.bounds import ROUNDING, lower_bound
from nesting.search.candidates import SearchTerms, candidates_of
from nesting.search.listener import listener_of
from nesting.search.meter import WorkMeter
from nesting.search.row import lay_in_a_row
from nesting.search.stop import AnyOf, MaxWork, SearchTime, reason_of, require_aims, require_stop, spent_of
from pieces.errors import WrongTypeError
from pieces.require import require, require_number, require_whole, told

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from concurrent.futures import Executor

    from nesting.search.beside import ProofBeside
    from nesting.search.candidates import Candidate
    from nesting.search.listener import AnyListener, Listener
    from nesting.search.stop import Aims, StopCriterion


PROVED = 1e-6
"""A length this close, as a share, to a bound that allows for rounding alone is as short as can be."""

POLISH = 0.1
"""Share of the effort that is spent although nothing shorter is worth reaching: a neat marker is used, too."""

SPENT = ("effort", "iterations", "no improvement")
"""Ends of a search that come after the same work each time: a look that was begun is waited for."""

AIMED = 0.001
"""By how much, mm, a bound must lie above what is aimed at."""

STEP_SECONDS = 0.25
"""How often a listener hears of steps."""


def solve(
    problem: Problem,
    stop: StopCriterion,
    *,
    seed: int = 0,
    listener: AnyListener | None = None,
    workers: int = 1,
    initial: Marker | None = None,
    executor: Executor | None = None,
    aims: Aims | None = None,
    proof: float = 0.0,
) -> Result:
    """Lay all pieces of a problem on as short a length of cloth as can be found.

    Anytime: the first marker is there in a fraction of a second, whatever `stop` says; each better one is
    checked, then told to `listener`. An interrupt from the keyboard ends the search, not the answer. The same
    seed, one worker and a stop by work or by iterations give the same marker.

    Parameters
    ----------
    problem
        What is to be laid, and in which ways.
    stop
        When to stop: any function, called once an iteration with the best length so far, mm; true means stop.
    seed
        Random seed.
    listener
        Hears of better markers and of progress; or any function, called with each better marker.
    workers
        Searches to run side by side, each on a core of its own.
    initial
        A marker of the same problem to start from.
    executor
        Where the searches beside the first one run; by default in fresh processes on this machine.
    aims
        Gives for the best length so far the next one worth reaching, mm, such as that with which less is to be bought;
        None where none is. The search presses to it, and ends a little after it is proved out of reach.
    proof
        How much to prove in a thread beside the search, in units of `Placing` for each effort: nothing by default.

    Raises
    ------
    CheckError
        If `initial` is no good, or of another problem. A layout of the search that fails the check is never told of:
        the next one is taken, and until one passes, all pieces one behind another.
    """
    _require_searchable(problem, seed, workers, initial, executor)
    require_stop(stop)
    hears = listener_of(listener)
    if initial is not None:
        _require_start(problem, initial)
    meter = WorkMeter(len(problem.stretches) or 1)
    if isinstance(stop, MaxWork | AnyOf):
        stop.follow(meter)
    require_aims(aims)
    require_number(proof, "the proof of solve")
    laid = problem if initial is None else initial.problem
    spent = partial(spent_of, stop)
    beside = _beside(laid, aims, meter, proof, spent) if proof > 0 else None
    run = _Run(problem, stop, seed, hears, meter, aims)
    better = beside.found if beside else _nothing
    terms = SearchTerms(hears, seed, workers, executor, meter, aims, spent, better)
    candidates = candidates_of(problem, terms, initial)
    try:
        with closing(beside.of(candidates) if beside else candidates) as looked_at:
            run.go(looked_at)
    except KeyboardInterrupt:
        if run.best is None:
            raise
        run.stopped_by = "interrupt"
    finally:
        told = beside.end(is_spent=run.stopped_by in SPENT) if beside else None
    if told:
        run.take(told)
    return run.result()


def _nothing() -> None:
    """Nothing was found elsewhere."""


def _beside(
    problem: Problem, aims: Aims | None, meter: WorkMeter, proof: float, spent: Callable[[], float]
) -> ProofBeside:
    """A proof beside a search; what it takes is loaded only now."""
    from nesting.search.beside import ProofBeside

    return ProofBeside(problem, aims, meter, proof, spent)


def _require_searchable(problem: Any, seed: Any, workers: Any, initial: Any, executor: Any) -> None:
    """Make sure that all but the stop and the listener is of its kind."""
    require(problem, Problem, "the problem of solve", "a Problem, such as lay_pieces makes")
    for count, what, least in ((seed, "seed", 0), (workers, "workers", 1)):
        require_whole(count, f"the {what} of solve", least=least)
    require(initial, Marker | None, "the initial marker", "a Marker, such as result.marker")
    if executor is not None and not callable(getattr(executor, "submit", None)):
        raise WrongTypeError(f"the executor must be one of concurrent.futures, not {told(executor)}")


def _require_start(problem: Problem, initial: Marker) -> None:
    """Make sure that a search may start from a marker: it is sound, and one of this problem or an alternative."""
    differs = [difference(one, initial.problem) for one in (problem, *problem.alternatives)]
    if all(differs):
        raise CheckError(
            f"the initial marker is of another problem: {differs[0]}; give a marker of this problem, or none"
        )
    check(initial)


class _Run:
    """One call of `solve`: the best so far, and whether to go on."""

    def __init__(
        self,
        problem: Problem,
        stop: StopCriterion,
        seed: int,
        listener: Listener,
        meter: WorkMeter,
        aims: Aims | None,
    ) -> None:
        self.start = self._told = time.monotonic()
        self.best: Marker | None = None
        self.stopped_by = "no improvement"
        self._stop, self._seed, self._listener = stop, seed, listener
        self._bound, self._bound_held = lower_bound(problem)
        self._shortest = lower_bound(problem, ROUNDING * problem.width)[0]
        self._iterations, self._meter = 0, meter
        self._aims, self._has_aim = aims, True

    def go(self, candidates: Iterator[Candidate]) -> None:
        """Take candidates, one an iteration, until it is time to stop."""
        since = time.monotonic()
        for candidate in candidates:
            before, since = since, time.monotonic()
            if candidate == "waiting":
                # Not an iteration, or how many there are would depend on the machine: only the clock is asked.
                if isinstance(self._stop, SearchTime | AnyOf):
                    self._stop.pause(since - before)
                if getattr(self._stop, "left", math.inf) > 0:
                    continue
            elif candidate == "proving":
                if getattr(self._stop, "left", math.inf) > 0:
                    continue
            elif isinstance(candidate, Result):
                self.take(candidate)
            elif candidate is not None:
                self._offer(candidate)
            if self.best is not None and self._is_over(self.best.length):
                break
            self._iterations += 1

    def take(self, found: Result) -> None:
        """Take what was proved, and the marker that came with it."""
        if found.bound > self._bound:
            self._bound, self._bound_held = found.bound, found.bound_held
            self._listener.on_bound(self._bound)
            self._aim()
        self._offer(found.marker)
        if found.stopped_by == "proved":
            self._shortest = max(self._shortest, found.marker.length)

    def _offer(self, marker: Marker) -> None:
        if self.best is not None and marker.length >= self.best.length:
            return
        try:
            check(marker)
        except CheckError as error:
            if self.best is not None:
                return
            marker = _in_a_row(marker.problem, error)  # a better one is sure to come
        self.best = marker
        self._listener.on_best(marker)
        self._aim()

    def _aim(self) -> None:
        """See whether a length worth reaching is left."""
        if self._aims and self.best:
            aim = self._aims(self.best.length)
            self._has_aim = aim is not None and aim + AIMED >= self._bound

    def _is_over(self, length: float) -> bool:
        now = time.monotonic()
        if now - self._told > STEP_SECONDS:
            self._told = now
            self._listener.on_step(self._meter.done, now - self.start)
        if length <= self._shortest * (1 + PROVED):
            self.stopped_by = "proved"
            return True
        if not self._has_aim and self._meter.has_begun and spent_of(self._stop) >= POLISH:
            self.stopped_by = "purchase"
            return True
        if self._stop(length):
            self.stopped_by = reason_of(self._stop)
            return True
        return False

    def result(self) -> Result:
        assert self.best is not None
        seconds = time.monotonic() - self.start
        return Result(
            self.best,
            self._bound,
            self._bound_held,
            self._iterations,
            seconds,
            self._seed,
            self.stopped_by,
            work=self._meter.done,
        )


def _in_a_row(problem: Problem, before: CheckError) -> Marker:
    """The plainest marker of a problem, where another has failed the check."""
    marker = lay_in_a_row(problem)
    try:
        check(marker)
    except CheckError as error:
        name = f"'{problem.name}'" if problem.name else "the cloth"
        raise CheckError(f"no layout on {name} passes the check: {before}; and one behind another, {error}") from error
    return marker
