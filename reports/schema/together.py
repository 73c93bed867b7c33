"""What `buy` answers of several garments laid together: their shares, and what each takes by itself."""

from __future__ import annotations

from typing import Literal

from nesting.cloth.spread import Spread
from reports.schema.sealed import Sealed


class TogetherGarmentAnswer(Sealed):
    """One of the garments; `cost` is that of its cloth and rib, null where a price is missing."""

    label: str
    garment: str
    title: str
    quantity: int
    cost: float | None


class PartAnswer(Sealed):
    """What one garment takes of a cloth or rib, by the area of its pieces; the parts add up to the whole."""

    label: str
    percent: float
    mm: float | None
    shown: str
    cost: float | None


class SharesAnswer(Sealed):
    """A cloth or rib to buy, parted among the garments; `number` counts the cloths or the ribs of the job from 1."""

    kind: Literal["fabric", "rib"]
    number: int
    name: str
    currency: str
    parts: list[PartAnswer]


class AloneGarmentAnswer(Sealed):
    """One garment laid and bought for by itself; where that cannot be, `refused` says why, and figures are null."""

    label: str
    quantity: int
    refused: str
    marker_mm: float | None
    buy_mm: float | None
    buy: str | None
    cost: float | None
    spread: Spread | None
    bound_mm: float | None
    seed: int | None
    effort: float | None


class AloneAnswer(Sealed):
    """A cloth, and what is bought of it together and one at a time; `saved_mm` is below 0 where that takes less."""

    number: int
    name: str
    together_mm: float
    alone_mm: float | None
    saved_mm: float | None
    saved_cost: float | None
    each: list[AloneGarmentAnswer]


class TogetherAnswer(Sealed):
    """Several garments of a job; `alone` is empty where they were not searched one at a time."""

    garments: list[TogetherGarmentAnswer]
    shares: list[SharesAnswer]
    alone: list[AloneAnswer]
