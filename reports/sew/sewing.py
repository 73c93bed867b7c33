"""The order of sewing of a job's garment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pieces.units import Units, format_size
from reports.ask.imported import IMPORTED
from reports.cautions import CAUTIONS
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces import PieceSet
    from pieces.garments.sewing import SewingStep
    from reports.ask.job import Job

SEWING_SCHEMA = 1

AT_THE_MACHINE = (
    "Needle and machine: keep your fingers clear of the needle, switch the machine off before you thread it or change"
    " the needle. The maker's instructions and your school's or workshop's rules come first."
)
"""Common practice, no source."""


@dataclass(frozen=True, eq=False)
class SewingOrder:
    """The steps of a garment, with the pieces they are read off."""

    job: Job
    pieces: PieceSet
    steps: tuple[SewingStep, ...]

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
        every = [_finely(mm, self.units) for mm in step.allowances(self.pieces) if mm > 0]
        return f"seam {' and '.join(dict.fromkeys(every))}" if every else ""

    def notch_words(self, step: SewingStep) -> str:
        """The notches of a step; empty where it has none."""
        names = step.notches(self.pieces)
        return f"notches: {', '.join(names)}" if names else ""


def _finely(mm: float, units: Units) -> str:
    """An allowance as it was cut: to a sixteenth of an inch, or a tenth of a millimetre."""
    return format_size(mm, units, 16) if units is Units.INCHES else f"{round(mm, 1):g} mm"


def sewing_order(job: Job, pieces: PieceSet) -> SewingOrder:
    """The order in which a job's garment is sewn.

    Raises
    ------
    JobError
        If none is known, as of imported pieces, or of a garment that has none.
    """
    steps = job.model().steps
    if steps is None:
        of = "imported pieces" if job.garment == IMPORTED else f"a {job.garment}"
        raise JobError(f"{job.title}: no order of sewing is known of {of}; ask for one of another garment")
    return SewingOrder(job, pieces, steps(pieces, job.styled()))


def sewing_lines(order: SewingOrder) -> Iterator[str]:
    """The steps in words, numbered; the pieces of each, its seam and its notches below."""
    for number, step in enumerate(order.steps, 1):
        yield f"{number}. {step.title}. {step.text}"
        of = ", ".join(piece.name for piece in step.shown(order.pieces))
        told = (of, order.seam_words(step), order.notch_words(step))
        yield f"   {'; '.join(words for words in told if words)}"
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
        "cautions": list(order.cautions),
    }
