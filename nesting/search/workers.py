"""Searches side by side: in this process and, through any executor, in others; they share the best layout."""

from __future__ import annotations

import os
import threading
import time
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor
from typing import TYPE_CHECKING

from nesting.processes import begun_apart, listen

if TYPE_CHECKING:
    from collections.abc import Iterator
    from concurrent.futures import Executor
    from multiprocessing.synchronize import Event

    from nesting.problem.problem import Problem
    from nesting.search.rounds import Rounds
    from nesting.shape.layout import Layout

SPELL = 1.0
"""Seconds that a search in another process goes on before it tells what it found."""

_stop: Event | None = None
_searches: dict[tuple[str, int], Rounds] = {}


def side_by_side(search: Rounds, helpers: Helpers) -> Iterator[Layout | None]:
    """Yield each better layout of a search in this process and its helpers, and None in between."""
    for found in search.rounds():
        better = helpers.exchange(search.best)
        if better.length < search.best.length:
            search.best = better
            yield better
        yield found


class Helpers:
    """Searches in other processes.

    Parameters
    ----------
    problem, seed
        What they work on; each gets a seed of its own.
    count
        How many.
    executor
        Where they run; by default a pool of fresh processes that ends with `close`.
    """

    def __init__(self, problem: Problem, seed: int, count: int, executor: Executor | None = None) -> None:
        self._problem, self._seed = problem, seed
        self._own: ProcessPoolExecutor | None = None
        self._flag: Event | None = None
        self._key = f"{os.getpid()}-{id(self)}-{time.time_ns()}"
        if executor is None and count > 0:
            self._own, self._flag = pool(count)
            executor = self._own
        self._executor = executor
        self._futures: dict[int, Future[Layout]] = {}
        self._waiting = list(range(1, count + 1))

    def exchange(self, best: Layout) -> Layout:
        """The best that helpers have found since; those who are done go on from what is best now.

        The first call starts them, so that they do not hold up the first layouts.
        """
        while self._waiting:
            self._submit(self._waiting.pop(), best)
        for number, future in list(self._futures.items()):
            if not future.done():
                continue
            del self._futures[number]
            try:
                found = future.result()
            except BrokenExecutor:
                # A helper that was killed is no reason to give up: the search here goes on.
                continue
            best = min(best, found, key=lambda layout: layout.length)
            self._submit(number, best)
        return best

    def _submit(self, number: int, start: Layout) -> None:
        if self._executor is None:
            return
        try:
            with begun_apart():
                self._futures[number] = self._executor.submit(
                    advance, self._key, self._problem, start, self._seed + 7919 * number, SPELL
                )
        except (BrokenExecutor, RuntimeError):
            self._executor = None

    def close(self) -> None:
        """Tell the helpers to stop; they do within moments, and the process does not end before them."""
        if self._flag is not None:
            self._flag.set()
        for future in self._futures.values():
            future.cancel()
        if self._own is not None:
            # The thread keeps the flag alive for helpers that are only now starting.
            threading.Thread(target=self._end).start()

    def _end(self) -> None:
        assert self._own is not None
        self._own.shutdown(wait=True, cancel_futures=True)


def advance(key: str, problem: Problem, start: Layout, seed: int, seconds: float) -> Layout:
    """Go on with a search for some seconds, from a layout if it is better than its own; its best.

    Called in another process (or thread), which keeps its search from call to call.
    """
    if told_to_stop():
        return start
    from nesting.search.rounds import Rounds
    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

    own = key, threading.get_ident()
    search = _searches.get(own)
    if search is None:
        for old in [other for other in _searches if other[0] != key]:
            del _searches[old]
        shapes = Shapes(problem)
        search = _searches[own] = Rounds(shapes, NoFit(shapes), start, seed)
    elif start.length < search.best.length:
        search.best = start
    end = time.monotonic() + seconds
    for _ in search.rounds():
        if time.monotonic() > end or told_to_stop():
            break
    return search.best


def told_to_stop() -> bool:
    """Whether this process is a helper, and has been told to stop."""
    return _stop is not None and _stop.is_set()


def pool(count: int) -> tuple[ProcessPoolExecutor, Event]:
    """Processes that end with this one, begun one by one as work is submitted, and the flag that tells them to stop.

    Work is submitted within `begun_apart`.
    """
    import multiprocessing

    context = multiprocessing.get_context("spawn")
    with begun_apart():
        flag = context.Event()
        return ProcessPoolExecutor(count, context, initializer=begin, initargs=(flag,)), flag


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
