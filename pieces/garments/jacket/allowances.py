"""Seam allowances of the rib jacket by kind of edge: one for all, as at home, as in the trade, or as asked by name.

Home and trade: figures from pages of teachers and textbooks on the web (home 5/8 in, trimmed; trade 3/8 in, necklines
and outside edges 1/4 in; centre back 3/4 in).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.piece.piece import Piece

EdgeKind = Literal["side", "shoulder", "armhole", "centre", "neck", "hem", "wrist", "front", "turned", "end"]

Habit = Literal["one", "home", "trade"]

NAMED: tuple[EdgeKind, ...] = ("side", "shoulder", "armhole", "centre", "neck", "hem", "wrist", "front")
"""Kinds that a style has an option for, such as ``neck_seam``."""

KINDS: Mapping[str, EdgeKind] = {
    "side": "side",
    "front underarm": "side",
    "back underarm": "side",
    "shoulder": "shoulder",
    "armhole": "armhole",
    "front cap": "armhole",
    "back cap": "armhole",
    "centre back": "centre",
    "neck": "neck",
    "hem": "hem",
    "wrist": "wrist",
    "front edge": "front",
    "inner edge": "turned",
    "band": "end",
    "other hem": "hem",
}
"""What an edge of shell is for a sewer, by its name."""

BANDS: Mapping[str, EdgeKind] = {"cuff": "wrist", "hem band": "hem", "neckband": "neck"}
"""The kind of edge that a band is sewn to."""

HABITS: Mapping[Habit, Mapping[EdgeKind, float]] = {
    "one": {},
    "home": dict.fromkeys(
        ("side", "shoulder", "armhole", "centre", "neck", "hem", "wrist", "front", "end"), 5 / 8 * INCH
    ),
    "trade": {
        **dict.fromkeys(("side", "shoulder", "armhole", "hem", "wrist", "end"), 3 / 8 * INCH),
        **dict.fromkeys(("neck", "front", "turned"), 1 / 4 * INCH),
        "centre": 3 / 4 * INCH,
    },
}


@dataclass(frozen=True)
class Allowances:
    """The seam allowances of a style, mm.

    Parameters
    ----------
    seam
        Of every edge for which nothing else holds.
    habit
        What is usual for each kind of edge.
    asked
        By kind of edge, what was asked for.
    zip_edge
        What a zip takes beyond the centre front; 0 without one.
    has_tabs
        Whether the hem band ends at tabs, not at the front edges.
    """

    seam: float
    habit: Habit
    asked: Mapping[EdgeKind, float]
    zip_edge: float
    has_tabs: bool = False

    def of(self, kind: EdgeKind) -> float:
        """The allowance of a kind of edge, mm; along a front edge at least what the zip takes."""
        own = self.asked.get(kind, HABITS[self.habit].get(kind, self.seam))
        return max(own, self.zip_edge) if kind == "front" else own

    def end_of(self, band: str) -> EdgeKind:
        """The kind of edge that the ends of a band are: those at a zip are as the front edges."""
        ends_in_front = band == "neckband" or (band == "hem band" and not self.has_tabs)
        return "front" if self.zip_edge and ends_in_front else "end"

    def give(self, piece: Piece) -> Piece:
        """A piece with the allowance of each of its edges; folds have none."""
        kinds: Mapping[str, EdgeKind] = KINDS
        if piece.name in BANDS:
            along: EdgeKind = BANDS[piece.name]
            end = self.end_of(piece.name)
            kinds = {"edge": along, "other edge": along, "end": end, "other end": end}
        edges = tuple(
            replace(edge, allowance=self.of(kinds[edge.name])) if edge.kind == "seam" and edge.name in kinds else edge
            for edge in piece.edges
        )
        return replace(piece, edges=edges)
