"""Garments that can be drafted, by the name a job file calls them."""

from __future__ import annotations

from pieces.garments.elastic_trousers import ELASTIC_TROUSERS
from pieces.garments.garment import Garment
from pieces.garments.jacket.style import JacketStyle
from pieces.garments.joggers import JOGGERS
from pieces.garments.rib_jacket import RIB_JACKET
from pieces.garments.shorts import SHORTS

GARMENTS: dict[str, Garment] = {garment.name: garment for garment in (RIB_JACKET, ELASTIC_TROUSERS, JOGGERS, SHORTS)}

__all__ = ["GARMENTS", "Garment", "JacketStyle"]
