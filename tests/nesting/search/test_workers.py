"""Searches side by side."""

from __future__ import annotations

import multiprocessing
import os
import re
import signal
import subprocess
import sys
import time
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from nesting.marker.opinion import check
from nesting.search.fill import fill, orders
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations, MaxRuntime
from nesting.search.workers import DIED, Helpers
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.problem.problem import Problem
    from nesting.shape.layout import Layout


def test_helpers_end_with_the_search() -> None:
    """Two workers give a sound marker, and no process is left shortly after."""
    result = solve(jigsaw(100.0, 140.0, 14, seed=3), MaxRuntime(4.0), workers=2)
    check(result.marker)
    end = time.monotonic() + 30
    while multiprocessing.active_children() and time.monotonic() < end:
        time.sleep(0.05)
    assert not multiprocessing.active_children()


def test_helpers_that_have_not_begun_end_too() -> None:
    """A search that stops while its helpers are still starting leaves none behind."""
    solve(jigsaw(100.0, 140.0, 14, seed=3), MaxIterations(30), workers=2)
    end = time.monotonic() + 30
    while multiprocessing.active_children() and time.monotonic() < end:
        time.sleep(0.05)
    assert not multiprocessing.active_children()


@pytest.mark.parametrize("way", ["on standard input", "as a file without a guard"])
def test_scripts(tmp_path: Path, way: str) -> None:
    """Helpers begin whatever the script is like that asks for them: nothing is said on stderr, and it runs once."""
    script = (
        "from nesting.search.solver import solve\nfrom nesting.search.stop import NoImprovement\n"
        "from tests.make.jigsaw import jigsaw\n"
        "import multiprocessing, time\n"
        "class Stop(NoImprovement):\n"
        "    def __call__(self, best):\n"
        "        self.most = max(getattr(self, 'most', 0), len(multiprocessing.active_children()))\n"
        "        return self.most > 0 or time.monotonic() > end\n"  # a busy machine is slow to begin
        "end = time.monotonic() + 60\n"
        "stop = Stop(1)\n"
        "result = solve(jigsaw(97.0, 140.0, 40, seed=3), stop, workers=2)\n"
        "print(len(result.marker.placements), stop.most)\n"
    )
    path = tmp_path / "script.py"
    path.write_text(script)
    command = [sys.executable, "-" if way == "on standard input" else str(path)]
    root = str(Path(__file__).parents[3])
    with path.open() as file:
        said = subprocess.run(
            command, stdin=file, capture_output=True, text=True, timeout=120, env=os.environ | {"PYTHONPATH": root}
        )
    assert (said.returncode, said.stdout, said.stderr) == (0, "41 1\n", "")


def test_ended_without_unwinding() -> None:
    """A program that ends at once, with the locks of its helpers unfreed, leaves no word of Python's own on stderr."""
    script = (
        "import multiprocessing, os\n"
        "from nesting.processes import begun_apart\n"
        "with begun_apart():\n"
        "    lock = multiprocessing.get_context('spawn').Lock()\n"
        "os._exit(3)\n"
    )
    said = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60)
    assert (said.returncode, said.stderr) == (3, "")


def test_a_closed_terminal_ends_no_helper_of_python() -> None:
    """Python's own helper, which SIGHUP would end and whose next one would know of no lock, holds that signal back."""
    script = (
        "from multiprocessing import resource_tracker\n"
        "from nesting.processes import begun_apart\n"
        "with begun_apart():\n"
        "    pass\n"
        "print(open(f'/proc/{resource_tracker._resource_tracker._pid}/status').read())\n"
    )
    said = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60).stdout
    held = re.search(r"SigBlk:\s*(\w+)", said)
    assert held is not None
    assert int(held[1], 16) & 1 << (signal.SIGHUP - 1)


def test_any_executor_will_do() -> None:
    """Helpers run as well in a thread pool handed in, which stays open for its owner."""
    with ThreadPoolExecutor(1) as executor:
        result = solve(jigsaw(100.0, 140.0, 14, seed=3), MaxRuntime(3.0), workers=2, executor=executor)
        check(result.marker)
        assert executor.submit(lambda: 5).result() == 5


class AtOnce(Executor):
    """An executor without processes: what is submitted is done at once, by a stand-in, or never."""

    def __init__(self, lengths: list[float]) -> None:
        self.lengths, self.starts = lengths, list[float]()

    def submit(self, _: Callable[..., Any], /, *args: Any, **__: Any) -> Future[Any]:
        """A layout as long as the next number says, or a helper that is lost where that is 0."""
        start: Layout = args[2]
        self.starts.append(start.length)
        future: Future[Any] = Future()
        if not self.lengths:
            return future
        layout = start.copy()
        layout.length = self.lengths.pop(0)
        if layout.length:
            future.set_result(layout)
        else:
            future.set_exception(BrokenExecutor())
        return future


def jigsaw_start() -> tuple[Problem, Layout]:
    """A problem and its first layout, 200 mm long by its own word."""
    problem = jigsaw(100.0, 140.0, 14, seed=3)
    shapes = Shapes(problem)
    start = fill(shapes, NoFit(shapes), next(orders(shapes, 0)))
    start.length = 200.0
    return problem, start


def test_helpers_that_keep_apart_go_on_from_their_own() -> None:
    """Apart, a helper at 180 mm goes on from there although 160 mm is known; together, it goes on from 160 mm."""
    problem, start = jigsaw_start()
    executor = AtOnce([180.0, 170.0, 165.0])
    helpers = Helpers(problem, 0, 1, executor)
    best = start.copy()
    best.length = 160.0
    assert helpers.exchange(start, 0.5).length == 180.0
    assert helpers.exchange(best, 0.8).length == 160.0
    assert executor.starts == [200.0, 180.0, 160.0]


def test_a_helper_that_dies_is_told_of_once_and_the_others_go_on() -> None:
    """Of two helpers one is lost: the listener hears one sentence, and the other's layouts still come."""
    problem, start = jigsaw_start()
    said: list[str] = []
    helpers = Helpers(problem, 0, 2, AtOnce([0.0, 190.0, 180.0, 170.0]), said.append)
    found = [helpers.exchange(start, 0.5).length for _ in range(3)]
    assert found == [190.0, 180.0, 170.0]
    assert said == [DIED]


def test_a_process_killed_from_outside_takes_no_other_along() -> None:
    """Of two helper processes one is killed: a note says so, the other works on, and the marker is sound."""
    problem = jigsaw(100.0, 140.0, 14, seed=3)

    class Listening(Listener):
        """Kills the first helper there is, and keeps what is said."""

        said: list[str] = []  # noqa: RUF012 - of this one test.
        killed = False
        after = 0.0

        def on_step(self, _: float, seconds: float) -> None:
            children = multiprocessing.active_children()
            if len(children) == 2 and not self.killed:
                self.killed = True
                os.kill(children[0].pid or 0, signal.SIGKILL)

        def on_note(self, text: str) -> None:
            self.said.append(text)

    hears = Listening()
    end = time.monotonic() + 60

    def stop(_: float) -> bool:
        return DIED in hears.said or time.monotonic() > end

    result = solve(problem, stop, workers=3, listener=hears)
    check(result.marker)
    assert hears.said.count(DIED) == 1
