"""Prices of trims, as a job's entries give them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pydantic import model_validator

from pieces.units import format_both, spoken
from reports.ask.offer import Dimension, FileTable, PriceText
from reports.errors import PriceError

if TYPE_CHECKING:
    from decimal import Decimal

SPOOLED = ("thread", "overlock thread")
"""Trims that are used by length, and sold by the spool."""

CUT = ("elastic", "cord")
"""Trims that are cut off a roll, and priced by length."""


LEAST_SPOOL, LEAST_STEP = 1000.0, 10.0
"""No spool has less thread, and no elastic is cut in shorter steps, mm."""


class TrimOffer(FileTable):
    """A ``[[trim]]`` entry: what one of them costs; what a spool holds, or in which step elastic and cord are cut."""

    name: Literal[
        "separating zip",
        "zip",
        "buttons or snaps",
        "hook and eye",
        "elastic",
        "cord",
        "thread",
        "overlock thread",
        "label",
    ]
    price: PriceText
    sold_by: Dimension | None = None

    @model_validator(mode="after")
    def _agrees(self) -> TrimOffer:
        if self.sold_by is not None and self.name not in (*SPOOLED, *CUT):
            raise ValueError(
                "sold_by is the length on a spool of thread, or the step of elastic or cord: leave it out for"
                f" '{self.name}'"
            )
        least = LEAST_SPOOL if self.name in SPOOLED else LEAST_STEP
        if self.sold_by is not None and self.sold_by < least:
            raise ValueError(f"sold_by of '{self.name}' is {format_both(least)} or more: check its unit")
        if self.name in CUT:
            if self.price.kind != "length":
                yd = spoken("yd", "m")
                raise PriceError(f"'{self.name}' is sold by length: give its price for each {yd}")
            return self
        if self.price.kind != "piece" and not (self.price.kind == "length" and self.name in SPOOLED):
            yd = spoken("yd", "m")
            by_length = f", or for each {yd}" if self.name in SPOOLED else ""
            raise PriceError(f"'{self.name}' is sold by the piece: give its price for each piece{by_length}")
        return self

    def cost(self, count: int, sold: float) -> Decimal:
        """What so many cost; `sold` is the length on each spool, mm."""
        return self.price.of(count if self.price.kind == "piece" else count * sold)
