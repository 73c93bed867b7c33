"""Searches side by side: in this process and, through any executor, in others.

They keep apart, so that each finds its own way; only towards the end all go on from the best of them.
"""

from __future__ import annotations

import os
import threading
import time
from concurrent.futures import BrokenExecutor, CancelledError, Future, ProcessPoolExecutor
from typing import TYPE_CHECKING

from nesting.processes import begun_apart, listen
from nesting.search.race import TOGETHER

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from concurrent.futures import Executor
    from multiprocessing.synchronize import Event

    from nesting.problem.problem import Problem
    from nesting.search.race import Race
    from nesting.shape.layout import Layout

SPELL = 1.0
"""Seconds that a search in another process goes on before it tells what it found."""

DIED = "a search process was ended from outside; the search goes on without it"
"""What a listener hears when a helper is lost."""

_stop: Event | None = None
_searches: dict[tuple[str, int], _Apart] = {}


def side_by_side(search: Race, helpers: Helpers, spent: Callable[[], float]) -> Iterator[Layout | None]:
    """Yield each better layout of a search in this process and its helpers, and None in between.

    `spent`: the share of the effort that is spent.
    """
    best = search.best
    for _ in search.rounds():
        share = spent()
        better = helpers.exchange(min(best, search.best, key=_length), share)
        if better.length < search.best.length and share >= TOGETHER:
            search.best = better
        is_better, best = better.length < best.length, better
        yield best if is_better else None


def _length(layout: Layout) -> float:
    return layout.length


class Helpers:
    """Searches in other processes.

    Parameters
    ----------
    problem, seed
        What they work on; each gets a seed of its own.
    count
        How many.
    executor
        Where they run; by default fresh processes that end with `close`.
    note
        Called with a sentence when a helper is lost.
    """

    def __init__(
        self,
        problem: Problem,
        seed: int,
        count: int,
        executor: Executor | None = None,
        note: Callable[[str], object] = lambda text: None,
    ) -> None:
        self._problem, self._seed, self._note = problem, seed, note
        self._own: list[ProcessPoolExecutor] = []
        self._flag: Event | None = None
        self._key = f"{os.getpid()}-{id(self)}-{time.time_ns()}"
        if executor is None and count > 0:
            # A pool breaks as a whole, so each helper has its own: one that dies takes none along.
            self._flag = stop_flag()
            self._own = [_pool(1, self._flag) for _ in range(count)]
        where: list[Executor] = [executor] * count if executor is not None else [*self._own]
        self._executors = dict(enumerate(where, start=1))
        self._futures: dict[int, Future[Layout]] = {}
        self._waiting = list(self._executors)

    def exchange(self, best: Layout, spent: float) -> Layout:
        """The best that helpers have found since; those who are done go on from their own, towards the end from it.

        The first call starts them, so that they do not hold up the first layouts.
        """
        while self._waiting:
            self._submit(self._waiting.pop(), best, spent)
        done = {number: future for number, future in self._futures.items() if future.done()}
        for number, future in done.items():
            del self._futures[number]
            try:
                found = future.result()
            except (BrokenExecutor, CancelledError):
                # A helper that was killed is no reason to give up: the search here goes on.
                self._note(DIED)
                continue
            best = min(best, found, key=_length)
            self._submit(number, best if spent >= TOGETHER else found, spent)
        return best

    def _submit(self, number: int, start: Layout, spent: float) -> None:
        try:
            with begun_apart():
                self._futures[number] = self._executors[number].submit(
                    advance, self._key, self._problem, start, self._seed + 7919 * number, spent, SPELL
                )
        except (BrokenExecutor, RuntimeError):
            self._note(DIED)

    def close(self) -> None:
        """Tell the helpers to stop; they do within moments, and the process does not end before them."""
        if self._flag is not None:
            self._flag.set()
        for future in self._futures.values():
            future.cancel()
        if self._own:
            # The thread keeps the flag alive for helpers that are only now starting.
            threading.Thread(target=self._end).start()

    def _end(self) -> None:
        for own in self._own:
            own.shutdown(wait=True, cancel_futures=True)


def advance(key: str, problem: Problem, start: Layout, seed: int, spent: float, seconds: float) -> Layout:
    """Go on with a search for some seconds, from a layout if it is better than its own; its best.

    Called in another process (or thread), which keeps the search of each seed from call to call. `spent`: the share of
    the effort that is spent.
    """
    if told_to_stop():
        return start
    own = key, seed
    apart = _searches.get(own)
    if apart is None:
        for old in [other for other in _searches if other[0] != key]:
            del _searches[old]
        apart = _searches[own] = _Apart(problem, start, seed)
    elif start.length < apart.race.best.length:
        apart.race.best = start
    apart.spent = spent
    end = time.monotonic() + seconds
    for _ in apart.race.rounds():
        if time.monotonic() > end or told_to_stop():
            break
    return apart.race.best


class _Apart:
    """A search in this process that another one has asked for."""

    def __init__(self, problem: Problem, start: Layout, seed: int) -> None:
        from nesting.search.meter import WorkMeter
        from nesting.search.race import Race
        from nesting.search.rounds import Rounds
        from nesting.shape.nofit import NoFit
        from nesting.shape.shapes import Shapes

        shapes, meter = Shapes(problem), WorkMeter()
        nofit = NoFit(shapes)
        self.spent = 0.0
        self.race = Race(
            lambda own: Rounds(shapes, nofit, start, own, meter), seed, lambda: meter.done, lambda: self.spent
        )


def told_to_stop() -> bool:
    """Whether this process is a helper, and has been told to stop."""
    return _stop is not None and _stop.is_set()


def pool(count: int) -> tuple[ProcessPoolExecutor, Event]:
    """Processes that end with this one, begun one by one as work is submitted, and the flag that tells them to stop.

    Work is submitted within `begun_apart`.
    """
    flag = stop_flag()
    return _pool(count, flag), flag


def stop_flag() -> Event:
    """What tells processes to stop."""
    import multiprocessing

    with begun_apart():
        return multiprocessing.get_context("spawn").Event()


def _pool(count: int, flag: Event) -> ProcessPoolExecutor:
    import multiprocessing

    with begun_apart():
        return ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), initializer=begin, initargs=(flag,))


def begin(stop: Event) -> None:
    """Make a fresh process a helper: it leaves interrupts to its parent, and ends when that is gone."""
    global _stop
    _stop = stop
    listen()
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    import multiprocessing

    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
