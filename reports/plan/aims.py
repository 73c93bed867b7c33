"""Lengths of a marker that are worth reaching: with which less is bought."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.ask.offer import FabricOffer

FINEST = 0.001
"""To what, mm, the length is found at which less would be bought."""


@dataclass(frozen=True)
class PurchaseAims:
    """For a marker's length the longest with which the next smaller purchase is enough, mm.

    Parameters
    ----------
    offer
        How the cloth is sold.
    lengths
        How many lengths of cloth lie on one another.
    on_pattern
        Whether its pattern is matched.
    """

    offer: FabricOffer
    lengths: int = 1
    on_pattern: bool = False

    def __call__(self, length: float) -> float | None:
        """The next length worth reaching; None where no less is sold."""
        now = self._enough(length)
        if self._enough(0.0) >= now:
            return None
        short, long = 0.0, length
        while long - short > FINEST:
            middle = (short + long) / 2
            if self._enough(middle) < now:
                short = middle
            else:
                long = middle
        return short

    def _enough(self, length: float) -> float:
        return self.offer.purchase(length, self.lengths, on_pattern=self.on_pattern).enough
