"""One file of patterns, or photos of some, read in a process of its own, within limits."""

from __future__ import annotations

import json
import multiprocessing
import os
import re
import signal
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from nesting.processes import begun_apart, listen
from pieces.errors import PieceError, SeveralSizesError
from pieces.exchange.learning import legend_after
from pieces.exchange.listing import listing
from pieces.exchange.own.plain import to_plain
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sized import SizedFile, read_sizes
from reports.page.answers.shown import shown_of
from reports.page.answers.traced import begin_tracing, traced_pieces
from reports.page.store.patterns import BY_THE_SHEET, PHOTOS, PhotoAsked

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from pieces.exchange.imported import Imported, ReadingChoices
    from pieces.exchange.own.sidecar import Sidecar

LONGEST_START = 60.0
"""Seconds in which the process must have begun."""

SLOWEST = 6
"""Times its processor time that a reading may take by the clock, on a machine that has more to do."""

LARGEST_ANSWER = 100_000_000
"""Bytes of what the process says."""

ADVICE = "export it with fewer points, or each piece as a file of its own; 'ellwand import' reads it without this limit"

PHOTO_ADVICE = "save it smaller, at 12 million pixels; 'ellwand trace' reads it without this limit"


class ReadingLimits(NamedTuple):
    """What reading a file may take: seconds of the processor, and bytes of memory beside what any file takes."""

    seconds: int = 5
    memory: int = 300_000_000


LIMITS = ReadingLimits()

PHOTO_SECONDS = 20
"""Of the processor, for each photo: the usual one takes 3."""

PHOTO_MEMORY = 60_000_000
"""Bytes for each further photo of one table: all of them are held at once."""

Tell = Callable[[dict[str, Any]], None]
"""Is told what is done now: words, and how many steps of how many are done."""


class ToRead(NamedTuple):
    """What the process that reads a file is given: how to read it, what is decided of it, and what else to do.

    `photos` are all files of it, if they are photos, `by` what those are measured by, `is_joined` whether they show
    parts of one table, `learns` whether a legend is made of what was decided, `compares` whether all sizes are read and
    compared.
    """

    asked: ReadingChoices
    told: Sidecar
    by: PhotoAsked = BY_THE_SHEET
    learns: bool = False
    compares: bool = False
    photos: tuple[str, ...] = ()
    is_joined: bool = False


def read_apart(path: Path, asked: ToRead, limits: ReadingLimits, tell: Tell | None) -> dict[str, Any]:
    """What a process of its own says of a file."""
    if many := len(asked.photos):
        memory = limits.memory + (many - 1) * PHOTO_MEMORY * asked.is_joined
        limits = ReadingLimits(many * max(limits.seconds, PHOTO_SECONDS), memory)
    context = multiprocessing.get_context("spawn")
    with begun_apart():
        pipe, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_serve, args=(theirs, path, asked, limits), daemon=True)
        process.start()
    theirs.close()
    try:
        if not pipe.poll(LONGEST_START):
            raise TimeoutError("a process that reads a file did not begin")
        pipe.recv_bytes()  # it has begun
        end = time.monotonic() + SLOWEST * limits.seconds
        said: dict[str, Any] = {"step": None}
        while "step" in said:
            if not pipe.poll(max(0.0, end - time.monotonic())):
                return {"refused": _too_long(path, limits)}
            said = json.loads(pipe.recv_bytes(LARGEST_ANSWER))
            if "step" in said and tell is not None:
                tell(said["step"])
    except EOFError:
        process.join()
        is_late = process.exitcode == -getattr(signal, "SIGXCPU", 0)
        return {"refused": _too_long(path, limits) if is_late else _too_large(path, limits)}
    finally:
        process.kill()
        process.join()
        pipe.close()
    if "failed" in said:
        raise RuntimeError(f"reading {path.name} failed: {said['failed']}")
    return said


def _too_long(path: Path, limits: ReadingLimits) -> str:
    return f"{path.name} takes more than {limits.seconds} s to read: {_advice(path)}"


def _too_large(path: Path, limits: ReadingLimits) -> str:
    return f"{path.name} takes more than {limits.memory // 1_000_000} MB of memory to read: {_advice(path)}"


def _advice(path: Path) -> str:
    return PHOTO_ADVICE if path.suffix[1:] in PHOTOS else ADVICE


def _serve(pipe: Connection, path: Path, given: ToRead, limits: ReadingLimits) -> None:
    """In the process: say that it has begun, read the file, and say what it holds."""
    listen()
    if path.suffix[1:] in PHOTOS:
        begin_tracing()
    _limit(limits)
    pipe.send_bytes(b"begun")
    try:
        said: dict[str, Any] = _said(path, given, lambda step: pipe.send_bytes(json.dumps({"step": step}).encode()))
    except SeveralSizesError as error:
        said = {"refused": str(error), "sizes": list(error.sizes)}
    except PieceError as error:
        # Its sender knows the file by its name, not by the folder that it is read in.
        said = {"refused": str(error).replace(f"{path.parent}{os.sep}", ""), "holds_none": True}
    except Exception as error:
        words = str(error)
        if isinstance(error, MemoryError) or "bad_alloc" in words or "Insufficient memory" in words:  # as C++ says it
            said = {"refused": _too_large(path, limits)}
        else:
            traceback.print_exc()
            said = {"failed": repr(error)}
    pipe.send_bytes(json.dumps(said).encode())


def _found(path: Path, given: ToRead, tell: Tell) -> tuple[Imported, dict[str, Any]]:
    """The pieces of a file, after what is decided of it; and what else is shown of files of its kind."""
    if given.photos:
        paths = [path.parent / name for name in given.photos]
        found, photo = traced_pieces(
            paths, given.asked, given.told, given.by, is_joined=given.is_joined, tell=lambda step: tell(step._asdict())
        )
        return found, {"photo": photo}
    return import_pieces(path, given.asked, given.told), {}


def _said(path: Path, given: ToRead, tell: Tell) -> dict[str, Any]:
    """What a file holds: pieces to keep, and all that is shown of it."""
    found, more = _found(path, given, tell)
    if given.compares:
        return {"compared": _compared(read_sizes(path, given.asked, given.told, found), path)}
    report = found.report
    shown = shown_of(found) | {
        "lines": listing(found, given.asked),
        "legend": report.legend.name if report.legend is not None else None,
    }
    if given.learns:
        legend, rules, without = legend_after(report.legend, found, given.told)
        shown["learned"] = {
            "legend": legend.to_plain(),
            "rules": [rule.words() for rule in rules],
            "without": [mark.words() for mark in without],
        }
    return {"kept": to_plain(found.pieces), "shown": shown | more}


def _compared(sized: SizedFile, path: Path) -> dict[str, Any]:
    """All sizes as plain data, with the text of the grade rules; empty if there are none."""
    has_rules = any(piece.rules for piece in sized.pieces)
    return {
        "sizes": list(sized.sizes),
        "base": sized.base,
        "pieces": [{"name": p.name, "measured": dict(p.measured), "off": p.off} for p in sized.pieces],
        "words": sized.words(),
        "text": sized.text(f"the sizes drawn in {path.name}") if has_rules else "",
    }


def _limit(limits: ReadingLimits) -> None:
    """Hold this process to its limits, beside what it has taken to begin. Where none can be set, only time counts."""
    try:
        import resource
    except ImportError:
        return
    used = resource.getrusage(resource.RUSAGE_SELF)
    seconds = int(used.ru_utime + used.ru_stime) + 1 + limits.seconds
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
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
