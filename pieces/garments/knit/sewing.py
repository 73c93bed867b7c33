"""The order in which a knit top is sewn in class: flat as long as that goes. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.planned import edges_named, edges_of_seams, named, steps_by

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.knit.style import KnitStyle
    from pieces.garments.planned import Planned
    from pieces.garments.sewing import SewingStep
    from pieces.piece.pieces import PieceSet

NECKS = (("back", "neck"), ("front", "neck"))
HEMS = (("back", "hem"), ("front", "hem"))
POCKET = ("top", "pocket side", "mouth", "bottom")


def top_steps(drafted: PieceSet, style: KnitStyle) -> tuple[SewingStep, ...]:
    """The steps of a knit top, in their order; what it has not is left out."""
    return tuple(steps_by("knit", _planned(drafted, style)))


def _planned(drafted: PieceSet, style: KnitStyle) -> Iterator[Planned]:
    has = {piece.name for piece in drafted}
    yield "ready", (), named(drafted, "back")
    if "kangaroo pocket" in has:
        pocket = edges_named(drafted, *(("kangaroo pocket", edge) for edge in POCKET))
        yield "pocket", pocket, named(drafted, "front")
    yield "shoulder", edges_of_seams(drafted, "shoulder"), ()
    if "neckband" in has:
        yield "neckband-ring", edges_of_seams(drafted, "neckband"), ()
        yield "neckband", edges_named(drafted, ("neckband", "edge"), ("neckband", "other edge"), *NECKS), ()
    yield "sleeve", edges_of_seams(drafted, "front armhole", "back armhole"), ()
    yield "side", edges_of_seams(drafted, "side", "underarm"), ()
    if "hood" in has:
        yield "hood-made", edges_named(drafted, ("hood", "over the head"), ("hood", "face")), ()
        yield "hood", edges_of_seams(drafted, "hood"), ()
    yield "rings", edges_of_seams(drafted, "cuff", "hem band"), ()
    cuffs = (("cuff", "edge"), ("cuff", "other edge"), ("sleeve", "wrist"))
    if "cuff" in has:
        yield "cuffs", edges_named(drafted, *cuffs), ()
        yield "hem-band", edges_named(drafted, ("hem band", "edge"), ("hem band", "other edge"), *HEMS), ()
    else:
        yield "hems", edges_named(drafted, *HEMS, ("sleeve", "hem")), ()
    yield "label", (), named(drafted, "back")
    yield "last", (), named(drafted, "front")
