"""Proving on from what was found: it never gets worse, repeats, and ends when it is asked to."""

from __future__ import annotations

import signal
import threading
import time
from typing import TYPE_CHECKING

import numpy as np

from nesting.placing.question import HELD
from nesting.problem.problem import Problem
from nesting.search.listener import Listener
from nesting.search.prove import prove_on
from nesting.search.solver import solve
from nesting.search.stop import Interrupted, MaxIterations
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from nesting.marker.marker import Marker


def test_known_to_the_millimetre() -> None:
    """Of parts that fill 400 mm with a step cut off, the shortest marker is found and proved to a millimetre or two."""
    first = solve(jigsaw(300.0, 400.0, 4, 3), MaxIterations(0))
    found = prove_on(first, 30.0)
    assert found.bound <= 400.0 + 1e-6
    assert found.marker.length - found.bound < 3.0
    assert found.bound_held == HELD or found.bound == first.bound
    assert found.marker.length <= first.marker.length


def test_it_repeats_and_never_gets_worse() -> None:
    """The same effort comes to the same; what was proved before holds still, and no effort changes nothing."""
    first = solve(jigsaw(300.0, 400.0, 5, 7), MaxIterations(0))
    one, two, none = (prove_on(first, effort) for effort in (0.5, 0.5, 0.0))
    assert (one.marker.length, one.bound) == (two.marker.length, two.bound)
    assert one.bound >= first.bound and one.marker.length <= first.marker.length
    assert (none.marker, none.bound, none.stopped_by) == (first.marker, first.bound, first.stopped_by)


def test_a_purchase_is_settled_first() -> None:
    """Once a length worth reaching is out of reach, proved, it looks no longer than a while at all others."""
    first = solve(jigsaw(300.0, 400.0, 5, 7), MaxIterations(0))
    found = prove_on(first, 30.0, aims=lambda length: 350.0)
    assert found.bound > 350.0


def test_what_is_proved_is_told() -> None:
    """A listener hears of the marker that there is, then of each bound and each shorter marker, in their order."""
    bounds: list[float] = []
    lengths: list[float] = []

    class Hears(Listener):
        def on_bound(self, length: float) -> None:
            bounds.append(length)

        def on_best(self, marker: Marker) -> None:
            lengths.append(marker.length)

    wedges = [np.array([(0, 0), (100, 0), (100, 30), (0, 60)]) * size for size in (1.0, 1.3, 1.7)]
    first = solve(Problem.from_outlines(120.0, wedges, [1] * 3, [[0.0]] * 3), MaxIterations(0))
    found = prove_on(first, 10.0, listener=Hears())
    assert bounds and bounds == sorted(set(bounds)) and (first.bound < bounds[0], bounds[-1]) == (True, found.bound)
    assert lengths == sorted(set(lengths), reverse=True) and lengths[0] == first.marker.length


def test_it_ends_when_asked() -> None:
    """A stop from another thread is heard within moments, and its reason is kept."""
    asked, first = Interrupted(), solve(jigsaw(900.0, 1200.0, 13, 4), MaxIterations(0))
    threading.Timer(1.0, asked.set).start()
    began = time.monotonic()
    found = prove_on(first, stop=asked)
    assert found.stopped_by == "interrupt"
    assert time.monotonic() - began < 20.0


def test_an_interrupt_from_the_keyboard_ends_it_with_its_answer() -> None:
    """Ctrl-C in the middle: what is known by then comes back, and says why it ended."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background jobs ignore it
    first = solve(jigsaw(900.0, 1200.0, 13, 4), MaxIterations(0))
    threading.Timer(1.0, signal.raise_signal, [signal.SIGINT]).start()
    began = time.monotonic()
    try:
        found = prove_on(first, 300.0)  # not without end, lest the interrupt is lost
    finally:
        signal.signal(signal.SIGINT, before)
    assert (found.stopped_by, found.marker.problem) == ("interrupt", first.marker.problem)
    assert time.monotonic() - began < 20.0
