"""Answers at once: the pieces as they are drafted, and what an uploaded file of patterns holds."""

from __future__ import annotations

import json
import re
import secrets
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pieces.errors import FormatError, PieceError
from pieces.exchange.own.plain import to_plain
from pieces.exchange.read.reader import FORMS, import_pieces
from pieces.garments.idle import idle_heard
from reports.ask.draft import draft_job
from reports.errors import ReportError
from reports.output import write_text
from reports.page.answers.fields import field_of, job_of
from reports.page.errors import FieldFault, FieldsError

if TYPE_CHECKING:
    from pieces import Piece, PieceSet
    from pieces.exchange.imported import ReadingChoices
    from reports.ask.job import Job

LONGEST_NAME = 60
"""Longest name of an uploaded file, in signs."""

JOB_FILE = re.compile(rb"^(garment\b|\[\[?(garment|shape|fabric|body)\b)", re.MULTILINE)
"""A line that only a job file has."""


def draft(data: Any, uploads: Path | None = None) -> dict[str, Any]:
    """The pieces of a job, for drawing.

    Raises
    ------
    FieldsError
        If anything is wrong with the job, or it cannot be drafted.
    """
    job = job_of(data, uploads)
    with idle_heard() as idle:
        pieces = drafted(job)
    return {
        "idle": sorted(idle),
        "pieces": [piece_to_plain(piece) for piece in pieces],
        "measures": dict(pieces.measures),
        "remarks": job.measured().remarks(job.written_in),
        "notes": [*pieces.notes, *_unshown(job)],
    }


def _unshown(job: Job) -> list[str]:
    """What a job has that the page has no fields for."""
    names = ", ".join(shape.name for shape in job.shape)
    return (
        [f"{names}: shapes of the job, laid with the garment and kept; this page cannot change them"] if names else []
    )


def drafted(job: Job) -> PieceSet:
    """The pieces of a checked job; FieldsError at the field that does not go together with the rest."""
    try:
        return draft_job(job)
    except (PieceError, ReportError) as error:
        raise FieldsError([FieldFault(field_of(job, error), str(error))]) from error


def piece_to_plain(piece: Piece) -> dict[str, Any]:
    """What the page draws of a piece, mm."""
    return {
        "name": piece.name,
        "cut": piece.cut,
        "label": piece.label,
        "material": piece.material,
        "on_fold": piece.on_fold,
        "mirrored": piece.mirrored_pair,
        "length": piece.length,
        "width": piece.width,
        "cut_line": piece.cut_line.tolist(),
        "sew_line": piece.sew_line.tolist(),
        "grain": [list(point) for point in piece.grain],
        "notches": [list(notch.point) for notch in piece.notches],
    }


def read_upload(name: str, data: bytes, asked: ReadingChoices, uploads: Path) -> dict[str, Any]:
    """Read a file of patterns, and keep its pieces for a job of garment ``imported``.

    Parameters
    ----------
    name
        What the file is called where it comes from: the end tells its form.
    uploads
        Folder in which the pieces are kept.

    Raises
    ------
    FormatError
        If it cannot be read, or holds no piece.
    """
    kind = name.rsplit(".", 1)[-1].lower() if "." in name else ""
    if kind == "toml" and JOB_FILE.search(data):
        raise FormatError(f"'{name[:LONGEST_NAME]}' is a job file, not a pattern: use 'ellwand buy' for it")
    if kind not in FORMS:
        raise FormatError(f"'{name[:LONGEST_NAME]}': a pattern file ends in {', '.join(FORMS)}")
    stem = "".join(sign if sign.isalnum() or sign in " -_()" else "_" for sign in name[: -len(kind) - 1])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{stem[:LONGEST_NAME].strip() or 'patterns'}.{kind}"
        path.write_bytes(data)
        found = import_pieces(path, asked)
    kept = f"{secrets.token_hex(16)}.json"
    write_text(uploads / kept, json.dumps(to_plain(found.pieces)), durable=True)
    return {
        "report": found.report.to_plain(),
        "words": found.report.lines(),
        "pieces": [piece_to_plain(piece) for piece in found.pieces],
        "pieces_file": kept,
    }
