"""A remnant as people write it, the cloth of the job that it is like, and what is to be cut of it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.errors import RemnantError
from nesting.fit.remnant import Remnant, Zone
from pieces.length import mm
from pieces.units import Units, format_exact, spoken
from reports.errors import JobError
from reports.fit.length import length_of
from reports.plan.problems import whole_from

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.marker.marker import Marker
    from nesting.problem.lay import Sets
    from pieces import Piece, PieceSet
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer, Nap
    from reports.ask.order.order import Order
    from reports.fit.lay import FitLay
    from reports.plan.cut_cloth import CutCloth
    from reports.plan.piecing import ClothAcross


@dataclass(frozen=True)
class RemnantTask:
    """What is to be cut of a remnant.

    Parameters
    ----------
    cloth
        The job's cloth that it is like; None where the job has none.
    pieces
        As they are cut of that cloth.
    piecing
        How shapes wider than the remnant are pieced, a line for each.
    whole
        The same pieces before shapes are pieced.
    sets
        Garments of each size on a marker with their pieces.
    lay
        The lay of which it is one ply.
    marker
        What is known to hold them, on other cloth.
    selvedge_given
        Whether anyone says how wide the remnant's selvedges are; else none is taken off.
    """

    job: Job | Order
    cloth: FabricOffer | None
    pieces: tuple[Piece, ...]
    selvedge_given: bool
    sets: Sets
    piecing: tuple[str, ...] = ()
    whole: tuple[Piece, ...] = ()
    lay: FitLay | None = None
    marker: Marker | None = None

    @classmethod
    def of(
        cls,
        job: Job,
        cloth: FabricOffer | None,
        drafted: PieceSet,
        across: ClothAcross,
        *,
        selvedge: str | None = None,
    ) -> RemnantTask:
        """The pieces that are cut of a cloth; of no cloth, all of the shell.

        Parameters
        ----------
        across
            How much the remnant holds across, for what is pieced.
        selvedge
            What is said of its selvedges.
        """
        whole = whole_from(cloth, job, drafted) if cloth else tuple(drafted.of("shell"))
        given = selvedge is not None or (cloth is not None and cloth.says_selvedge)
        lines = tuple(across.lines(whole, "the remnant", job.written_in))
        pieces = across.pieced(whole)
        return cls(job, cloth, pieces, given, [(pieces, job.garments)], lines, whole)

    @classmethod
    def of_lay(cls, order: Order, cut: CutCloth, lay: FitLay, *, selvedge: str | None = None) -> RemnantTask:
        """One ply of a lay, on a remnant or on the table."""
        given = selvedge is not None or cut.offer.says_selvedge
        sets = cut.asked.sets
        pieces = tuple(piece for of_size, _ in sets for piece in of_size)
        return cls(order, cut.offer, pieces, given, sets, lay=lay, marker=cut.marker)

    @property
    def waste_twins(self) -> bool:
        """Whether twins may be wasted."""
        return self.cloth is not None and self.cloth.waste_twins

    @property
    def garments(self) -> int:
        """How many are cut."""
        return sum(number for _, number in self.sets)

    @property
    def units(self) -> Units:
        """How answers are written."""
        return self.job.written_in


def cloth_named(job: Job, name: str | None) -> FabricOffer | None:
    """The job's cloth of some name, or its first; JobError if it has none of that name."""
    if name is None:
        return job.fabric[0] if job.fabric else None
    found = next((offer for offer in job.fabric if offer.name == name), None)
    if found is None:
        known = ", ".join(f"'{offer.name}'" for offer in job.fabric)
        there = f"there are {known}" if known else "it has no [[fabric]]: leave --cloth out"
        raise JobError(f"--cloth '{name}': {job.name} has no [[fabric]] of that name: {there}")
    return found


