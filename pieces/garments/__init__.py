"""Garments that can be drafted, by the name a job file calls them."""

from __future__ import annotations

from pieces.garments.circle_skirt import CIRCLE_SKIRT
from pieces.garments.garment import Garment
from pieces.garments.gathered_skirt import GATHERED_SKIRT
from pieces.garments.gored_skirt import GORED_SKIRT
from pieces.garments.jacket.style import JacketStyle
from pieces.garments.pleated_skirt import PLEATED_SKIRT
from pieces.garments.rib_jacket import RIB_JACKET
from pieces.garments.straight_skirt import STRAIGHT_SKIRT

GARMENTS: dict[str, Garment] = {
    garment.name: garment
    for garment in (
        RIB_JACKET,
        CIRCLE_SKIRT,
        GORED_SKIRT,
        STRAIGHT_SKIRT,
        GATHERED_SKIRT,
        PLEATED_SKIRT,
    )
}

__all__ = ["GARMENTS", "Garment", "JacketStyle"]
