"""Consumption: what each garment really takes of the cloth, in the lays that are cut."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from nesting.lays.order import ColourSize
    from nesting.lays.plan import Lay


class Measured(Protocol):
    """A lay or a marker: it is so long, mm."""

    @property
    def length(self) -> float:
        """Its length, mm."""
        ...


def ply_length(lay: Measured, end_allowance: float) -> float:
    """Length of cloth that a ply of a lay, or under a marker, takes, mm, its allowance at both ends included."""
    return lay.length + 2 * end_allowance


def consumption(
    lays: Iterable[Lay], sizes: Sequence[str], areas: Mapping[str, float], end_allowance: float
) -> dict[ColourSize, float]:
    """Length of cloth that a garment of each colour and size takes, mm, the mean over all lays.

    A ply is shared out among the garments on it by the area of their pieces: common practice, no source.
    """
    taken: dict[ColourSize, float] = defaultdict(float)
    cut: dict[ColourSize, int] = defaultdict(int)
    for lay in lays:
        area = sum(areas[size] * number for size, number in zip(sizes, lay.mix, strict=True))
        for colour, plies in lay.plies.items():
            for size, number in zip(sizes, lay.mix, strict=True):
                if number and plies:
                    taken[colour, size] += plies * ply_length(lay, end_allowance) * areas[size] * number / area
                    cut[colour, size] += plies * number
    return {kind: taken[kind] / cut[kind] for kind in taken}
