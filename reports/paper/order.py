"""What is to be printed: files by name before any work is done, and the drawings that go into them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from pieces.piece.notched import USUAL_CUT, NotchCut
from pieces.units import Units, format_need, format_size
from reports.errors import PaperError
from reports.paper.size import parse_paper, parse_roll
from reports.plan.words import SPREAD_WORDS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from pieces import PieceSet
    from reports.ask.job import Job
    from reports.paper.book import Printed
    from reports.paper.size import Paper
    from reports.plan.answers import FabricPlan
    from reports.plan.cut_cloth import CutCloth

CLOTH = "cloth"
"""Asks for a roll as wide as the laid cloth."""


@dataclass(frozen=True)
class PrintOrder:
    """A job's pieces or markers, and the paper they go on; `paper` is None for a roll as wide as each cloth."""

    job: Job
    folder: Path
    paper: Paper | None
    notches: NotchCut = field(default_factory=NotchCut)

    def file(self, what: str) -> Path:
        """The PDF of one drawing, such as ``marker-1-a4.pdf``."""
        return file_for(self.folder, self.paper, what)

    def print_pieces(self, pieces: PieceSet) -> Printed:
        """Print the job's pieces in its one size."""
        from reports.paper.book import write_pdf
        from reports.paper.pattern import draw_pieces, pieces_head

        paper = self._given()
        head = pieces_head(pieces, f"{self.job.title}: pieces", self._size, self.job.written_in, self._notes())
        return write_pdf(
            self.file("pieces"), draw_pieces(pieces, paper, self.job.written_in, self.notches), paper, head
        )

    def print_sizes(self, sizes: Mapping[str, PieceSet], of: str) -> Printed:
        """Print the job's pieces in all sizes of a table, or of grade rules, which `of` names."""
        from reports.paper.book import write_pdf
        from reports.paper.nest import draw_nest, nest_head

        paper, units = self._given(), self.job.written_in
        title = f"{self.job.title}: pieces in {len(sizes)} sizes"
        head = nest_head(sizes, title, of, units, self._notes())
        return write_pdf(self.file("sizes"), draw_nest(sizes, paper, self.notches), paper, head)

    def print_marker(self, number: int, fabric: FabricPlan) -> Printed:
        """Print the marker of the job's cloth of that number."""
        title = f"{self.job.title}, on {fabric.offer.name}"
        path = self.file(f"marker-{number}")
        return print_laid(path, self.paper, fabric, title, self.job.written_in, notches=self.notches)

    @property
    def _size(self) -> str:
        """The measurement that sizes are called by; imported pieces have none."""
        body = {} if self.job.together else self.job.measured().measurements()
        return "".join(f"{name} {format_size(mm, self.job.written_in)}" for name, mm in list(body.items())[:1])

    def _given(self) -> Paper:
        if self.paper is None:
            raise PaperError("--roll cloth is for markers: for pieces give the roll's width, or sheets with --paper")
        return self.paper

    def _notes(self) -> Sequence[str]:
        """Cloths whose pieces are cut larger than they are drafted."""
        larger = [offer.name for offer in self.job.fabric if offer.fabric().growth != (1, 1)]
        return [f"Of {name}, which shrinks after cutting, cut by its printed marker: there pieces are larger."
                for name in larger]  # fmt: skip


def file_for(folder: Path, paper: Paper | None, what: str) -> Path:
    """The PDF of one drawing on some paper; None is a roll as wide as the cloth."""
    name = paper.name.lower() if paper else "cloth-wide roll"
    return folder / f"{what}-{re.sub(r'[^a-z0-9.]+', '-', name).strip('-')}.pdf"


def print_laid(
    path: Path,
    paper: Paper | None,
    cut: CutCloth,
    title: str,
    units: Units,
    told: Sequence[str] = (),
    size_of: Mapping[str, str] | None = None,
    notches: NotchCut = USUAL_CUT,
) -> Printed:
    """Print a marker on some paper, or on a roll as wide as its cloth.

    Parameters
    ----------
    told
        Lines before what is always said.
    size_of
        The size of each piece, by its name, where there are several.
    notches
        How they are cut.
    """
    from reports.paper.book import write_pdf
    from reports.paper.plot import cloth_paper, draw_marker, marker_head

    marker, is_chalk, sizes = cut.marker, paper is None, size_of or {}
    width = format_size(cut.offer.width, units)
    said = f"{width} wide, {SPREAD_WORDS[cut.spread]}; marker {format_need(marker.length, units)} long"
    contents = (*told, "Lay the upper line on the squared end of the cloth, past the end allowance.")
    drawing = draw_marker(marker, units, sewn=not is_chalk, size_of=sizes, notches=notches)
    head = marker_head(title, said, units, contents, sewn=not is_chalk, sizes=list(dict.fromkeys(sizes.values())))
    on, box = (paper, None) if paper else cloth_paper(marker)
    return write_pdf(path, drawing, on, head, box)


def paper_for(paper: str | None, roll: str | None, units: Units) -> Paper | None:
    """The paper asked for; by default letter or A4, as lengths are written. None is a roll as wide as the cloth.

    Raises
    ------
    PaperError
        If both are given, or it cannot be printed on.
    """
    if paper and roll:
        raise PaperError("give --paper or --roll, not both")
    if roll:
        return None if roll.strip().lower() == CLOTH else parse_roll(roll)
    return parse_paper(paper or ("letter" if units is Units.INCHES else "a4"))


def printed_to_plain(printed: Printed) -> dict[str, Any]:
    """A file for machines, lengths in mm."""
    tiling = printed.tiling
    return {
        "file": str(printed.path),
        "paper": tiling.paper.name,
        "page_mm": list(printed.page),
        "pages": printed.pages,
        "columns": tiling.columns,
        "rows": tiling.rows,
        "blank": len(tiling.tiles) - len(tiling.printed),
    }
