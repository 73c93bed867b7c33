"""Many markers laid for real: in worker processes, with progress, kept from run to run, and after an interrupt."""

from __future__ import annotations

import os
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, wait
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from nesting.marker.marker import Marker, Placement
from nesting.processes import begun_apart
from nesting.search.solver import solve
from nesting.search.stop import AnyOf, Interrupted
from nesting.search.workers import pool, told_to_stop
from reports.errors import StudyError
from reports.keep.digest import key_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nesting.cloth.repeat import Repeat
    from nesting.marker.marker import Result
    from nesting.problem.problem import Problem
    from nesting.search.stop import StopCriterion
    from reports.batch.cache import MarkerCache
    from reports.plan.effort import Effort

LOOK_EVERY = 0.1
"""Seconds between two looks at whether someone has asked to stop."""


@dataclass(eq=False)
class Study:
    """What came of the cases: markers in their order, None where an interrupt came first.

    `kept` counts those that did not have to be searched for.
    """

    markers: list[Marker | None]
    kept: int = 0


def study(
    problems: Sequence[Problem],
    effort: Effort,
    *,
    workers: int = 1,
    cache: MarkerCache | None = None,
    interrupt: Interrupted | None = None,
    on_done: Callable[[], None] = lambda: None,
    executor: Executor | None = None,
) -> Study:
    """Lay each problem with the same effort, some of them side by side; equal problems are laid once.

    Parameters
    ----------
    effort
        How long to search for each marker.
    workers
        Processes; with one, all is done in this one. The markers are the same if the effort goes by count.
    cache
        Where markers are kept from run to run.
    interrupt
        Once it is set, what is done is returned.
    on_done
        Called once for each problem that is done.
    executor
        Where the worker processes are, such as those of a cluster; by default a pool of this machine's own.

    Raises
    ------
    StudyError
        If a worker process was ended from outside. What was done by then is in the cache.
    """
    asked = interrupt or Interrupted()
    keys = [key_of(problem, *effort.parts) for problem in problems]
    found = Study([None] * len(problems))
    first: dict[str, int] = {}
    for i, key in enumerate(keys):
        held = cache.read(key, problems[i]) if cache and key not in first and not asked.asked else None
        if held is not None:
            found.markers[i] = held
            found.kept += 1
        first.setdefault(key, i)
    todo = [i for i in first.values() if found.markers[i] is None]
    for _ in range(len(first) - len(todo)):
        on_done()
    some, most = [problems[i] for i in todo], min(workers, len(todo))
    if executor is not None:
        laid = _submitted(some, effort, executor, asked)
    else:
        laid = (_side_by_side if most > 1 else _one_by_one)(some, effort, most, asked)
    for i, marker in laid:
        found.markers[todo[i]] = marker
        if cache:
            cache.write(keys[todo[i]], marker)
        on_done()
    for i, key in enumerate(keys):
        same = found.markers[first[key]]
        if first[key] != i and same is not None:
            found.markers[i] = _Laid.of(same).marker(problems[i])
            on_done()
    return found


def cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _one_by_one(
    problems: Sequence[Problem], effort: Effort, workers: int, asked: Interrupted
) -> Iterator[tuple[int, Marker]]:
    for i, problem in enumerate(problems):
        if asked.asked:
            return
        result = solve(
            problem, AnyOf(asked, effort.stop()), seed=effort.seed, aims=effort.aims(problem), proof=effort.proving
        )
        if result.stopped_by != asked.reason:
            yield i, result.marker


def _side_by_side(
    problems: Sequence[Problem], effort: Effort, workers: int, asked: Interrupted
) -> Iterator[tuple[int, Marker]]:
    executor, flag = pool(workers)
    try:
        yield from _submitted(problems, effort, executor, asked)
    except BrokenExecutor as error:
        if asked.asked:  # whoever asked has told them as well
            return
        raise StudyError(
            "a worker process was ended from outside, perhaps for lack of memory: run the command again to continue "
            "from what is done, or use fewer --workers"
        ) from error
    finally:
        flag.set()
        executor.shutdown(wait=True, cancel_futures=True)


def _submitted(
    problems: Sequence[Problem], effort: Effort, executor: Executor, asked: Interrupted
) -> Iterator[tuple[int, Marker]]:
    """Markers as workers get done with them, until someone asks to stop."""
    with begun_apart():
        waiting = {executor.submit(_lay, problem, effort.alone): i for i, problem in enumerate(problems)}
    while waiting and not asked.asked:
        done, _ = wait(waiting, LOOK_EVERY, FIRST_COMPLETED)
        for future in done:
            i = waiting.pop(future)
            laid = future.result()
            if laid is not None:
                yield i, laid.marker(problems[i])
    for future in waiting:
        future.cancel()


def _searched(problem: Problem, asked: StopCriterion, effort: Effort) -> Result:
    """What a search with so much effort comes to, or as far as it came when someone asked to stop."""
    stop = AnyOf(asked, effort.stop())
    return solve(problem, stop, seed=effort.seed, aims=effort.aims(problem), proof=effort.proving)


class _Laid(NamedTuple):
    """A marker without its problem, as it comes back from a worker."""

    placements: tuple[Placement, ...]
    length: float
    repeat: Repeat | None

    @classmethod
    def of(cls, marker: Marker) -> _Laid:
        """What is left of a marker."""
        return cls(marker.placements, marker.length, marker.problem.repeat)

    def marker(self, problem: Problem) -> Marker:
        """The marker of the problem that was sent out."""
        if self.repeat is not None:
            problem = replace(problem, repeat=self.repeat)
        return Marker(problem, self.placements, self.length)


class _ToldToStop:
    """Stop when the process that asked for this work says so."""

    reason = "interrupt"

    @property
    def left(self) -> float:
        """Seconds that are left."""
        return 0.0 if told_to_stop() else float("inf")

    def __call__(self, best_length: float) -> bool:
        """Whether to stop now."""
        return told_to_stop()


def _lay(problem: Problem, effort: Effort) -> _Laid | None:
    """Lay a problem in a worker; None if it was told to stop before the end."""
    if told_to_stop():
        return None
    told = _ToldToStop()
    result = solve(
        problem, AnyOf(told, effort.stop()), seed=effort.seed, aims=effort.aims(problem), proof=effort.proving
    )
    if result.stopped_by == told.reason:
        return None
    return _Laid.of(result.marker)
