"""A file of patterns from outside: read in a process of its own, within limits, and its pieces kept.

The server only waits for what that process says of it, as JSON, and goes on answering meanwhile.
"""

from __future__ import annotations

import base64
import json
import re
import secrets
import tempfile
import threading
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_args

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices, Unit
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import FORMS
from reports.apart import LIMITS, ReadingLimits
from reports.output import write_text
from reports.page.answers.reading import ADVICE, PHOTO_ADVICE, Tell, ToRead, read_kept
from reports.page.answers.traces import held_trace, hold_trace
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

LONGEST_NAME = 60
"""Longest name of an uploaded file, in signs."""

JOB_FILE = re.compile(rb"^(garment\b|\[\[?(garment|shape|fabric|body)\b)", re.MULTILINE)
"""A line that only a job file has."""

PHONE_FORMS = ("heic", "heif", "avif")
"""Ends of pictures that phones write, and that are not read."""

MOST_AT_A_TIME = 2
"""Files that are read at the same time."""

_reading = threading.BoundedSemaphore(MOST_AT_A_TIME)


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
    if kind in PHONE_FORMS:
        raise FormatError(
            f"'{name[:LONGEST_NAME]}' is a picture as some phones write it: have the phone take JPEG (its camera"
            " settings call it 'most compatible', or the like), or save it as JPEG"
        )
    if kind not in (*FORMS, *PHOTOS):
        raise FormatError(f"'{name[:LONGEST_NAME]}': a pattern file ends in {', '.join(FORMS)}, a photo in jpg or png")
    most, advice = (LARGEST_PHOTO, PHOTO_ADVICE) if kind in PHOTOS else (LARGEST_FILE, ADVICE)
    if len(data) > most:
        raise FormatError(f"'{name[:LONGEST_NAME]}' has more than {most // 1_000_000} MB: {advice}")
    pattern = KeptPattern(f"{kept_stem(name)}.{kind}", data, asked.units, asked.size, by=by)
    return read_new(pattern, uploads, limits, legends)


def read_new(
    pattern: KeptPattern,
    uploads: Path,
    limits: ReadingLimits = LIMITS,
    legends: Sequence[LineLegend] = (),
    *,
    tell: Tell | None = None,
) -> dict[str, Any]:
    """Read what came in, with what was decided of the same before; raises as `read_upload`."""
    known = Patterns(uploads.parent).known(pattern)
    if known is not None:
        units, size = pattern.units or known.units, pattern.size or known.size
        pattern = replace(known, name=pattern.name, units=units, size=size, by=pattern.by, photos=pattern.photos)
    said = read_again(pattern, uploads, limits, legends, over=None if known is None else known.changed, tell=tell)
    return said | {"is_known": known is not None and bool(known.told)}


def kept_stem(name: str) -> str:
    """What a file is called that came under a name, without its end."""
    stem = "".join(sign if sign.isalnum() or sign in " -_()" else "_" for sign in name.rpartition(".")[0])
    return stem[:LONGEST_NAME].strip() or "patterns"


def read_again(
    pattern: KeptPattern,
    uploads: Path,
    limits: ReadingLimits = LIMITS,
    legends: Sequence[LineLegend] = (),
    *,
    learns: bool = False,
    over: str | None = None,
    tell: Tell | None = None,
) -> dict[str, Any]:
    """Read a file with what is decided of it, and keep it and its pieces.

    Raises as `read_upload`, and StateError if it was decided on since `over`, where that is given.
    """
    said = _read(pattern, limits, legends, learns=learns, tell=tell)
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
    tell: Tell | None = None,
) -> dict[str, Any]:
    """What a process of its own says of a kept file."""
    if not _reading.acquire(blocking=False):
        raise FullError("other pattern files are being read: send this one again in a moment")
    try:
        with tempfile.TemporaryDirectory() as folder:
            paths = [Path(folder) / name for name in pattern.files]
            for path, data in zip(paths, pattern.files.values(), strict=True):
                path.write_bytes(data)
            used = tuple(legends) if pattern.uses_legend else ()
            units = next((unit for unit in get_args(Unit) if unit == pattern.units), None)
            asked = ReadingChoices(units, size=pattern.size, legends=used)
            told = sidecar_of(pattern.decisions, "what was decided")
            photos = tuple(path.name for path in paths if path.suffix[1:] in PHOTOS)
            trace = held_trace(pattern) if photos else b""
            given = ToRead(asked, told, pattern.by, learns, compares, photos, pattern.is_joined, trace)
            said = read_kept(paths[0], given, limits, tell)
            if made := said.pop("trace", ""):
                hold_trace(pattern, base64.b64decode(made))
            return said
    finally:
        _reading.release()


def plain_pattern(pattern: KeptPattern) -> dict[str, Any]:
    """A kept file as the page shows it, without what is in it."""
    return {
        "id": pattern.id,
        "name": pattern.title,
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
