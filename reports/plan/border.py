"""Cloth with a border print: whether there are edges to lie on it, and which leave it as they curve."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.problem.border import along_border, off_border
from pieces.garments.knit.style import KnitStyle
from pieces.units import format_need
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pieces import Piece, PieceSet
    from pieces.units import Units
    from reports.ask.offer import FabricOffer
    from reports.ask.recipe import Recipe

STRAIGHT = 1.0
"""An edge that leaves the border by no more, mm, is straight."""

MOST_CURVED = 0.25
"""An edge that leaves the border by more, as a share of how far it runs along it, does not lie on it."""


def refuse_knit(offer: FabricOffer, garment: Recipe, pieces: PieceSet) -> None:
    """Make sure that no knit garment lies on a border: across the cloth its stretch would run up and down the body."""
    edges = {edge.name for piece in pieces.of(offer.material) for edge in piece.edges}
    if edges & set(offer.border_edges) and isinstance(garment.styled(), KnitStyle):
        raise JobError(
            f"{offer.name}: on a border {garment.title} lies across the cloth, and a knit's stretch must run round the"
            " body: leave border and border_edges out"
        )


def check_border(offer: FabricOffer, where: str, cut: Sequence[Piece]) -> None:
    """Make sure that each edge named is one of the pieces cut of a cloth, and that none of them has two.

    Parameters
    ----------
    where
        The cloth, such as ``"job.toml: [[fabric]] lawn"``.

    Raises
    ------
    JobError
        If not.
    """
    edges = {piece.name: list(dict.fromkeys(edge.name for edge in piece.edges if edge.name)) for piece in cut}
    known = sorted({edge for names in edges.values() for edge in names})
    for name in offer.border_edges:
        if name not in known:
            raise JobError(
                f"{where}: border_edges: no piece of this cloth has an edge '{name}': choose of {', '.join(known)}"
            )
    for piece, names in edges.items():
        both = [name for name in names if name in offer.border_edges]
        if len(both) > 1:
            raise JobError(
                f"{where}: border_edges: '{piece}' has {' and '.join(both)}, and only one can lie on the border: name"
                " that one"
            )
    for one in (replace(piece, border=offer.border_edge(piece)) for piece in cut if offer.border_edge(piece)):
        if off_border(one) > MOST_CURVED * along_border(one):
            raise JobError(
                f"{where}: border_edges: the edge '{one.border}' of '{one.name}' is too curved to lie on a border: cut"
                " it in more panels, or name the pieces of another cloth"
            )


def border_lines(offer: FabricOffer, cut: Sequence[Piece], units: Units) -> Iterator[str]:
    """A line for each edge that is curved, so that it leaves the border."""
    for piece in cut:
        off = off_border(piece) if offer.border and piece.border else 0.0
        if off > STRAIGHT:
            yield (
                f"{piece.name}: on {offer.name} its edge '{piece.border}' is curved: it touches the border where it"
                f" reaches farthest, and leaves it by up to {format_need(off, units)}"
            )
