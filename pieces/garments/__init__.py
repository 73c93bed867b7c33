"""Garments that can be drafted, by the name a job file calls them."""

from __future__ import annotations

from pieces.garments.apron import APRON
from pieces.garments.circle_skirt import CIRCLE_SKIRT
from pieces.garments.elastic_trousers import ELASTIC_TROUSERS
from pieces.garments.garment import Garment
from pieces.garments.gathered_skirt import GATHERED_SKIRT
from pieces.garments.gored_skirt import GORED_SKIRT
from pieces.garments.hoodie import HOODIE
from pieces.garments.jacket.style import JacketStyle
from pieces.garments.joggers import JOGGERS
from pieces.garments.pleated_skirt import PLEATED_SKIRT
from pieces.garments.rib_jacket import RIB_JACKET
from pieces.garments.robe import ROBE
from pieces.garments.shirt import SHIRT
from pieces.garments.shorts import SHORTS
from pieces.garments.straight_skirt import STRAIGHT_SKIRT
from pieces.garments.sweatshirt import SWEATSHIRT
from pieces.garments.t_shirt import T_SHIRT
from pieces.garments.tote import TOTE

GARMENTS: dict[str, Garment] = {
    garment.name: garment
    for garment in (
        RIB_JACKET,
        CIRCLE_SKIRT,
        GORED_SKIRT,
        STRAIGHT_SKIRT,
        GATHERED_SKIRT,
        PLEATED_SKIRT,
        SWEATSHIRT,
        HOODIE,
        T_SHIRT,
        ELASTIC_TROUSERS,
        JOGGERS,
        SHORTS,
        SHIRT,
        ROBE,
        APRON,
        TOTE,
    )
}

__all__ = ["GARMENTS", "Garment", "JacketStyle"]
