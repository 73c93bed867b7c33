"""The order in which a skirt is sewn in class: pieces first, then the seams, the waist, and the hem last.

Common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.planned import edges_of_seams, named, sewing_table, steps_by

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.planned import Edges, Planned
    from pieces.garments.sewing import SewingStep
    from pieces.garments.skirt.style import SkirtStyle
    from pieces.piece.pieces import PieceSet


def skirt_steps(drafted: PieceSet, style: SkirtStyle) -> tuple[SewingStep, ...]:
    """The steps of a skirt, in their order; what it has not is left out."""
    shell = tuple(piece.name for piece in drafted.of("shell") if _edges(drafted, piece.name, "hem"))
    make = getattr(style, "waistband", "folded")
    words = {"fold": sewing_table("skirt")["fold"].get(make, "")}
    return tuple(steps_by("skirt", _planned(drafted, shell), **words))


def _planned(drafted: PieceSet, shell: tuple[str, ...]) -> Iterator[Planned]:
    yield "interfacing", (), tuple(piece.name for piece in drafted.of("interfacing"))
    yield "panels", edges_of_seams(drafted, "panels", "front gore"), ()
    yield "centre-back", edges_of_seams(drafted, "centre back"), ()
    yield "zip", (), shell
    yield "band-layers", edges_of_seams(drafted, "upper edge of the waistband"), ()
    yield "waistband", edges_of_seams(drafted, "waist"), ()
    yield "hook", (), named(drafted, "waistband")
    yield "hang", (), shell * (drafted.garment == "circle-skirt")
    yield "hem", tuple(edge for name in shell for edge in _edges(drafted, name, "hem")), ()


def _edges(drafted: PieceSet, piece: str, edge: str) -> Edges:
    return tuple((piece, each.name) for each in drafted[piece].edges if each.name == edge)
