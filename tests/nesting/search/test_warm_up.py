"""The kernels made ready beside other work."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Any

from nesting.search import warm_up as prepare
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations, MaxRuntime
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytest import MonkeyPatch


def test_waiting_ends_when_the_thread_does() -> None:
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


def test_a_long_wait_is_explained_once(monkeypatch: MonkeyPatch) -> None:
    """A person hears one note, however long it takes."""
    monkeypatch.setattr(prepare, "NOTE_AFTER", 0.0)
    notes: list[str] = []
    listener = Listener()
    monkeypatch.setattr(listener, "on_note", notes.append)
    gate = threading.Event()
    thread = threading.Thread(target=gate.wait)
    thread.start()
    waiting = prepare.wait(thread, listener)
    for _ in range(3):
        next(waiting)
    gate.set()
    thread.join()
    assert len(notes) == 1


def test_all_kernels_are_compiled_afterwards() -> None:
    """After the thread has ended, each kernel of the search holds compiled code."""
    from nesting.kernels import depth, gaps, raster

    prepare.begin().join()
    for kernel in (depth.depths, gaps.gaps, raster.lay, raster.sweeps):
        assert kernel.signatures  # type: ignore[attr-defined]


def test_an_install_that_cannot_be_written_to_keeps_its_kernels_elsewhere(tmp_path: Path) -> None:
    """With a plain file where a cache folder would go, compiled kernels go to the user's own cache folder."""
    import nesting

    shutil.copytree(Path(nesting.__file__).parent, tmp_path / "nesting", ignore=shutil.ignore_patterns("__pycache__"))
    # Being root, as in a container, makes any folder writable; a file in its place keeps everyone out.
    (tmp_path / "nesting" / "kernels" / "__pycache__").write_text("in the way")
    program = (
        "import numpy as np; from nesting.kernels.depth import depths;"
        "depths(np.ones((4, 4)), 0.0, 0.0, 1.0, np.ones((2, 2)))"
    )
    places = {name: str(tmp_path / "home") for name in ("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA")}
    subprocess.run(
        [sys.executable, "-B", "-c", program],
        check=True,
        cwd=tmp_path,
        env={**os.environ, **places, "PYTHONPATH": str(tmp_path)},
    )
    assert list((tmp_path / "home").rglob("depth.depths-*.nbi"))


def blocked(seconds: float) -> Callable[..., Any]:
    """What stands in for `begin`: a thread that takes its time."""

    def begin() -> Thread:
        thread = threading.Thread(target=time.sleep, args=(seconds,))
        thread.start()
        return thread

    return begin


def test_a_clock_that_runs_out_meanwhile_ends_the_search(monkeypatch: MonkeyPatch) -> None:
    """With 0.05 s to go and kernels not ready, the answer is the best of the plain layouts, stopped by time."""
    monkeypatch.setattr(prepare, "begin", blocked(1.0))
    result = solve(jigsaw(100.0, 140.0, 8, seed=1), MaxRuntime(0.05))
    assert result.stopped_by == "time"


def test_waiting_is_no_iteration(monkeypatch: MonkeyPatch) -> None:
    """However long the kernels take, a stop by iterations gives the same marker after as many iterations."""
    problem = jigsaw(100.0, 140.0, 8, seed=1)
    results = []
    for seconds in (0.0, 0.3):
        monkeypatch.setattr(prepare, "begin", blocked(seconds))
        results.append(solve(problem, MaxIterations(30)))
    assert results[0].iterations == results[1].iterations == 30
    assert results[0].marker.placements == results[1].marker.placements
