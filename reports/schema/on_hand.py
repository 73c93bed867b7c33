"""What an answer says of what is on hand, where the ledger was asked."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from reports.schema.sealed import Sealed

_For = TypedDict("_For", {"for": list[str]})


class StockTakeAnswer(_For, Sealed):
    """What is taken of a thing on hand, in mm or pieces: each of the lengths whole, for the tickets that are named."""

    item: str
    number: int
    amounts: list[float]


class OnHandAnswer(Sealed):
    """A cloth, a rib or a trim: what on hand covers of it. If it is `whole`, nothing is to be bought.

    `fitted` is a narrower thing for whose width all pieces were laid and checked; for those `tried` no layout was
    found. `to_buy` says what is missing.
    """

    name: str
    kind: Literal["cloth", "rib", "trim"]
    unit: Literal["mm", "pieces"]
    whole: bool
    takes: list[StockTakeAnswer]
    fitted: str | None
    tried: list[str]
    to_buy: str
    buy_mm: float | None
    cost: float | None
