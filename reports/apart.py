"""A file from outside, read in a process of its own, within limits: for the page and for the command line.

A small file can ask for minutes of work and for all memory, and be sound all the same. So whoever wants it read only
waits for what another process says of it. Nothing heavy is imported before.
"""

from __future__ import annotations

import gc
import re
import signal
import sys
import time
import traceback
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

HearStep = Callable[[bytes], None]
"""Is told what is done now."""

LONGEST_START = 60.0
"""Seconds in which the process must have begun."""

SLOWEST = 12
"""Times its processor time that a reading may take by the clock, on a machine that has more to do."""

LARGEST_ANSWER = 400_000_000
"""Bytes of what the process says."""

OBJECTS = 100_000
"""New objects after which Python looks for cycles: there are hardly any, and looking took 8 % of `buy`."""

ENDING = 0.4
"""Seconds of the processor that are kept for the end: to hand over what was read, and to tell of it."""


class ReadingLimits(NamedTuple):
    """What a file may take: seconds of the processor in all, and bytes of memory beside what any file takes."""

    seconds: int = 5
    memory: int = 200_000_000


LIMITS = ReadingLimits()


class ApartReading(NamedTuple):
    """How a file is read apart.

    Parameters
    ----------
    read
        A function of a module, called in the process with the file, with what is `given`, and with what it tells each
        step to; it returns bytes.
    begin
        Called there before memory is limited: for what is large by itself, such as libraries.
    advice
        What to do where the file takes too much.
    spent
        Seconds of the processor that were taken before, which count as well.
    is_copy
        Whether the process begins as a copy of this one, which must have no threads, and have loaded what it takes.
    """

    read: Callable[[Path, Any, HearStep], bytes]
    given: Any
    limits: ReadingLimits
    advice: str
    begin: Callable[[], None] | None = None
    spent: float = 0.0
    is_copy: bool = False


def read_apart(path: Path, how: ApartReading, tell: HearStep | None = None) -> bytes:
    """What `how.read` returns, called in a process of its own; `tell` hears of each step.

    Raises
    ------
    OverLimitError
        If it takes more than the limits.
    RuntimeError
        If the reading has a fault; its trace is on standard error.
    """
    import multiprocessing

    from nesting.processes import begun_apart
    from reports.errors import OverLimitError

    context: Any = multiprocessing.get_context("fork" if how.is_copy else "spawn")
    with begun_apart(is_copy=how.is_copy), warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of threads, which numpy has ended by then
        pipe, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_serve, args=(theirs, path, how, pipe if how.is_copy else None), daemon=True)
        process.start()
    theirs.close()
    try:
        if not pipe.poll(LONGEST_START):
            raise TimeoutError("a process that reads a file did not begin")
        pipe.recv_bytes()  # it has begun
        end, said = time.monotonic() + SLOWEST * how.limits.seconds, _STEP
        while said[:1] == _STEP:
            if not pipe.poll(max(0.0, end - time.monotonic())):
                raise OverLimitError(_too_long(path, how))
            said = pipe.recv_bytes(LARGEST_ANSWER)
            if said[:1] == _STEP and tell is not None:
                tell(said[1:])
    except EOFError:
        process.join()
        is_late = process.exitcode in (-getattr(signal, "SIGPROF", 0), -getattr(signal, "SIGXCPU", 0))
        raise OverLimitError(_too_long(path, how) if is_late else _too_large(path, how)) from None
    finally:
        process.kill()
        process.join()
        pipe.close()
    kind, said = said[:1], said[1:]
    if kind == _LARGE:
        raise OverLimitError(_too_large(path, how))
    if kind == _FAILED:
        raise RuntimeError(f"reading {path.name} failed: {said.decode()}")
    return said


_STEP, _READ, _LARGE, _FAILED = b"S", b"R", b"L", b"F"
"""What the first byte says of a message."""


def _too_long(path: Path, how: ApartReading) -> str:
    return f"{path.name} takes more than {how.limits.seconds} s to read: {how.advice}"


def _too_large(path: Path, how: ApartReading) -> str:
    return f"{path.name} takes more than {how.limits.memory // 1_000_000} MB of memory to read: {how.advice}"


def _serve(pipe: Connection, path: Path, how: ApartReading, other_end: Connection | None) -> None:
    """In the process: say that it has begun, read the file, and say what it holds."""
    from nesting.processes import listen

    listen()
    if other_end is not None:
        other_end.close()  # else it would wait for ever for a reader that has gone
    gc.set_threshold(OBJECTS)
    if how.begin is not None:
        how.begin()
    _limit(how.limits, how.spent)
    sys.unraisablehook = _say_nothing  # where memory ends, Python tells of what it could not tidy up
    pipe.send_bytes(b"begun")
    try:
        said = _READ + how.read(path, how.given, lambda step: pipe.send_bytes(_STEP + step))
    except Exception as error:
        words = str(error)
        if isinstance(error, MemoryError) or "bad_alloc" in words or "Insufficient memory" in words:  # as C++ says it
            said = _LARGE
        else:
            traceback.print_exc()
            said = _FAILED + repr(error).encode()
    pipe.send_bytes(said)


def _say_nothing(_: Any) -> None:
    pass


def _limit(limits: ReadingLimits, spent: float) -> None:
    """Hold this process to its limits; what was spent before counts. Where none can be set, only the clock does."""
    try:
        import resource
    except ImportError:
        return
    used = resource.getrusage(resource.RUSAGE_SELF)
    begun = used.ru_utime + used.ru_stime
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    left = max(limits.seconds - begun - spent - ENDING, limits.seconds / 2)  # half of it, however slow the beginning
    signal.setitimer(signal.ITIMER_PROF, left)  # to the millisecond
    seconds = int(begun) + 2 + limits.seconds
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    try:
        status = Path("/proc/self/status").read_text()
    except OSError:
        return
    held = re.search(r"^VmData:\s*(\d+) kB", status, re.MULTILINE)
    if held:
        # Not the address space, of which threads and libraries reserve far more than they use.
        most = int(held[1]) * 1024 + limits.memory
        resource.setrlimit(resource.RLIMIT_DATA, (most, most))
