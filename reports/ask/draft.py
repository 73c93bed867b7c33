"""A job's pieces, drafted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.units import speaking

if TYPE_CHECKING:
    from pieces import PieceSet
    from reports.ask.job import Job


def draft_job(job: Job) -> PieceSet:
    """The job's pattern pieces; DraftError says what does not go together, and which measurement is odd."""
    body = job.measured()
    try:
        with speaking(job.written_in):
            return job.model().draft(body, job.styled())
    except DraftError as error:
        odd = body.remarks(job.written_in)
        if not odd:
            raise
        raise DraftError(f"{error} ({odd[0]})") from error
