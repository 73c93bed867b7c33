"""A process that searches: started once, kept warm, told to stop, and ended if it does not."""

from __future__ import annotations

import json
import multiprocessing
import os
import threading
import time
import traceback
from typing import TYPE_CHECKING, Any, Protocol

from nesting.processes import begun_apart

if TYPE_CHECKING:
    from collections.abc import Callable
    from multiprocessing.connection import Connection
    from multiprocessing.synchronize import Event

    from reports.page.search import Search

LONGEST = 900.0
"""Seconds after which a search is told to stop."""

GRACE = 60.0
"""Seconds that it then has to hand over its best: a run is still planned of the markers that are there."""

LOOK_EVERY = 0.05
"""Seconds between two looks at whether a search is to stop."""

LONGEST_START = 60.0
"""Seconds that a process may take to start."""

NICE = 10
"""By how much a search gives way to the page, which answers beside it."""

NICE_FIRST = 5
"""The same of a process for first layouts, which somebody waits for."""

READY = "ready", None
"""What a process says first."""

LATER = "later", None
"""What it says of a search that gave way to others."""


class GivesWay(Exception):  # noqa: N818
    """A search shows a first layout, and others still wait for one: it is done later."""


class SearchTask(Protocol):
    """The work itself, done in another process: must be a function that can be imported."""

    def __call__(
        self,
        kind: str,
        payload: dict[str, Any],
        emit: Callable[[dict[str, Any]], None],
        told_to_stop: Callable[[], bool],
    ) -> dict[str, Any]:
        """Do it; its result, or the best so far once told to stop."""


class Check(Protocol):
    """A look at what is asked for, before it waits for its turn; raises what is wrong with it."""

    def __call__(self, kind: str, payload: dict[str, Any]) -> object:
        """Look at it."""


def default_check(kind: str, payload: dict[str, Any]) -> object:
    """Check a job or an order, and the options."""
    from reports.page.searches.work import task_of

    return task_of(kind, payload)


def default_task(
    kind: str, payload: dict[str, Any], emit: Callable[[dict[str, Any]], None], told_to_stop: Callable[[], bool]
) -> dict[str, Any]:
    """The searches of ellwand; imported only in the process that runs them."""
    from reports.page.searches.work import run_task

    return run_task(kind, payload, emit, told_to_stop)


