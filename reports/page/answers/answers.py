"""Answers at once: the pieces as they are drafted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pieces.errors import PieceError
from pieces.garments.idle import idle_heard
from reports.ask.draft import draft_job
from reports.errors import ReportError
from reports.page.answers.fields import field_of, job_of
from reports.page.answers.shown import piece_to_plain
from reports.page.errors import FieldFault, FieldsError

if TYPE_CHECKING:
    from pathlib import Path

    from pieces import PieceSet
    from reports.ask.job import Job


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
