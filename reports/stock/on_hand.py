"""What an answer says of what is on hand: you have it, of what to cut it, and what is still to buy."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pieces.units import format_size
from reports.money.lengths import write_need

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from pieces.units import Units
    from reports.stock.cover import Cover, StockTake
    from reports.stock.item import StockItem

MEASURE = "By the ledger: measure it, and look it over for flaws, before you cut."


@dataclass(frozen=True)
class FittedRemnant:
    """A remnant that is narrower, or a roll: the pieces were laid for its width, and the marker was checked.

    Parameters
    ----------
    command
        What draws the marker.
    """

    item: StockItem
    command: str


@dataclass(frozen=True)
class OnHand:
    """What on hand does for a cloth, a rib or a trim.

    Parameters
    ----------
    to_buy, buy_mm, cost
        What is still to buy: in words, its length or None of what is counted, and its cost if it has a price.
    fitted
        Where nothing covers it: a narrower thing that holds all pieces in a layout of its own.
    tried
        Narrower things for which no layout was found.
    """

    cover: Cover
    to_buy: str = ""
    buy_mm: float | None = None
    cost: Decimal | None = None
    fitted: FittedRemnant | None = None
    tried: tuple[StockItem, ...] = ()

    @property
    def name(self) -> str:
        """What it is."""
        return self.cover.need.name


def on_hand_lines(found: tuple[OnHand, ...], units: Units) -> Iterator[str]:
    """What is said of each, and once that it is to be measured."""
    for one in found:
        yield _line(one, units)
    if any(one.cover.takes or one.fitted for one in found):
        yield MEASURE


def _line(one: OnHand, units: Units) -> str:
    cover = one.cover
    if one.fitted:
        item = one.fitted.item
        width = format_size(item.width or 0.0, item.units)
        laid = f"all pieces fit on it by a layout for its width, {width}, laid and checked"
        return f"You have {one.name}: {item.label}; {laid}. To draw it:  {one.fitted.command}"
    takes = ", ".join(_take(take, units) for take in cover.takes)
    if cover.is_whole:
        return f"You have {one.name}: {takes}. Nothing to buy of it."
    if cover.takes:
        return f"You have part of {one.name}: {takes}. Still to buy: {one.to_buy}{_price(one)}."
    return f"{one.name}: {_why_not(one, units)}. To buy: {one.to_buy}{_price(one)}."


def _take(take: StockTake, units: Units) -> str:
    groups = f" for {', '.join(group for group in take.groups if group)}" if any(take.groups) else ""
    if not take.item.by_length:
        return f"{take.amount:g} of {take.item.label}{groups}"
    if len(take.amounts) == 1:
        return f"{write_need(take.amount, units)} of {take.item.label}{groups}"
    each = f"{len(take.amounts)} lengths, {write_need(take.amount, units)} in all,"
    return f"{each} of {take.item.label}{groups}"


def _why_not(one: OnHand, units: Units) -> str:
    """Why nothing was found: nothing of the name, all too narrow, or none that holds it."""
    cover, longest = one.cover, one.cover.longest
    if not cover.known:
        return "none on hand by that name"
    if one.tried:
        names = ", ".join(item.label for item in one.tried)
        return f"no layout was found for the width of {names}"
    if longest is None:
        widths = {format_size(item.width, item.units) for item in cover.known if item.width}
        return f"what is on hand has another width, {' or '.join(sorted(widths))}, and this was not laid for it"
    if not cover.need.by_length:
        return f"too few on hand, {longest.label} has {longest.write(longest.left)}"
    need = max(max(group.amounts) for group in cover.missing)
    return (
        f"nothing on hand was found for it; it takes {write_need(need, units)} in one piece, and the longest is"
        f" {longest.label} with {longest.write(longest.left)}"
    )


def _price(one: OnHand) -> str:
    return "" if one.cost is None else f" for {one.cost:.2f}"


def on_hand_to_plain(found: tuple[OnHand, ...]) -> list[dict[str, Any]]:
    """The same for machines; lengths in mm."""
    return [
        {
            "name": one.name,
            "kind": one.cover.need.kind,
            "unit": "mm" if one.cover.need.by_length else "pieces",
            "whole": one.cover.is_whole or one.fitted is not None,
            "takes": [
                {"item": take.item.label, "number": take.item.number, "amounts": list(take.amounts),
                 "for": [group for group in take.groups if group]}
                for take in one.cover.takes
            ],
            "fitted": one.fitted.item.label if one.fitted else None,
            "tried": [item.label for item in one.tried],
            "to_buy": one.to_buy,
            "buy_mm": one.buy_mm,
            "cost": None if one.cost is None else float(one.cost),
        }
        for one in found
    ]  # fmt: skip
