"""The order in which a skirt is sewn in class: pieces first, then the seams, the waist, and the hem last.

Common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.parts.hem import LEAST
from pieces.garments.planned import edges_of_seams, named, sewing_table, steps_by
from pieces.garments.skirt.trims import faced_without
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.planned import Edges, Planned
    from pieces.garments.sewing import SewingStep
    from pieces.garments.skirt.style import SkirtStyle
    from pieces.piece.pieces import PieceSet


NARROW = 0.75 * INCH
"""A hem that is no deeper is turned in twice, half of it each time."""


def skirt_steps(drafted: PieceSet, style: SkirtStyle) -> tuple[SewingStep, ...]:
    """The steps of a skirt, in their order; what it has not is left out."""
    shell = tuple(piece.name for piece in drafted.of("shell") if _edges(drafted, piece.name, "hem"))
    make = getattr(style, "waistband", "folded")
    table = sewing_table("skirt")
    pleat, turn = getattr(style, "pleat", ""), "none" if style.hem < LEAST else "deep"
    turn = "narrow" if turn == "deep" and style.hem <= NARROW else turn
    words = {
        "fold": table["fold"].get(make, ""),
        "pleat": table["pleat"].get(pleat, ""),
        "under": table["under"].get(pleat, ""),
        "match": table["match"][drafted.garment],
        "turn": table["turn"][turn].format(hem=format_both(style.hem), half=format_both(style.hem / 2)),
        "ease": table["ease"].get(drafted.garment, "") if turn != "none" else "",
        "elastic": format_both(drafted.measures.get("waist_elastic", 0.0)),
    }
    return tuple(steps_by("skirt", _planned(drafted, shell), **words))


def _planned(drafted: PieceSet, shell: tuple[str, ...]) -> Iterator[Planned]:
    darted = tuple(piece.name for piece in drafted if any(notch.name == "dart" for notch in piece.notches))
    yield "cut-open", (), shell if "cut_open" in drafted.measures else ()
    yield "interfacing", (), tuple(piece.name for piece in drafted.of("interfacing"))
    yield "interfacing-by-area", (), faced_without(drafted)
    yield "darts", (), darted
    yield "pockets", (), (*shell, *named(drafted, "pocket bag")) if named(drafted, "pocket bag") else ()
    yield "panels", edges_of_seams(drafted, "panels", "front gore"), ()
    tiers = [seam.name for seam in drafted.seams if seam.name.startswith("tier ")]
    yield "panels", edges_of_seams(drafted, *(name for name in tiers if name.endswith("panels"))), ()
    yield "tiers", edges_of_seams(drafted, *(name for name in tiers if name.endswith("gathers"))), ()
    hem, is_pleated = (
        tuple(edge for name in shell for edge in _edges(drafted, name, "hem")),
        "pleat_fold" in drafted.measures,
    )
    if is_pleated:
        yield "hem", hem, ()
        yield "zip-under", (), shell
        yield "pleats", (), shell
    yield "centre-back", edges_of_seams(drafted, "centre back"), ()
    yield "sides", edges_of_seams(drafted, "sides"), ()
    yield "zip", (), _top(drafted) if "zip_opening" in drafted.measures and not is_pleated else ()
    yield "vent", edges_of_seams(drafted, "vent"), ()
    yield "lining", edges_of_seams(drafted, "lining sides", "lining centre back"), ()
    yield "band-layers", edges_of_seams(drafted, "upper edge of the waistband"), ()
    at_waist = edges_of_seams(drafted, "front lining at the waist", "back lining at the waist")
    banded = edges_of_seams(drafted, "waist")
    gathered = "top_round" in drafted.measures and bool(banded)
    yield "gathers", (), _top(drafted) if gathered else ()
    yield "waistband", banded + tuple(edge for edge in at_waist if banded and edge not in banded), ()
    if "waist_elastic" in drafted.measures:
        yield "casing", tuple((name, "waist") for name in _top(drafted)), ()
    yield "facing-sides", edges_of_seams(drafted, "facing sides"), ()
    faced = edges_of_seams(drafted, "front waist", "back waist")
    yield "facing", faced + tuple(edge for edge in at_waist if faced and edge not in faced), ()
    yield "hook", (), named(drafted, "waistband") or named(drafted, "back facing")
    yield "hang", (), shell * (drafted.garment == "circle-skirt")
    yield "hem", () if is_pleated else hem, ()


def _edges(drafted: PieceSet, piece: str, edge: str) -> Edges:
    return tuple((piece, each.name) for each in drafted[piece].edges if each.name == edge)


def _top(drafted: PieceSet) -> tuple[str, ...]:
    """The pieces of the shell that reach the waist."""
    return tuple(
        piece.name
        for piece in drafted.of("shell")
        if piece.name != "waistband" and not piece.name.endswith("facing")
        if any(edge.name.startswith("waist") for edge in piece.edges)
    )
