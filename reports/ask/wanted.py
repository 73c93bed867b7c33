"""What a marker has to give, as the independent check needs it: pieces as drafted, how often, and their cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast, get_args

from nesting.cloth.spread import Spread
from nesting.errors import CheckError
from nesting.verify import Asked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces import Piece
    from reports.ask.marker_file import MarkerSaid
    from reports.ask.offer import FabricOffer


def asked_of(
    offer: FabricOffer, spread: Spread, pieces: Sequence[Piece], garments: int, depth: float | None = None
) -> Asked:
    """What a marker of some pieces on one cloth has to give.

    Parameters
    ----------
    spread, depth
        How the cloth lies, and how far it is folded over where it is in part.
    """
    return Asked.of(
        pieces,
        offer.fabric(),
        spread,
        garments=garments,
        waste_twins=offer.waste_twins,
        depth=depth,
        plies=offer.plies,
        flaws=offer.faults,
    )


def asked_as_said(
    said: MarkerSaid, offer: FabricOffer, pieces: Sequence[Piece], garments: int, *, any_way: bool = False
) -> Asked:
    """What is asked of a marker that lies as its file says.

    Parameters
    ----------
    any_way
        Whether nothing was asked of how the cloth is to lie.

    Raises
    ------
    CheckError
        If the cloth is not to lie so.
    """
    if said.spread not in (get_args(Spread) if any_way else offer.spreads()):
        ways = offer.spreads()
        to_lie = f"in one of these ways: {', '.join(ways)}" if len(ways) > 1 else offer.spread
        raise CheckError(f"the marker lies {said.spread}, and '{offer.name}' is to lie {to_lie}")
    spread = cast("Spread", said.spread)
    return asked_of(offer, spread, pieces, garments, offer.depth_of(spread, said.fold_depth))
