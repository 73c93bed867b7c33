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
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

ENDING = (signal.SIGINT, signal.SIGTERM, *([signal.SIGHUP] if hasattr(signal, "SIGHUP") else []))
"""Signals by which a person, or the system, asks a program to end."""

SILENT = "ignore:resource_tracker:UserWarning"
"""So that Python's own helper, which removes what a killed program leaves behind, does so without a word on stderr."""


@contextmanager
def begun_apart(*, is_copy: bool = False) -> Iterator[None]:
    """Begin processes within: they hold back the signals that end programs until `listen`.

    Such a signal to this process waits until the block has ended: no process is lost sight of half begun.

    Parameters
    ----------
    is_copy
        Whether they are copies of this one (forked), for which Python's own helper need not run.
    """
    with _waiting(needs_helper=not is_copy), _without_script():
        yield


def can_copy() -> bool:
    """Whether a process can begin as a copy of this one: a copy has none of its threads, and waits for them for ever.

    OpenCV has threads that Python does not know of.
    """
    return sys.platform == "linux" and threading.active_count() == 1 and "cv2" not in sys.modules


def listen() -> None:
    """In a process begun so: ignore Ctrl-C and SIGHUP, which its parent answers, and end at SIGTERM as usual."""
    for number in ENDING:
        signal.signal(number, signal.SIG_DFL if number == signal.SIGTERM else signal.SIG_IGN)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, ENDING)


@contextmanager
def _waiting(*, needs_helper: bool) -> Iterator[None]:
    from multiprocessing import resource_tracker

    came: list[int] = []
    is_main = threading.current_thread() is threading.main_thread()
    heard = [number for number in ENDING if is_main and signal.getsignal(number) is not signal.SIG_IGN]
    before = {number: signal.signal(number, lambda n, _: came.append(n)) for number in heard}
    mask = _held_back()
    if needs_helper and hasattr(resource_tracker, "ensure_running"):
        sys.warnoptions.append(SILENT)  # it takes its parent's, and what is held back: SIGHUP would end it
        resource_tracker.ensure_running()
        sys.warnoptions.remove(SILENT)
        _held_back()  # it has let signals through once more
    try:
        yield
    finally:
        if mask is not None:
            signal.pthread_sigmask(signal.SIG_SETMASK, mask)
        for number, handler in before.items():
            signal.signal(number, signal.SIG_DFL if handler is None else handler)
        for missed in came:
            signal.raise_signal(missed)


def _held_back() -> Any:
    """Hold back the signals that end programs; those held back before."""
    return signal.pthread_sigmask(signal.SIG_BLOCK, ENDING) if hasattr(signal, "pthread_sigmask") else None


@contextmanager
def _without_script() -> Iterator[None]:
    script = sys.modules["__main__"]
    sys.modules["__main__"] = ModuleType("__main__")
    try:
        yield
    finally:
        sys.modules["__main__"] = script
