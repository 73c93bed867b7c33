"""Spreads: how cloth lies on the table, and the bands that makes of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, get_args

from nesting.band import Band
from nesting.errors import SpreadError

if TYPE_CHECKING:
    from nesting.fabric import Fabric

Spread = Literal["open", "folded", "double-folded", "tube"]

FLAT_SPREADS: tuple[Spread, ...] = ("open", "folded", "double-folded")
"""The spreads of cloth with two selvedges, simplest first."""


def laid_width(fabric: Fabric, spread: Spread) -> float:
    """How wide the cloth lies on the table, selvedges included, mm."""
    return fabric.width if spread == "open" else fabric.width / 2


def spread_cloth(fabric: Fabric, spread: Spread) -> tuple[Band, ...]:
    """The bands of a fabric laid in one way.

    ``"open"``
        A single layer, right side up, between its selvedges.
    ``"folded"``
        Folded lengthwise, right sides together: the fold along the lower edge, the selvedges along the upper.
    ``"double-folded"``
        Both selvedges folded to the middle: a fold along either edge. The selvedges meet in the middle of the
        upper layer, so that no piece may lie across it: two bands.
    ``"tube"``
        A circular knit laid flat, uncut: a fold along either edge, and no selvedge.

    Raises
    ------
    SpreadError
        If the fabric cannot lie that way.
    """
    width, selvedge = fabric.width, fabric.selvedge
    if spread == "open":
        return (Band("single layer", selvedge, width - selvedge, selvedge=selvedge),)
    if spread == "folded":
        return (Band("folded cloth", 0.0, width / 2 - selvedge, 2, True, "fold", "selvedge", selvedge),)
    if spread == "tube":
        if selvedge:
            raise SpreadError(f"'{fabric.name}' lies as a tube, and a tube has no selvedge: leave selvedge out")
        return (Band("tube", 0.0, width / 2, 2, True, "fold", "fold"),)
    if spread == "double-folded":
        quarter = width / 4
        if selvedge >= quarter:
            raise SpreadError(f"'{fabric.name}' is too narrow to fold both selvedges to the middle: lay it open")
        return (
            Band("first fold", 0.0, quarter - selvedge, 2, True, "fold", "selvedge", selvedge),
            Band("second fold", quarter + selvedge, width / 2, 2, True, "selvedge", "fold", selvedge),
        )
    raise SpreadError(f"unknown spread {spread!r}: choose one of {', '.join(get_args(Spread))}")