class Worker:
    """One process, and what is said to it.

    Parameters
    ----------
    task
        What it does.
    longest, grace
        Seconds a search may take, and seconds it has to stop.
    nice
        By how much it gives way to the page.
    hurry
        Set while somebody waits for a first layout.
    """

    def __init__(
        self,
        task: SearchTask,
        longest: float = LONGEST,
        grace: float = GRACE,
        *,
        nice: int = NICE,
        hurry: Event | None = None,
    ) -> None:
        self._task, self._longest, self._grace, self._nice = task, longest, grace, nice
        self._hurry = hurry or multiprocessing.get_context("spawn").Event()
        self._is_closed = False
        self._start()

    def _start(self) -> None:
        context = multiprocessing.get_context("spawn")
        with begun_apart():
            self._stop: Event = context.Event()
            self._pipe, theirs = context.Pipe()
            # No daemon: a search may have helpers of its own. It ends with its parent all the same (workers.begin).
            told = theirs, self._stop, self._hurry, self._task, self._nice
            self._process = context.Process(target=_serve, args=told)
            self._process.start()
        self._is_ready = False
        theirs.close()

    def run(self, search: Search) -> None:
        """Do a search, to its end, whatever that is, or until it gives way: then it has not ended."""
        if not self._process.is_alive():
            self._start()
        try:
            self._wait_until_ready()
            self._stop.clear()
            if search.state != "running":
                search.turn("running")
            self._pipe.send((search.kind, search.payload, search.may_give_way))
            self._follow(search)
        except (EOFError, OSError):
            self._end()
            search.turn("failed", error="the search ended without an answer: try again with less effort")

    def _wait_until_ready(self) -> None:
        """Wait for a fresh process, which is not the fault of the search that is waiting for it."""
        end = time.monotonic() + LONGEST_START
        while not self._is_ready:
            if self._pipe.poll(LOOK_EVERY):
                self._is_ready = self._pipe.recv() == READY
            elif self._is_closed or time.monotonic() > end:
                raise EOFError

    def _follow(self, search: Search) -> None:
        """Pass on what the process says, until the search has ended or has to be ended."""
        deadline, told = time.monotonic() + self._longest, False
        while True:
            if self._pipe.poll(LOOK_EVERY):
                what, value = self._pipe.recv()
                if what == "progress":
                    search.tell(value)
                elif what == LATER[0]:
                    return
                else:
                    result, error = (value, None) if what == "done" else (None, value)
                    search.turn("stopped" if told else what, result, error)
                    return
            now = time.monotonic()
            if not told and (self._is_closed or search.is_stop_asked or now > deadline):
                self._stop.set()
                told, deadline = True, now + self._grace
            elif told and now > deadline:
                self._end()
                search.turn("failed", error="the search did not stop in time and was ended: try again with less effort")
                return

    @property
    def is_alive(self) -> bool:
        """Whether its process is there."""
        return self._process.is_alive()

    def ask_to_end(self) -> None:
        """Let the search that runs stop, and the process end after it."""
        self._is_closed = True

    def close(self) -> None:
        """End the process, at once."""
        self._is_closed = True
        self._kill()

    def _end(self) -> None:
        self._kill()
        self._pipe.close()

    def _kill(self) -> None:
        self._process.terminate()
        self._process.join(2)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()


def _serve(pipe: Connection, stop: Event, hurry: Event, task: SearchTask, nice: int) -> None:
    """In the process: one search after another, until the pipe is closed."""

    def emit(data: dict[str, Any]) -> None:
        pipe.send(("progress", _plain(data)))
        if may_give_way and "layout" in data and hurry.is_set():
            raise GivesWay

    from nesting.search.workers import begin

    begin(stop)
    if hasattr(os, "nice"):
        os.nice(nice)
    pipe.send(READY)
    if task is default_task and nice < NICE:
        _rehearse(pipe.poll)
    elif task is default_task:
        threading.Thread(target=_make_ready, daemon=True).start()
    while True:
        try:
            kind, payload, may_give_way = pipe.recv()
        except (EOFError, OSError):
            return
        try:
            answer: tuple[str, Any] = "done", _plain(task(kind, payload, emit, stop.is_set))
        except GivesWay:
            answer = LATER
        except Exception as error:
            answer = "failed", _said(error)
        pipe.send(answer)


def _plain(data: dict[str, Any]) -> Any:
    """What JSON makes of it; better an error here than in the server."""
    return json.loads(json.dumps(data, allow_nan=False))


def _make_ready() -> None:
    """Import what searches need, and compile its kernels, so that the first search need not wait."""
    from nesting.search import warm_up as prepare

    prepare.begin()
    import reports.page.searches.work  # noqa: F401


def _rehearse(told_to_stop: Callable[[], bool]) -> None:
    """Do a search that nobody asked for: the first that somebody waits for finds all loaded and at hand."""
    from reports.page.searches.work import rehearse

    rehearse(told_to_stop)


def _said(error: Exception) -> str:
    """One line on what went wrong: a person's mistake in its own words, ours with its trace on stderr."""
    from nesting.errors import CheckError, NestingError
    from pieces.errors import PieceError
    from reports.errors import ReportError
    from reports.one_line import one_line

    if isinstance(error, (PieceError, NestingError, ReportError)) and not isinstance(error, CheckError):
        return one_line(str(error))
    traceback.print_exception(error)
    return "something went wrong in ellwand itself: the terminal it was started from shows what"
