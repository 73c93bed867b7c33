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
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, get_args

from nesting.processes import begun_apart, listen
from pieces.errors import FormatError, PieceError, SeveralSizesError
from pieces.exchange.imported import ReadingChoices, Unit
from pieces.exchange.learning import legend_after
from pieces.exchange.listing import listing
from pieces.exchange.own.plain import to_plain
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import FORMS, import_pieces
from pieces.exchange.sized import SizedFile, read_sizes
from reports.output import write_text
from reports.page.answers.shown import shown_of
from reports.page.answers.traced import begin_tracing, traced_pieces
from reports.page.errors import FullError
from reports.page.store.patterns import (
    BY_THE_SHEET,
    LARGEST_FILE,
    LARGEST_PHOTO,
    PHOTOS,
    KeptPattern,
    Patterns,
    PhotoAsked,
)

if TYPE_CHECKING:
    from collections.abc import Sequence
    from multiprocessing.connection import Connection

    from pieces.exchange.decided.legend import LineLegend
    from pieces.exchange.imported import Imported
    from pieces.exchange.own.sidecar import Sidecar

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

_reading = threading.BoundedSemaphore(MOST_AT_A_TIME)


class ToRead(NamedTuple):
    """What the process that reads a file is given: how to read it, what is decided of it, and what else to do.

    `by` is what a photo is measured by, `learns` whether a legend is made of what was decided, `compares` whether all
    sizes are read and compared.
    """

    asked: ReadingChoices
    told: Sidecar
    by: PhotoAsked = BY_THE_SHEET
    learns: bool = False
    compares: bool = False


