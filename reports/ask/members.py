"""The garments of a job, drafted one by one: who each is for, and how many of it are cut."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.errors import PieceError
from pieces.garments.together import labelled
from pieces.units import format_size, speaking
from reports.ask.clients import read_clients
from reports.ask.one_draft import draft_one
from reports.ask.shape import SHAPES, with_shapes
from reports.ask.sizes import sized, table_for
from reports.errors import JobError, ReportError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pieces import PieceSet
    from pieces.units import Units
    from reports.ask.job import Job
    from reports.ask.several import GarmentEntry


@dataclass(frozen=True, eq=False)
class Member:
    """One garment of a job.

    Parameters
    ----------
    label
        What answers call it; empty where the job has no other.
    quantity
        How many of it are in the job's set of pieces.
    job
        The job of this garment alone.
    pieces
        Its pieces, drafted, under their own names.
    """

    label: str
    quantity: int
    job: Job
    pieces: PieceSet

    def remarks(self, units: Units) -> Iterator[str]:
        """Its measurements that are out of the ordinary."""
        yield from (labelled(self.label, remark) for remark in self.job.measured().remarks(units))


def members_of(job: Job) -> tuple[tuple[Member, ...], tuple[str, ...]]:
    """The garments of a job, and what is to be said of the files they come from: rows that cannot be used, say.

    Raises
    ------
    JobError
        If two have the same label, a size or a table is missing, or a file of clients has no row that can be used.
    PieceError
        If a garment cannot be drafted: it is named.
    """
    if not job.together:
        return (Member("", 1, job, draft_one(job)),), ()
    members: list[Member] = []
    notes: list[str] = []
    for number, entry in enumerate(job.together, 1):
        if entry.clients is None:
            members.append(_of_entry(job, entry, number))
        else:
            found, told = _of_clients(job, entry)
            members += found
            notes += told
    if job.shape:
        members.append(_of_shapes(job))
    _require_own_labels(members)
    return tuple(members), tuple(notes)


def rib_seam(members: Sequence[Member], units: Units) -> float:
    """The seam allowance at which bands of rib are joined, mm: one for all that have bands.

    Raises
    ------
    JobError
        If it is not the same for all.
    """
    seams = {member.job.styled().seam: member.label for member in members if member.pieces.of("rib")}
    if len(seams) > 1:
        said = ", ".join(f"{label} {format_size(mm, units, 16)}" for mm, label in seams.items())
        raise JobError(f"bands cut of one rib are joined with one seam allowance, not {said}: give all the same seam")
    return next(iter(seams)) if seams else float(members[0].job.styled().seam)


def _of_entry(job: Job, entry: GarmentEntry, number: int) -> Member:
    label = entry.name or f"garment {number}"
    single = job.single(entry, label)
    try:
        if entry.sizes is not None and entry.size is not None:
            single = sized(single, table_for(single, entry.sizes, job.folder), entry.size).job
        return Member(label, entry.quantity or 1, single, draft_one(single))
    except ReportError as error:
        raise JobError(f"{job.name}: {label}: {error}") from error
    except PieceError as error:
        raise PieceError(f"{label}: {error}") from error


def _of_shapes(job: Job) -> Member:
    """The shapes beside several garments, as one more of them; each shape says itself how often it is cut."""
    alone = job.shapes_alone()
    with speaking(job.written_in):
        return Member(SHAPES, 1, alone, with_shapes(draft_one(alone), job.shape))


def _of_clients(job: Job, entry: GarmentEntry) -> tuple[list[Member], list[str]]:
    """A garment for each row of a file of clients, and what is left out of it."""
    found = read_clients(job.folder / str(entry.clients), job.single(entry, str(entry.clients)))
    left_out = [f"left out: {bad}" for bad in found.bad]
    if not found.good:
        raise JobError(f"{entry.clients} has no usable row{': ' + str(found.bad[0]) if found.bad else ''}")
    if any(client.colour for client in found.good):
        left_out.append(f"{entry.clients}: colour is not used: all lie on the cloths of the job")
    members = [
        Member(" ".join(filter(None, (client.name, entry.name))), client.quantity, client.job, client.pieces)
        for client in found.good
    ]
    return members, left_out


def _require_own_labels(members: Sequence[Member]) -> None:
    times = Counter(" ".join(member.label.split()).casefold() for member in members)
    for member in members:
        if times[" ".join(member.label.split()).casefold()] > 1:
            raise JobError(f"two garments are called '{member.label}': give each [[garment]] another name")
