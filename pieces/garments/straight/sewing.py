"""The order in which a robe is sewn: flat as long as that goes. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.planned import edges_named, edges_of_seams, named, sewing_table, steps_by
from pieces.garments.straight.panels import at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.planned import Edges, Planned
    from pieces.garments.sewing import SewingStep
    from pieces.garments.straight.style import RobeStyle
    from pieces.piece.pieces import PieceSet

GUSSETS = ("front gusset", "back gusset", "front sleeve gusset", "back sleeve gusset")


def robe_steps(drafted: PieceSet, style: RobeStyle) -> tuple[SewingStep, ...]:
    """The steps of a robe, in their order; what it has not is left out."""
    table = sewing_table("robe")["words"]
    slit = drafted.measures["slit"] > 0
    has_notch = any(notch.name == "belt loop" for piece in drafted for notch in piece.notches)
    words = {
        "facing": table["facing"] if style.in_one and not style.is_open else "",
        "slit": (table["slit-seam"] if style.in_one else table["slit-cut"]) if slit else "",
        "ends": table[f"ends-{style.shoulder}"],
        "loops": table["loops-notch" if has_notch else "loops-free"],
        "foot": table["foot-slit" if style.side_slit else "foot-hem"],
    }
    return tuple(steps_by("robe", (*_flat(drafted, style), *_closed(drafted, style)), **words))


def _flat(drafted: PieceSet, style: RobeStyle) -> Iterator[Planned]:
    """Pockets, centre and shoulder seams, and what is sewn flat to them."""
    patch = named(drafted, "patch pocket")
    yield "pocket", (), (*patch, at(style, "front", "")[0]) if patch else ()
    yield "centre-back", edges_named(drafted, ("body", "centre back")), ()
    yield "centre-front", edges_named(drafted, ("body", "centre front")), ()
    yield "shoulder", edges_of_seams(drafted, "shoulder"), ()
    if not style.is_open:
        yield from _neck(drafted, style)
    yield "sleeves", edges_of_seams(drafted, "armhole"), ()
    yield "gussets", edges_of_seams(drafted, *GUSSETS), ()


def _neck(drafted: PieceSet, style: RobeStyle) -> Iterator[Planned]:
    """What finishes neck and front edges."""
    if style.neckline == "facing":
        joined = edges_named(drafted, ("front facing", "centre front"))
        yield "facing-shoulder", edges_of_seams(drafted, "facing shoulder") + joined, ()
        sewn = edges_of_seams(drafted, "front neckline", "back neckline", "slit", "front edge")
        yield f"facing-{style.front}", sewn, ()
    elif style.is_open:
        yield "band-join", edges_named(drafted, ("front band", "centre back")), ()
        yield "band", edges_of_seams(drafted, "front band"), ()
    else:
        yield "slit-facing", (), (*named(drafted, "slit facing"), "front") if named(drafted, "slit facing") else ()
        yield "slit-open", edges_named(drafted, ("body", "slit")), ()
        yield "neckband", edges_of_seams(drafted, "neckband"), ()


def _closed(drafted: PieceSet, style: RobeStyle) -> Iterator[Planned]:
    """EdgeFrom seams, hems, and of an open front its edges."""
    yield "loops", (), named(drafted, "belt loop")
    yield "side-and-underarm", edges_of_seams(drafted, "side", "underarm"), ()
    yield "side-slits", _both(drafted, style, "side slit"), ()
    hem = _both(drafted, style, "hem")
    if style.is_open and style.neckline == "facing":
        yield from _neck(drafted, style)
        yield "hem", hem + edges_named(drafted, ("front facing", "hem")), ()
    else:
        yield "hem", hem, ()
        if style.is_open:
            yield from _neck(drafted, style)
    yield "wrist", edges_named(drafted, ("sleeve", "wrist")), ()
    yield "belt", (), named(drafted, "belt")
    yield "last", (), (drafted.pieces[0].name,)


def _both(drafted: PieceSet, style: RobeStyle, edge: str) -> Edges:
    """An edge of front and back."""
    return edges_named(drafted, at(style, "front", edge), at(style, "back", edge))
