"""A trim: zip, buttons, thread and the like, as a garment needs it and as it is bought."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

TrimName = Literal[
    "separating zip",
    "zip",
    "buttons or snaps",
    "hook and eye",
    "elastic",
    "cord",
    "thread",
    "overlock thread",
    "label",
    "interfacing",
]
"""What it is; of interfacing only the area is known, as no piece of it is drafted."""


@dataclass(frozen=True)
class TrimNeeded:
    """What one garment needs of something that is not cut of cloth.

    Parameters
    ----------
    name
        What it is.
    where
        Edges, seams or pieces that it is used at.
    count
        How many a garment takes; 0 of what is used by length or by area.
    needed
        The length that the garment takes, mm, such as the edge that a zip closes; 0 where there is none.
    sold
        The length of each one sold, mm; 0 where it has none.
    spacing
        From one to the next, mm; 0 where there are not several in a row.
    width
        Of elastic, mm; else 0.
    area
        Of what is used by area, mm²; else 0.
    at_once
        The fewest that can be worked with, such as the spools on a machine.
    usual
        Whether shops usually sell that length; else it is made to order.
    """

    name: TrimName
    where: tuple[str, ...]
    count: int = 0
    needed: float = 0.0
    sold: float = 0.0
    spacing: float = 0.0
    width: float = 0.0
    area: float = 0.0
    at_once: int = 1
    usual: bool = True

    def bought(self, garments: int, sold: float | None = None) -> int | None:
        """How many to buy for so many garments; None of what is known by its area only.

        Parameters
        ----------
        sold
            The length of each one sold, mm, where it is another than usual.
        """
        if self.area:
            return None
        if self.count:
            return self.count * garments
        return max(self.at_once, ceil(self.needed * garments / (sold or self.sold) - 1e-9))
