"""The order of sewing of a job's garment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pieces.garments.together import labelled_step
from pieces.units import Units, format_size
from reports.ask.imported import IMPORTED
from reports.cautions import CAUTIONS
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces import PieceSet
    from pieces.garments.sewing import SewingStep
    from reports.ask.draft import Drafted
    from reports.ask.job import Job

SEWING_SCHEMA = 2

AT_THE_MACHINE = (
    "Needle and machine: keep your fingers clear of the needle, switch the machine off before you thread it or change"
    " the needle. The maker's instructions and your school's or workshop's rules come first."
)
"""Common practice, no source."""


@dataclass(frozen=True, eq=False)
class SewingOrder:
    """The steps of a garment, with the pieces they are read off; of several in turn.

    `left_out` are garments of which no order of sewing is known.
    """

    job: Job
    pieces: PieceSet
    steps: tuple[SewingStep, ...]
    left_out: tuple[str, ...] = ()

    @property
    def units(self) -> Units:
        """In which lengths are written."""
        return self.job.written_in

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to take care of at machine and iron."""
        return AT_THE_MACHINE, CAUTIONS["iron and pins"].words

    def seam_words(self, step: SewingStep) -> str:
        """The allowances of a step; empty where nothing is sewn by them."""
        by_width: dict[str, list[str]] = {}
        for _, edge in step.sewn(self.pieces):
            if edge.allowance > 0:
                by_width.setdefault(_finely(edge.allowance, self.units), []).append(edge.name)
        (usual, _), *others = sorted(by_width.items(), key=lambda item: -len(item[1])) or [("", [])]
        more = (f"{width} at {' and '.join(dict.fromkeys(names))}" for width, names in others)
        return ", ".join((f"seam {usual}", *more)) if usual else ""

    def notch_words(self, step: SewingStep) -> str:
        """The notches of a step; empty where it has none."""
        names = step.notches(self.pieces)
        return f"notches: {', '.join(names)}" if names else ""


def _finely(mm: float, units: Units) -> str:
    """An allowance as it was cut: to a sixteenth of an inch, or a tenth of a millimetre."""
    return format_size(mm, units, 16) if units is Units.INCHES else f"{round(mm, 1):g} mm"


def sewing_order(job: Job, drafted: Drafted) -> SewingOrder:
    """The order in which a job's garment is sewn; of several in turn.

    Raises
    ------
    JobError
        If none is known, as of imported pieces, or of a garment that has none.
    """
    known = [(member, member.job.model().steps) for member in drafted.members]
    every = [
        labelled_step(member.label, step)
        for member, steps in known
        if steps is not None
        for step in steps(member.pieces, member.job.styled())
    ]
    if not every:
        of = {IMPORTED: "imported pieces"}.get(job.garment, job.garment)
        raise JobError(f"{job.title}: no order of sewing is known of {of}; ask for one of another garment")
    left_out = tuple(member.label for member, steps in known if steps is None)
    return SewingOrder(job, drafted.pieces, tuple(every), left_out)


def sewing_lines(order: SewingOrder) -> Iterator[str]:
    """The steps in words, numbered; the pieces of each, its seam and its notches below."""
    for number, step in enumerate(order.steps, 1):
        yield f"{number}. {step.title}. {step.text}"
        of = ", ".join(piece.name for piece in step.shown(order.pieces))
        told = (of, order.seam_words(step), order.notch_words(step))
        yield f"   {'; '.join(words for words in told if words)}"
    if order.left_out:
        yield f"No order of sewing is known of {', '.join(order.left_out)}."
    yield from order.cautions


def sewing_to_plain(order: SewingOrder) -> dict[str, Any]:
    """The steps for machines; lengths in mm."""
    return {
        "schema": SEWING_SCHEMA,
        "garment": order.pieces.garment,
        "steps": [
            {
                "number": number,
                "title": step.title,
                "text": step.text,
                "pieces": [piece.name for piece in step.shown(order.pieces)],
                "edges": [
                    {
                        "piece": piece.name,
                        "edge": edge.name,
                        "allowance_mm": edge.allowance,
                        "length_mm": edge.length,
                    }
                    for piece, edge in step.sewn(order.pieces)
                ],
                "notches": step.notches(order.pieces),
            }
            for number, step in enumerate(order.steps, 1)
        ],
        "left_out": list(order.left_out),
        "cautions": list(order.cautions),
    }
