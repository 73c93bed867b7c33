"""The kernels made ready beside other work."""

import threading
import time

from nesting import prepare
from nesting.listener import Listener
from nesting.solver import solve
from nesting.stop import MaxIterations, MaxRuntime
from tests.nesting.jigsaw import jigsaw


def test_waiting_ends_when_the_thread_does():
    """While a thread runs there is something to wait for; once it has ended there is nothing."""
    gate = threading.Event()
    thread = threading.Thread(target=gate.wait)
    thread.start()
    waiting = prepare.wait(thread, Listener())
    assert next(waiting) == "waiting"
    gate.set()
    thread.join()
    # One more at most: the look that was under way.
    assert len(list(waiting)) <= 1
    assert list(prepare.wait(thread, Listener())) == []


def test_a_long_wait_is_explained_once(monkeypatch):
    """A person hears one note, however long it takes."""
    monkeypatch.setattr(prepare, "NOTE_AFTER", 0.0)
    notes = []
    listener = Listener()
    listener.on_note = notes.append
    gate = threading.Event()
    thread = threading.Thread(target=gate.wait)
    thread.start()
    waiting = prepare.wait(thread, listener)
    for _ in range(3):
        next(waiting)
    gate.set()
    thread.join()
    assert len(notes) == 1


def test_all_kernels_are_compiled_afterwards():
    """After the thread has ended, each kernel of the search holds compiled code."""
    from nesting.kernels import depth, gaps, raster

    prepare.begin().join()
    for kernel in (depth.depths, gaps.gaps, raster.lay, raster.sweeps):
        assert kernel.signatures


def blocked(seconds):
    """What stands in for `begin`: a thread that takes its time."""

    def begin():
        thread = threading.Thread(target=time.sleep, args=(seconds,))
        thread.start()
        return thread

    return begin


def test_a_clock_that_runs_out_meanwhile_ends_the_search(monkeypatch):
    """With 0.05 s to go and kernels not ready, the answer is the best of the plain layouts, stopped by time."""
    monkeypatch.setattr(prepare, "begin", blocked(1.0))
    result = solve(jigsaw(100.0, 140.0, 8, seed=1), MaxRuntime(0.05))
    assert result.stopped_by == "time"


def test_waiting_is_no_iteration(monkeypatch):
    """However long the kernels take, a stop by iterations gives the same marker after as many iterations."""
    problem = jigsaw(100.0, 140.0, 8, seed=1)
    results = []
    for seconds in (0.0, 0.3):
        monkeypatch.setattr(prepare, "begin", blocked(seconds))
        results.append(solve(problem, MaxIterations(30)))
    assert results[0].iterations == results[1].iterations == 30
    assert results[0].marker.placements == results[1].marker.placements
