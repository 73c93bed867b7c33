"""Searches side by side."""

from __future__ import annotations

import multiprocessing
import os
import re
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from nesting.marker.opinion import check
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations, MaxRuntime
from tests.make.jigsaw import jigsaw


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
