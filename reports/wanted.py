"""What a marker has to give, as the independent check needs it: pieces as drafted, how often, and their cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.verify import Asked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.spread import Spread
    from pieces import Piece
    from reports.offer import FabricOffer


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