def read_upload(
    name: str,
    data: bytes,
    asked: ReadingChoices,
    uploads: Path,
    limits: ReadingLimits = LIMITS,
    legends: Sequence[LineLegend] = (),
    *,
    by: PhotoAsked = BY_THE_SHEET,
) -> dict[str, Any]:
    """Read a file of patterns or a photo of some, and keep its pieces for a job of garment ``imported``.

    What was decided of the same file before holds again.

    Parameters
    ----------
    name
        What the file is called where it comes from: the end tells its form.
    uploads
        Folder in which the pieces are kept; the file itself is kept beside it.
    legends
        Of which the one for the program that wrote the file is used.
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
    most, advice = (LARGEST_PHOTO, PHOTO_ADVICE) if kind in PHOTOS else (LARGEST_FILE, ADVICE)
    if len(data) > most:
        raise FormatError(f"'{name[:LONGEST_NAME]}' has more than {most // 1_000_000} MB: {advice}")
    pattern = KeptPattern(f"{_stem(name, kind)}.{kind}", data, asked.units, asked.size, by=by)
    known = Patterns(uploads.parent).known(pattern)
    if known is not None:
        units, size = asked.units or known.units, asked.size or known.size
        pattern = replace(known, name=pattern.name, units=units, size=size, by=by)
    said = read_again(pattern, uploads, limits, legends, over=None if known is None else known.changed)
    return said | {"is_known": known is not None and bool(known.told)}


def _stem(name: str, kind: str) -> str:
    stem = "".join(sign if sign.isalnum() or sign in " -_()" else "_" for sign in name[: -len(kind) - 1])
    return stem[:LONGEST_NAME].strip() or "patterns"


def read_again(
    pattern: KeptPattern,
    uploads: Path,
    limits: ReadingLimits = LIMITS,
    legends: Sequence[LineLegend] = (),
    *,
    learns: bool = False,
    over: str | None = None,
) -> dict[str, Any]:
    """Read a file with what is decided of it, and keep it and its pieces.

    Raises as `read_upload`, and StateError if it was decided on since `over`, where that is given.
    """
    said = _read(pattern, limits, legends, learns=learns)
    if said.get("holds_none") and legends and pattern.uses_legend:
        alarm = f"with your legend {said['refused']}: it is read without it"
        pattern = replace(pattern, uses_legend=False, alarm=alarm)
        said = _read(pattern, limits, (), learns=learns)
    elif pattern.uses_legend:
        pattern = replace(pattern, alarm="")
    shelf = Patterns(uploads.parent)
    if "sizes" in said:
        shelf.keep(pattern, over=over)
        return {"choose_size": {"sizes": said["sizes"], "words": said["refused"]}, "pattern": plain_pattern(pattern)}
    if "refused" in said:
        raise FormatError(said["refused"])
    kept = replace(pattern, pieces_file=_keep_pieces(said["kept"], pattern, uploads))
    shelf.keep(kept, over=over)
    if kept.alarm:
        said["shown"]["lines"]["alarms"].append({"number": None, "words": kept.alarm})
    return {**said["shown"], "pieces_file": kept.pieces_file, "pattern": plain_pattern(kept)}


def compare_sizes(
    pattern: KeptPattern, limits: ReadingLimits = LIMITS, legends: Sequence[LineLegend] = ()
) -> dict[str, Any]:
    """All sizes of a file side by side, with the grade rules that lead to them; raises as `read_upload`."""
    said = _read(pattern, limits, legends, compares=True)
    if "refused" in said:
        raise FormatError(said["refused"])
    compared: dict[str, Any] = said["compared"]
    return compared


def _read(
    pattern: KeptPattern,
    limits: ReadingLimits,
    legends: Sequence[LineLegend],
    *,
    learns: bool = False,
    compares: bool = False,
) -> dict[str, Any]:
    """What a process of its own says of a kept file."""
    if not _reading.acquire(blocking=False):
        raise FullError("other pattern files are being read: send this one again in a moment")
    try:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / pattern.name
            path.write_bytes(pattern.source)
            used = tuple(legends) if pattern.uses_legend else ()
            units = next((unit for unit in get_args(Unit) if unit == pattern.units), None)
            asked = ReadingChoices(units, size=pattern.size, legends=used)
            told = sidecar_of(pattern.decisions, "what was decided")
            return _read_apart(path, ToRead(asked, told, pattern.by, learns, compares), limits)
    finally:
        _reading.release()


def plain_pattern(pattern: KeptPattern) -> dict[str, Any]:
    """A kept file as the page shows it, without what is in it."""
    return {
        "id": pattern.id,
        "name": pattern.name,
        "units": pattern.units,
        "size": pattern.size,
        "uses_legend": pattern.uses_legend,
        "told": pattern.decisions,
        "changed": pattern.changed,
        "apart": [one.changed for one in pattern.apart],
    }


def _keep_pieces(pieces: dict[str, Any], pattern: KeptPattern, uploads: Path) -> str:
    """Where the pieces are kept: where they are already, if they have not changed."""
    text = json.dumps({**pieces, "pattern": pattern.id})
    before = uploads / pattern.pieces_file if pattern.pieces_file else None
    if before is not None and before.is_file() and before.read_text(encoding="utf-8") == text:
        return pattern.pieces_file
    name = f"{secrets.token_hex(16)}.json"
    write_text(uploads / name, text)
    return name


def _read_apart(path: Path, asked: ToRead, limits: ReadingLimits) -> dict[str, Any]:
    """What a process of its own says of a file."""
    if path.suffix[1:] in PHOTOS:
        limits = limits._replace(seconds=max(limits.seconds, PHOTO_SECONDS))
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


def _serve(pipe: Connection, path: Path, given: ToRead, limits: ReadingLimits) -> None:
    """In the process: say that it has begun, read the file, and say what it holds."""
    listen()
    if path.suffix[1:] in PHOTOS:
        begin_tracing()
    _limit(limits)
    pipe.send_bytes(b"begun")
    try:
        said: dict[str, Any] = _said(path, given)
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


def _found(path: Path, given: ToRead) -> tuple[Imported, dict[str, Any]]:
    """The pieces of a file, after what is decided of it; and what else is shown of files of its kind."""
    if path.suffix[1:] in PHOTOS:
        found, photo = traced_pieces(path, given.asked, given.told, given.by)
        return found, {"photo": photo}
    return import_pieces(path, given.asked, given.told), {}


def _said(path: Path, given: ToRead) -> dict[str, Any]:
    """What a file holds: pieces to keep, and all that is shown of it."""
    found, more = _found(path, given)
    if given.compares:
        return {"compared": _compared(read_sizes(path, given.asked, given.told, found), path)}
    report = found.report
    shown = shown_of(found) | {
        "lines": listing(found, given.asked),
        "legend": report.legend.name if report.legend is not None else None,
    }
    if given.learns:
        legend, rules, without = legend_after(report.legend, found, given.told)
        new, others = report.legend.news(rules) if report.legend is not None else (rules, [])
        shown["learned"] = {
            "legend": legend.to_plain(),
            "rules": [rule.words() for rule in new]
            + [f"{rule.words()}; before: {old.words()}" for old, rule in others],
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
