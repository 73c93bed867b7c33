"""A lay: cloth spread in plies under one marker; and what lays cost."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nesting.lays.order import ColourSize, LayCosts, Mix, StyleOrder


@dataclass(frozen=True)
class Lay:
    """Cloth spread in plies under one marker, to be cut at once.

    Parameters
    ----------
    mix
        Garments of each size in the marker.
    plies
        Plies of each colour.
    length
        The marker's length, mm, without what is lost at its ends.
    """

    mix: Mix
    plies: Mapping[str, int]
    length: float

    @property
    def height(self) -> int:
        """Plies of all colours."""
        return sum(self.plies.values())


def price_lays(lays: Sequence[Lay], costs: LayCosts, order: StyleOrder) -> float:
    """What lays cost: cloth, spreading, cutting, setting up, and each different marker once.

    What they cut beyond the order costs besides, and so does what they leave out of it.
    """
    cut: Counter[ColourSize] = Counter()
    for lay in lays:
        for size, garments in zip(order.sizes, lay.mix, strict=True):
            for colour, plies in lay.plies.items():
                cut[colour, size] += garments * plies
    return (
        sum(costs.of_ply(colour, lay.length) * number for lay in lays for colour, number in lay.plies.items())
        + sum(costs.of_lay(lay.mix, lay.length) for lay in lays)
        + costs.marker * len({lay.mix for lay in lays})
        + sum(costs.of_number(cell, cut[cell], order.asked_of(cell)) for cell in order.cells)
    )
