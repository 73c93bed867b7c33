"""A lay of a run held against a remnant or a table: what is asked, and what it is enough for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.fit.remnant import Remnant
from pieces.length import mm
from reports.errors import JobError
from reports.fit.length import length_of

if TYPE_CHECKING:
    from nesting.fit.fitting import Fitting
    from reports.ask.offer import FabricOffer
    from reports.plan.cut_cloth import CutCloth, LayFacts


@dataclass(frozen=True)
class FitLay:
    """A lay, of which one ply is to lie on a remnant, or on the table.

    Parameters
    ----------
    facts
        What it is made of.
    ply
        Length of cloth of one ply, its ends included, mm.
    table
        Length of the table, mm, where it is asked about that; None for a remnant.
    """

    facts: LayFacts
    ply: float
    table: float | None = None

    @classmethod
    def of(cls, cut: CutCloth, table: str | None) -> FitLay:
        """A lay of a run; `table` as it is written."""
        assert cut.lay
        return cls(
            cut.lay, cut.marker.length + 2 * cut.offer.end_allowance, length_of(table, "--table") if table else None
        )

    def cloth_on(self, offer: FabricOffer) -> Remnant:
        """The cloth that lies on the table between the ends of a ply."""
        assert self.table is not None
        length, usual = self.table - 2 * offer.end_allowance, offer.fabric()
        if length <= 0:
            raise JobError("--table is no longer than the ends of a ply: give the length of the table")
        edge, gap = mm(usual.selvedge), mm(usual.gap)
        return Remnant(mm(usual.width), mm(length), (), edge, usual.nap, gap, usual.shrinkage)

    def plies_on(self, fitting: Fitting) -> int | None:
        """Plies, ends included, that a remnant gives one behind another; None where that is not known.

        It is known where the lay's own marker goes on it as it lies, and nothing is missing of the remnant.
        """
        found = fitting.layout
        if self.table is not None or fitting.remnant.cut_outs or not (found and found.known):
            return None
        return int(fitting.remnant.length / self.ply + 1e-9)
