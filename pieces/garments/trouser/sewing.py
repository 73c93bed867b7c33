"""The order in which trousers are sewn: flat as long as that goes, then leg into leg. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.parts.casing import TURNED_UNDER
from pieces.garments.planned import edges_named, edges_of_seams, named, sewing_table, steps_by
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.planned import Planned
    from pieces.garments.sewing import SewingStep
    from pieces.garments.trouser.style import TrouserStyle
    from pieces.piece.pieces import PieceSet


def trouser_steps(drafted: PieceSet, style: TrouserStyle) -> tuple[SewingStep, ...]:
    """The steps of trousers, in their order; what they have not is left out."""
    every = (*_legs(drafted, style), *_ends(drafted, style))
    table = sewing_table("trousers")
    words = {
        "casing": format_both(drafted.measures["casing_depth"]),
        "under": format_both(TURNED_UNDER),
        "hem": format_both(style.turned_up),
        "elastic": format_both(drafted.measures["waist_elastic"]),
        "cord": table["cord-in"][style.cord],
        "holes": table["holes"][style.casing],
        "pocket": table["pocket-in-side"][style.pockets],
    }
    return tuple(steps_by("trousers", every, **words))


def _legs(drafted: PieceSet, style: TrouserStyle) -> Iterator[Planned]:
    """Pockets, and the seams of the legs."""
    legs = named(drafted, "front", "back")
    if style.pockets == "patch":
        yield "patch", (), named(drafted, "back", "patch pocket")
    if style.pockets == "side-seam":
        yield "side-seam", edges_named(drafted, ("pocket bag", "mouth")), named(drafted, "front", "back", "pocket bag")
    if style.cord == "cord":
        yield "cord-holes", (), named(drafted, "waistband") or named(drafted, "front")
    yield "side", edges_of_seams(drafted, "side") + edges_named(drafted, ("pocket bag", "bag")), legs
    yield "inseam", edges_of_seams(drafted, "inseam"), legs
    yield "crotch", edges_named(drafted, ("front", "crotch"), ("back", "crotch")), legs


def _ends(drafted: PieceSet, style: TrouserStyle) -> Iterator[Planned]:
    """Waist and hems."""
    if style.casing == "grown-on":
        yield "casing", edges_named(drafted, ("front", "waist"), ("back", "waist")), ()
    elif style.casing == "separate":
        yield "strip-ends", edges_named(drafted, ("waistband", "front end"), ("waistband", "back end")), ()
        yield "strip", edges_of_seams(drafted, "waistband"), ()
    else:
        yield "rib-ends", edges_of_seams(drafted, "waistband ends"), ()
        waist = edges_named(drafted, ("waistband", "edge"), ("front", "waist"), ("back", "waist"))
        yield "rib-waist", waist, ()
    yield "elastic", (), named(drafted, "waistband") or named(drafted, "front", "back")
    if style.turned_up:
        yield "hem", edges_named(drafted, ("front", "hem"), ("back", "hem")), ()
    else:
        yield "cuff-rings", edges_of_seams(drafted, "cuff"), ()
        yield "cuffs", edges_named(drafted, ("cuff", "edge"), ("front", "hem"), ("back", "hem")), ()
    yield "last", (), named(drafted, "front", "back")
