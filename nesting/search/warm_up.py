"""The kernels made ready beside other work: imported, compiled where this machine has not done so yet."""

from __future__ import annotations

import threading
import time
from functools import cache
from itertools import islice
from typing import TYPE_CHECKING, Literal

from nesting.problem.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.search.listener import Listener

NOTE_AFTER = 2.5
"""Seconds after which a person is told what is being waited for."""

LOOK_EVERY = 0.02
"""Seconds between two looks at whether the kernels are ready."""

ROUNDS = 12
"""Steps of a tiny search that go through all kernels."""


@cache
def begin() -> threading.Thread:
    """Start making the kernels ready; once a process, however often it is called.

    Whoever does not wait leaves the thread to its work, so that the next run finds the kernels compiled.
    """
    thread = threading.Thread(target=_run_all_kernels)
    thread.start()
    return thread


def wait(thread: threading.Thread, listener: Listener) -> Iterator[Literal["waiting"]]:
    """Yield many times a second until the kernels are ready."""
    began, told = time.monotonic(), False
    while thread.is_alive():
        thread.join(LOOK_EVERY)
        if not told and time.monotonic() - began > NOTE_AFTER:
            told = True
            listener.on_note("preparing the search for the first time on this machine (about 10 s)…")
        yield "waiting"


def _run_all_kernels() -> None:
    """Lay a few triangles."""
    from nesting.search.fill import fill, orders
    from nesting.search.rounds import Rounds
    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

    shapes = Shapes(Problem.from_outlines(3.0, [[[0, 0], [2, 0], [0, 2]]], [6], [[0.0, 180.0]]))
    nofit = NoFit(shapes)
    search = Rounds(shapes, nofit, fill(shapes, nofit, next(orders(shapes, 0))), 0)
    for _ in islice(search.rounds(), ROUNDS):
        pass
