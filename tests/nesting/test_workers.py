"""Searches side by side."""

import multiprocessing
import time
from concurrent.futures import ThreadPoolExecutor

from nesting.opinion import check
from nesting.solver import solve
from nesting.stop import MaxIterations, MaxRuntime
from tests.nesting.jigsaw import jigsaw


def test_helpers_end_with_the_search():
    """Two workers give a sound marker, and no process is left shortly after."""
    result = solve(jigsaw(100.0, 140.0, 14, seed=3), MaxRuntime(4.0), workers=2)
    check(result.marker)
    end = time.monotonic() + 30
    while multiprocessing.active_children() and time.monotonic() < end:
        time.sleep(0.05)
    assert not multiprocessing.active_children()


def test_helpers_that_have_not_begun_end_too():
    """A search that stops while its helpers are still starting leaves none behind."""
    solve(jigsaw(100.0, 140.0, 14, seed=3), MaxIterations(30), workers=2)
    end = time.monotonic() + 30
    while multiprocessing.active_children() and time.monotonic() < end:
        time.sleep(0.05)
    assert not multiprocessing.active_children()


def test_any_executor_will_do():
    """Helpers run as well in a thread pool handed in, which stays open for its owner."""
    with ThreadPoolExecutor(1) as executor:
        result = solve(jigsaw(100.0, 140.0, 14, seed=3), MaxRuntime(3.0), workers=2, executor=executor)
        check(result.marker)
        assert executor.submit(lambda: 5).result() == 5