def parse_remnant(
    size: str,
    cut_outs: Sequence[str] = (),
    *,
    selvedge: str | None = None,
    nap: Nap | None = None,
    cloth: FabricOffer | None = None,
) -> Remnant:
    """The remnant that a person describes, width first: ``60 in x 1 1/4 yd``.

    Parameters
    ----------
    cut_outs
        Each with four lengths: ``0 in, 30 in, 12 in, 15 in``.
    selvedge, nap
        By default those of the cloth.
    cloth
        What it is like; without, it has no selvedge, no nap and no gap.

    Raises
    ------
    RemnantError
        If a size cannot be read or makes no sense.
    """
    sizes = re.split(r"\s*[x×]\s*|\s+by\s+", size.strip(), flags=re.IGNORECASE)
    if len(sizes) != 2:
        such = spoken('"60 in x 1 1/4 yd"', '"150 cm x 1.2 m"')
        raise RemnantError(f"cannot read the remnant '{size}': write width and length with their units, such as {such}")
    width, length = (length_of(text, f"the remnant '{size}'") for text in sizes)
    zones = tuple(_parse_cut_out(text) for text in cut_outs)
    usual = cloth.fabric() if cloth else None
    remnant = Remnant(width, length, zones)
    if usual:
        edge, gap = mm(usual.selvedge), mm(usual.gap)
        remnant = replace(remnant, selvedge=edge, nap=usual.nap, gap=gap, shrinkage=usual.shrinkage)
    if selvedge is not None:
        remnant = replace(remnant, selvedge=length_of(selvedge, "the selvedge"))
    return remnant if nap is None else replace(remnant, nap=nap)


def _parse_cut_out(text: str) -> Zone:
    where = f"the cut-out '{text}'"
    sizes = text.split(",")
    if len(sizes) != 4:
        such = spoken('"0 in, 30 in, 12 in, 15 in"', '"0 cm, 75 cm, 30 cm, 40 cm"')
        raise RemnantError(
            f"cannot read {where}: write distance from the start, distance from the lower edge, length and width,"
            f" such as {such}"
        )
    start, low, length, width = (length_of(size, where) for size in sizes)
    return Zone(start, start + length, low, low + width)


def size_words(remnant: Remnant, units: Units) -> str:
    """The remnant's size, and what is missing of it."""
    size = f"{format_exact(remnant.width, units)} × {format_exact(remnant.length, units)}"
    number = len(remnant.cut_outs)
    return size + (f" with {number} cut-out{'s' if number > 1 else ''}" if number else "")


def cloth_words(remnant: Remnant, task: RemnantTask) -> str:
    """What its cloth asks of the layout."""
    units = task.units
    nap = {False: "no nap", True: "with nap", "by garment": "with nap, by garment"}[remnant.nap]
    none = "no selvedge" if task.selvedge_given else "no selvedge given"
    edges = f"selvedges of {format_exact(remnant.selvedge, units)}" if remnant.selvedge else none
    return ", ".join([edges, nap, *([f"gap {format_exact(remnant.gap, units)}"] if remnant.gap else [])])


def selvedge_line(units: Units) -> str:
    """What is said where no selvedge is given."""
    none = "0 in" if units is Units.INCHES else "0 cm"
    return f'No selvedge is given, so none is taken off: measure it, or write --selvedge "{none}".'


def like_lines(task: RemnantTask, remnant: Remnant) -> Iterator[str]:
    """What was taken from the job's cloth, and what of it does not hold on a remnant."""
    cloth = task.cloth
    if cloth is None:
        return
    tilt = f", tilt up to {cloth.tilt:g}°" if cloth.tilt else ""
    yield f"Laid as '{cloth.name}': {cloth_words(remnant, task)}{tilt}."
    if any(other.pieces for other in task.job.fabric):
        yield f"Pieces cut from it: {', '.join(piece.name for piece in task.pieces)}."
    if cloth.washed == "after" and (cloth.shrinkage or cloth.shrinkage_across):
        yield "The pieces are enlarged for shrinkage, because the cloth is washed after cutting."
    elif cloth.shrinkage or cloth.shrinkage_across:
        yield "Measure the remnant after it is washed."
    if cloth.repeat_along or cloth.repeat_across:
        yield "Its stripes or checks are not matched."
    if cloth.border:
        yield "Its border is not minded: no edge is laid on it."
