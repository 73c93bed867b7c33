"""A file of patterns from outside: read in a process of its own, within limits, and its pieces kept.

The server only waits for what that process says of it, as JSON, and goes on answering meanwhile.
"""

from __future__ import annotations

import json
import os
import re
import secrets
import tempfile
import threading
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, get_args

from pieces.errors import FormatError, PieceError, SeveralSizesError
from pieces.exchange.imported import ReadingChoices, Unit
from pieces.exchange.learning import legend_after
from pieces.exchange.listing import listing
from pieces.exchange.own.plain import to_plain
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import FORMS, import_pieces
from pieces.exchange.sized import SizedFile, read_sizes
from reports.apart import LIMITS, ApartReading, ReadingLimits, read_apart
from reports.errors import OverLimitError
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

    from pieces.exchange.decided.legend import LineLegend
    from pieces.exchange.imported import Imported
    from pieces.exchange.own.sidecar import Sidecar

LONGEST_NAME = 60
"""Longest name of an uploaded file, in signs."""

JOB_FILE = re.compile(rb"^(garment\b|\[\[?(garment|shape|fabric|body)\b)", re.MULTILINE)
"""A line that only a job file has."""

MOST_AT_A_TIME = 2
"""Files that are read at the same time."""

ADVICE = "export it with fewer points, or each piece as a file of its own; 'ellwand import --seconds 60' gives it more"

PHOTO_ADVICE = "save it smaller, at 12 million pixels; 'ellwand trace' reads it without this limit"


PHOTO_LIMITS = ReadingLimits(20, 300_000_000)
"""For a photo: the usual one takes 3 s."""

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
    how = ApartReading(_read_as_json, asked, limits, ADVICE)
    if path.suffix[1:] in PHOTOS:
        limits = PHOTO_LIMITS if limits == LIMITS else limits._replace(seconds=PHOTO_LIMITS.seconds)
        how = ApartReading(_read_as_json, asked, limits, PHOTO_ADVICE, begin_tracing)
    try:
        said: dict[str, Any] = json.loads(read_apart(path, how))
    except OverLimitError as error:
        return {"refused": str(error)}
    return said


def _read_as_json(path: Path, given: ToRead) -> bytes:
    """In the process: what a file holds, or why it is refused."""
    try:
        said: dict[str, Any] = _said(path, given)
    except SeveralSizesError as error:
        said = {"refused": str(error), "sizes": list(error.sizes)}
    except PieceError as error:
        # Its sender knows the file by its name, not by the folder that it is read in.
        said = {"refused": str(error).replace(f"{path.parent}{os.sep}", ""), "holds_none": True}
    return json.dumps(said).encode()


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
