"""One file of patterns, or photos of some, read in a process of its own, within limits."""

from __future__ import annotations

import base64
import json
import os
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NamedTuple

from pieces.errors import PieceError, SeveralSizesError
from pieces.exchange.learning import legend_after
from pieces.exchange.listing import listing
from pieces.exchange.own.plain import to_plain
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sized import SizedFile, read_sizes
from reports.apart import LIMITS, ApartReading, HearStep, ReadingLimits, read_apart
from reports.errors import OverLimitError
from reports.page.answers.shown import shown_of
from reports.page.answers.traced import begin_tracing, traced_pieces
from reports.page.store.patterns import BY_THE_SHEET, PhotoAsked

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.imported import Imported, ReadingChoices
    from pieces.exchange.own.sidecar import Sidecar

ADVICE = "export it with fewer points, or each piece as a file of its own; 'ellwand import --seconds 60' gives it more"

PHOTO_ADVICE = "save it smaller, at 12 million pixels; 'ellwand trace' reads it without this limit"

PHOTO_LIMITS = ReadingLimits(20, 300_000_000)
"""For a photo: the usual one takes 3 s."""

PHOTO_MEMORY = 60_000_000
"""Bytes for each further photo of one table: all of them are held at once."""

Tell = Callable[[dict[str, Any]], None]
"""Is told what is done now: words, and how many steps of how many are done."""


class ToRead(NamedTuple):
    """What the process that reads a file is given: how to read it, what is decided of it, and what else to do.

    `photos` are all files of it, if they are photos, `by` what those are measured by, `is_joined` whether they show
    parts of one table, `trace` what was traced in them before, `learns` whether a legend is made of what was decided,
    `compares` whether all sizes are read and compared.
    """

    asked: ReadingChoices
    told: Sidecar
    by: PhotoAsked = BY_THE_SHEET
    learns: bool = False
    compares: bool = False
    photos: tuple[str, ...] = ()
    is_joined: bool = False
    trace: bytes = b""


def read_kept(path: Path, asked: ToRead, limits: ReadingLimits, tell: Tell | None) -> dict[str, Any]:
    """What a process of its own says of a file."""
    how = ApartReading(_read, asked, limits, ADVICE)
    if many := len(asked.photos):
        seconds, memory = PHOTO_LIMITS if limits == LIMITS else limits._replace(seconds=PHOTO_LIMITS.seconds)
        limits = ReadingLimits(many * seconds, memory + (many - 1) * PHOTO_MEMORY * asked.is_joined)
        how = ApartReading(_read, asked, limits, PHOTO_ADVICE, None if asked.trace else begin_tracing)
    heard = None if tell is None else lambda step: tell(json.loads(step))
    try:
        said: dict[str, Any] = json.loads(read_apart(path, how, heard))
    except OverLimitError as error:
        return {"refused": str(error)}
    return said


def _read(path: Path, given: ToRead, step: HearStep) -> bytes:
    """In the process: what a file holds, or why it is refused."""
    try:
        said: dict[str, Any] = _said(path, given, lambda told: step(json.dumps(told).encode()))
    except SeveralSizesError as error:
        said = {"refused": str(error), "sizes": list(error.sizes)}
    except PieceError as error:
        # Its sender knows the file by its name, not by the folder that it is read in.
        said = {"refused": str(error).replace(f"{path.parent}{os.sep}", ""), "holds_none": True}
    return json.dumps(said).encode()


def _found(path: Path, given: ToRead, tell: Tell) -> tuple[Imported, dict[str, Any], bytes]:
    """The pieces of a file, after what is decided of it; what else is shown of its kind; and what photos showed."""
    if given.photos:
        paths = [path.parent / name for name in given.photos]
        found, photo, trace = traced_pieces(
            paths,
            given.asked,
            given.told,
            given.by,
            is_joined=given.is_joined,
            trace=given.trace,
            tell=lambda step: tell(step._asdict()),
        )
        return found, {"photo": photo}, trace
    return import_pieces(path, given.asked, given.told), {}, b""


def _said(path: Path, given: ToRead, tell: Tell) -> dict[str, Any]:
    """What a file holds: pieces to keep, and all that is shown of it."""
    found, more, trace = _found(path, given, tell)
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
    said = {"kept": to_plain(found.pieces), "shown": shown | more}
    return said | ({"trace": base64.b64encode(trace).decode()} if trace else {})


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
