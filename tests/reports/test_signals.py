"""Ctrl-C and SIGTERM at any moment: one line, the code of the signal, no half file, no process left."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
from signal import Signals
from typing import TYPE_CHECKING, Any

import pytest

from reports.signals import ENDED
from tests.make.interrupting import COMMANDS, interrupt

if TYPE_CHECKING:
    from collections.abc import Iterator

MOMENTS = (
    ("draft", signal.SIGTERM, 0.0, False),
    ("buy", signal.SIGINT, 0.2, True),
    ("widths", signal.SIGINT, 0.9, True),
    ("buy", signal.SIGTERM, 1.2, False),
    ("import", signal.SIGINT, 0.05, True),
    ("buy as data", signal.SIGINT, 0.1, False),
    ("fits", signal.SIGTERM, 0.4, True),
    ("chart", signal.SIGTERM, 1.5, True),
    ("chart in one process", signal.SIGTERM, 0.6, False),
    ("draft", signal.SIGINT, 0.7, False),
    ("run", signal.SIGINT, 1.0, True),
    ("serve", signal.SIGINT, 0.5, True),
    ("draft", signal.SIGHUP, 0.2, False),
    ("chart", signal.SIGHUP, 1.5, True),
)
"""Command, signal, seconds after the command began, and whether all its processes get the signal."""


def moment(number: int) -> tuple[str, Signals, float, bool]:
    """One of those above, or after them one at random."""
    if number < len(MOMENTS):
        return MOMENTS[number]
    rng = random.Random(number)
    return (
        rng.choice(list(COMMANDS)),
        rng.choice((signal.SIGINT, signal.SIGTERM)),
        rng.uniform(0, 2),
        rng.random() < 0.5,
    )


@pytest.mark.generated(3)
def test_any_moment(numbers: Iterator[Any]) -> None:
    """A signal so many seconds after a command began, while it imports, starts processes, searches or writes.

    By how long each command takes: ``python -m tests.make.interrupting 300``.
    """
    for number in numbers:
        command, signalled, after, group = moment(number)
        ended = interrupt(command, signalled, after, group=group)
        said = f"{number}, {command}, {signalled!r} after {after} s: {ended.faults}: {ended.err}"
        assert not ended.faults, said
        assert ended.code in (0, 128 + signalled) or (command, ended.code) == ("fits", 1), said


def test_twice() -> None:
    """A second signal ends a search at once, and its best is lost; one line says so all the same."""
    ended = interrupt("buy", signal.SIGINT, 0.6, again=0.05)
    assert not ended.faults, f"{ended.faults}: {ended.err}"
    assert ended.code == 128 + signal.SIGINT


def test_in_the_midst_of_an_import() -> None:
    """A signal while the module of files is being imported, and has no names yet: still the one line."""
    code = (
        "import os, signal, sys, types\n"
        "from reports.signals import answer_signals, end\n"
        "answer_signals(end)\n"
        "sys.modules['reports.output'] = types.ModuleType('reports.output')\n"
        "sys.modules['multiprocessing'] = types.ModuleType('multiprocessing')\n"
        "os.kill(os.getpid(), signal.SIGINT)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (130, f"{ENDED}\n")
