"""A job's pieces, drafted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.units import speaking
from reports.ask.shape import with_shapes

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.body.body import Body
    from reports.ask.job import Job
    from reports.ask.recipe import Recipe


def draft_job(job: Job) -> PieceSet:
    """The job's pattern pieces; DraftError says what does not go together, and which measurement is odd."""
    pieces = draft_for(job, job.measured())
    with speaking(job.written_in):
        return with_shapes(pieces, job.shape) if job.shape else pieces


def draft_for(made: Recipe, body: Body) -> PieceSet:
    """The pattern pieces of what is made, for a body; DraftError as of `draft_job`."""
    try:
        with speaking(made.written_in):
            return made.model().draft(body, made.styled())
    except DraftError as error:
        odd = body.remarks(made.written_in)
        if not odd:
            raise
        raise DraftError(f"{error} ({odd[0]})") from error
