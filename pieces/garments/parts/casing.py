"""A casing for elastic, grown on to the upper edge of a waist. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.trims.stock import elastic_for
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.trims.trim import TrimNeeded

SNUG = 0.95
"""How long elastic is as it lies, as a share of the waist it is for."""

TURNED_UNDER = INCH / 4
"""The raw edge that is turned under at the foot of a casing."""


def casing_allowance(depth: float) -> float:
    """What is cut on beyond the upper edge of the garment for a casing of a finished depth, mm."""
    return depth + TURNED_UNDER


def waist_elastic(waist: float) -> float:
    """How long the elastic for a body's waist is as it lies, joined, mm."""
    return SNUG * waist


def elastic_for_waist(length: float, depth: float) -> TrimNeeded:
    """The elastic to buy for a length by `waist_elastic`, in a casing of a finished depth, mm."""
    return elastic_for(length, depth, ("waist",))
