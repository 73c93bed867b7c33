"""A file of patterns from outside: read in a process of its own, within limits, and its pieces kept.

A small file can ask for minutes of work and for all memory, and be sound all the same. So the server only waits for
what another process says of it, as JSON, and goes on answering meanwhile.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import re
import secrets
import signal
import tempfile
import threading
import traceback
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from nesting.processes import begun_apart, listen
from pieces.errors import FormatError, PieceError
from pieces.exchange.own.plain import to_plain
from pieces.exchange.read.reader import FORMS, import_pieces
from reports.output import write_text
from reports.page.answers.shown import shown_of
from reports.page.answers.traced import BY_THE_SHEET, PHOTOS, PhotoAsked, begin_tracing, traced_upload
from reports.page.errors import FullError

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from pieces.exchange.imported import ReadingChoices

LONGEST_NAME = 60
"""Longest name of an uploaded file, in signs."""

JOB_FILE = re.compile(rb"^(garment\b|\[\[?(garment|shape|fabric|body)\b)", re.MULTILINE)
"""A line that only a job file has."""

LONGEST_START = 60.0
"""Seconds in which the process must have begun."""

SLOWEST = 6
"""Times its processor time that a reading may take by the clock, on a machine that has more to do."""

LARGEST_ANSWER = 100_000_000
"""Bytes of what the process says."""

MOST_AT_A_TIME = 2
"""Files that are read at the same time."""

ADVICE = "export it with fewer points, or each piece as a file of its own; 'ellwand import' reads it without this limit"

PHOTO_ADVICE = "save it smaller, at 12 million pixels; 'ellwand trace' reads it without this limit"


class ReadingLimits(NamedTuple):
    """What reading a file may take: seconds of the processor, and bytes of memory beside what any file takes."""

    seconds: int = 5
    memory: int = 300_000_000


LIMITS = ReadingLimits()

PHOTO_SECONDS = 20
"""Of the processor, for a photo: the usual one takes 3."""

LARGEST_FILE, LARGEST_PHOTO = 5_000_000, 25_000_000
"""Bytes of a file of patterns, and of a photo."""

_reading = threading.BoundedSemaphore(MOST_AT_A_TIME)


def read_upload(
    name: str,
    data: bytes,
    asked: ReadingChoices,
    uploads: Path,
    limits: ReadingLimits = LIMITS,
    *,
    by: PhotoAsked = BY_THE_SHEET,
) -> dict[str, Any]:
    """Read a file of patterns or a photo of some, and keep its pieces for a job of garment ``imported``.

    Parameters
    ----------
    name
        What the file is called where it comes from: the end tells its form.
    uploads
        Folder in which the pieces are kept.
    by
        What a photo is measured by.

    Raises
    ------
    FormatError
        If it cannot be read within the limits, or holds no piece.
    FullError
        If other files are being read already.
    """
    kind = name.rsplit(".", 1)[-1].lower() if "." in name else ""
    if kind == "toml" and JOB_FILE.search(data):
        raise FormatError(f"'{name[:LONGEST_NAME]}' is a job file, not a pattern: use 'ellwand buy' for it")
    if kind not in (*FORMS, *PHOTOS):
        raise FormatError(f"'{name[:LONGEST_NAME]}': a pattern file ends in {', '.join(FORMS)}, a photo in jpg or png")
    most = LARGEST_PHOTO if kind in PHOTOS else LARGEST_FILE
    if len(data) > most:
        advice = PHOTO_ADVICE if kind in PHOTOS else ADVICE
        raise FormatError(f"'{name[:LONGEST_NAME]}' has more than {most // 1_000_000} MB: {advice}")
    if not _reading.acquire(blocking=False):
        raise FullError("other pattern files are being read: send this one again in a moment")
    try:
        stem = "".join(sign if sign.isalnum() or sign in " -_()" else "_" for sign in name[: -len(kind) - 1])
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / f"{stem[:LONGEST_NAME].strip() or 'patterns'}.{kind}"
            path.write_bytes(data)
            said = _read_apart(path, asked, by, limits)
    finally:
        _reading.release()
    if "refused" in said:
        raise FormatError(said["refused"])
    kept = f"{secrets.token_hex(16)}.json"
    write_text(uploads / kept, json.dumps(said["kept"]))
    return {**said["shown"], "pieces_file": kept}


def _read_apart(path: Path, asked: ReadingChoices, by: PhotoAsked, limits: ReadingLimits) -> dict[str, Any]:
    """What a process of its own says of a file."""
    if path.suffix[1:] in PHOTOS:
        limits = limits._replace(seconds=max(limits.seconds, PHOTO_SECONDS))
    context = multiprocessing.get_context("spawn")
    with begun_apart():
        pipe, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_serve, args=(theirs, path, asked, by, limits), daemon=True)
        process.start()
    theirs.close()
    try:
        if not pipe.poll(LONGEST_START):
            raise TimeoutError("a process that reads a file did not begin")
        pipe.recv_bytes()  # it has begun
        if not pipe.poll(SLOWEST * limits.seconds):
            return {"refused": _too_long(path, limits)}
        said: dict[str, Any] = json.loads(pipe.recv_bytes(LARGEST_ANSWER))
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


def _serve(pipe: Connection, path: Path, asked: ReadingChoices, by: PhotoAsked, limits: ReadingLimits) -> None:
    """In the process: say that it has begun, read the file, and say what it holds."""
    listen()
    is_photo = path.suffix[1:] in PHOTOS
    if is_photo:
        begin_tracing()
    _limit(limits)
    pipe.send_bytes(b"begun")
    try:
        if is_photo:
            said: dict[str, Any] = traced_upload(path, asked, by)
        else:
            found = import_pieces(path, asked)
            said = {"kept": to_plain(found.pieces), "shown": shown_of(found)}
    except PieceError as error:
        # Its sender knows the file by its name, not by the folder that it is read in.
        said = {"refused": str(error).replace(f"{path.parent}{os.sep}", "")}
    except Exception as error:
        words = str(error)
        if isinstance(error, MemoryError) or "bad_alloc" in words or "Insufficient memory" in words:  # as C++ says it
            said = {"refused": _too_large(path, limits)}
        else:
            traceback.print_exc()
            said = {"failed": repr(error)}
    pipe.send_bytes(json.dumps(said).encode())


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
