"""A job's pieces, drafted: those of one garment, or of several together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.garments.together import Labelled, join_garments
from pieces.units import speaking
from reports.ask.members import members_of
from reports.ask.several import TITLE
from reports.ask.shape import with_shapes
from reports.ask.together import require_all_joined

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces import Piece, PieceSet
    from reports.ask.job import Job
    from reports.ask.members import Member


@dataclass(frozen=True, eq=False)
class Drafted:
    """What a job asks for: all pieces as one set, and the garments they are of."""

    pieces: PieceSet
    members: tuple[Member, ...]


def hole_notes(pieces: Iterable[Piece]) -> list[str]:
    """What holds of pieces with a hole, such as rings: none is laid in them here, but a cutter may."""
    return [
        f"{piece.name}: no piece is laid in its hole here. What is proved holds even if one is"
        for piece in pieces
        if piece.has_hole
    ]


def draft_job(job: Job) -> PieceSet:
    """The job's pattern pieces; DraftError says what does not go together, and which measurement is odd."""
    return draft_whole(job).pieces


def draft_whole(job: Job) -> Drafted:
    """The job's pattern pieces with the garments they are of; its errors as of `draft_job`."""
    members, notes = members_of(job)
    if not job.together:
        with speaking(job.written_in):
            pieces = with_shapes(members[0].pieces, job.shape) if job.shape else members[0].pieces
        return Drafted(pieces, members)
    joined = join_garments((Labelled(one.label, one.quantity, one.pieces) for one in members), TITLE, notes)
    require_all_joined(members, joined)
    return Drafted(joined, members)
