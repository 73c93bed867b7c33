"""One garment, drafted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.units import speaking

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.body.body import Body
    from reports.ask.job import Job
    from reports.ask.recipe import Recipe


def draft_one(job: Job) -> PieceSet:
    """The pieces of a job with one garment; DraftError says what does not go together, and which measurement is odd."""
    return draft_for(job, job.measured())


def draft_for(made: Recipe, body: Body) -> PieceSet:
    """The pattern pieces of what is made, for a body; DraftError as of `draft_one`."""
    try:
        with speaking(made.written_in):
            return made.model().draft(body, made.styled())
    except DraftError as error:
        odd = body.remarks(made.written_in)
        if not odd:
            raise
        raise DraftError(f"{error} ({odd[0]})") from error
