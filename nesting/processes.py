"""Processes begun beside this one: they hear none of its signals, and read none of its script.

A process begins by importing what it needs, for a second or so. A Ctrl-C goes to the whole group of processes, and
would end it there with a trace of its own on the screen. Python would also have it run the script that asked for it
once more, which cannot be read again where it came from standard input, and which begins processes without end where it
guards no ``__main__``. What is sent to these processes are our own functions and data, so they need neither.
"""

from __future__ import annotations

import signal
import sys
import threading
from contextlib import contextmanager
from types import ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

ENDING = (signal.SIGINT, signal.SIGTERM)
"""Signals by which a person, or the system, asks a program to end."""


@contextmanager
def begun_apart() -> Iterator[None]:
    """Begin processes within: they hold back the signals that end programs until `listen`.

    Such a signal to this process waits until the block has ended: no process is lost sight of half begun.
    """
    with _waiting(), _without_script():
        yield


def listen() -> None:
    """In a process begun so: ignore Ctrl-C, which its parent answers, and end at SIGTERM as usual."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, ENDING)


@contextmanager
def _waiting() -> Iterator[None]:
    from multiprocessing import resource_tracker

    came: list[int] = []
    is_main = threading.current_thread() is threading.main_thread()
    before = {number: signal.signal(number, lambda n, _: came.append(n)) for number in ENDING if is_main}
    if hasattr(resource_tracker, "ensure_running"):
        resource_tracker.ensure_running()  # which lets signals through once more when it begins
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, ENDING) if hasattr(signal, "pthread_sigmask") else None
    try:
        yield
    finally:
        if mask is not None:
            signal.pthread_sigmask(signal.SIG_SETMASK, mask)
        for number, handler in before.items():
            signal.signal(number, signal.SIG_DFL if handler is None else handler)
        for missed in came:
            signal.raise_signal(missed)


@contextmanager
def _without_script() -> Iterator[None]:
    script = sys.modules["__main__"]
    sys.modules["__main__"] = ModuleType("__main__")
    try:
        yield
    finally:
        sys.modules["__main__"] = script
