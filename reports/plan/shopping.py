"""The shopping list: the best cloth and rib of each part, and the trims, with where each is used."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING, Any, Literal

from pieces.garments.together import labelled
from pieces.trims.summed import sum_trims
from pieces.units import INCH, Units, format_size
from reports.ask.imported import IMPORTED
from reports.ask.shape import SHAPES
from reports.ask.trim import CUT
from reports.money.yardage import Increment
from reports.plan.answers import FabricPlan
from reports.plan.best import best_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from pieces.trims.trim import TrimNeeded
    from reports.ask.trim import TrimOffer
    from reports.money.price import Price
    from reports.plan.best import Best
    from reports.plan.plan import Plan

MOST_PLACES = 3
"""Places that are named one by one in the table; JSON has all of them."""

AS_IF_BOUGHT = "What you have is in this list all the same, as if it were bought."

METRIC_STEP = 100.0
"""Elastic is sold by so much where answers are metric, mm: common practice, no source."""

SQUARE_METRE = 1e6
SQUARE_YARD = 914.4**2

ShoppingKind = Literal["cloth", "rib", "trim"]


@dataclass(frozen=True)
class ShoppingLine:
    """Something to buy.

    Parameters
    ----------
    kind, name
        What it is.
    buy
        How much, in words; what is not worked out says so.
    where
        The part, the bands, or the edges and seams that it is for.
    sold_by
        The step in which it is sold, in words.
    price, cost
        The price of a unit, and what all of it costs; None where no price is given.
    count, sold
        How many, and the length of each one, mm; None for cloth and for rib by length. Of what is cut off a roll no
        number, and the whole length.
    trim
        What the garment needs, where it is a trim.
    """

    kind: ShoppingKind
    name: str
    buy: str
    where: tuple[str, ...]
    sold_by: str = ""
    price: Price | None = None
    cost: Decimal | None = None
    count: int | None = None
    sold: float | None = None
    trim: TrimNeeded | None = None


def trims_of(plan: Plan) -> tuple[TrimNeeded, ...] | None:
    """The trims of one garment, or of several together; None where none are known, as of imported pieces."""
    known = [(member, member.job.model().trims) for member in plan.members]
    if not any(trims for _, trims in known):
        return None
    return sum_trims(
        (member.quantity, replace(trim, where=tuple(labelled(member.label, place) for place in trim.where)))
        for member, trims in known
        if trims
        for trim in trims(member.pieces, member.job.styled())
    )


def _trims_unknown(plan: Plan) -> list[str]:
    """The garments whose trims are not known."""
    return [member.label for member in plan.members if member.job.model().trims is None]


def shopping_of(plan: Plan) -> tuple[ShoppingLine, ...]:
    """Everything to buy for all garments of a job; what the job offers nothing for is named as well."""
    best = best_of(plan)
    lines = [_offered(one, plan) for one in best]
    offered = {one.answer.offer.material if isinstance(one.answer, FabricPlan) else "rib" for one in best}
    for material in dict.fromkeys(piece.material for piece in plan.pieces):
        if material not in offered:
            names = tuple(piece.name for piece in plan.pieces.of(material))
            kind: ShoppingKind = "rib" if material == "rib" else "cloth"
            lines.append(ShoppingLine(kind, material, "not worked out: the job offers none", names))
    return (*lines, *(_needed(trim, plan) for trim in trims_of(plan) or ()))


def _offered(best: Best, plan: Plan) -> ShoppingLine:
    answer = best.answer
    if isinstance(answer, FabricPlan):
        offer, bought = answer.offer, answer.purchase
        price = offer.price_for(bought.buy)
        return ShoppingLine("cloth", offer.name, bought.text, (offer.part,), offer.sold_by.text, price, answer.cost)
    step = answer.offer.step
    where = tuple(piece.name for piece in plan.pieces.of("rib"))
    by, count = (step, answer.plan.count) if isinstance(step, str) else (step.text, None)
    return ShoppingLine("rib", answer.offer.name, answer.text, where, by, answer.offer.price, answer.cost, count)


def _needed(trim: TrimNeeded, plan: Plan) -> ShoppingLine:
    offer = next((one for one in plan.job.trim if one.name == trim.name), None)
    return trim_line(trim, plan.job.garments, plan.job.written_in, offer)


def trim_line(trim: TrimNeeded, garments: int, units: Units, offer: TrimOffer | None = None) -> ShoppingLine:
    """What to buy of a trim for so many garments; with its cost, where it is offered at a price."""
    if trim.name in CUT:
        return _by_length(trim, garments, units, offer)
    sold = (offer and offer.sold_by) or trim.sold or None
    count = trim.bought(garments, sold)
    if count is None:
        return ShoppingLine("trim", trim.name, _area(trim.area * garments, units), trim.where)
    by_spool = not trim.count
    length = "" if sold is None else f"{sold / 1000:g} m" if by_spool else format_size(sold, units)
    buy = str(count)
    if length:
        buy += f" spool{'' if count == 1 else 's'} of {length}" if by_spool else f", {length} long"
    price, cost = (offer.price, offer.cost(count, sold or 0.0)) if offer else (None, None)
    by = "spool" if by_spool else "piece"
    return ShoppingLine("trim", trim.name, buy, trim.where, by, price, cost, count, sold, trim)


def _by_length(trim: TrimNeeded, garments: int, units: Units, offer: TrimOffer | None) -> ShoppingLine:
    """What is cut off a roll: whole steps of a length, as wide as it says."""
    in_inches = units is Units.INCHES
    usual = Increment(trim.sold, "1/8 yd") if in_inches else Increment(METRIC_STEP, "10 cm")
    step = usual if offer is None or offer.sold_by is None else Increment(offer.sold_by, "1 yd" if in_inches else "1 m")
    count = trim.bought(garments, step.mm) or 0
    length = count * step.mm
    buy = step.write(length) + (f", {format_size(trim.width, units)} wide" if trim.width else "")
    price, cost = (offer.price, offer.cost(count, step.mm)) if offer else (None, None)
    return ShoppingLine("trim", trim.name, buy, trim.where, step.write(step.mm), price, cost, None, length, trim)


SMALL = 0.1
"""A share of a square yard or metre below which an area is told in square inches or centimetres."""


def _area(area: float, units: Units) -> str:
    """An area for which no pieces are drafted."""
    if units is Units.INCHES:
        written = f"{area / SQUARE_YARD:.2f} sq yd" if area >= SMALL * SQUARE_YARD else f"{ceil(area / INCH**2)} sq in"
    else:
        written = f"{area / SQUARE_METRE:.2f} m²" if area >= SMALL * SQUARE_METRE else f"{ceil(area / 100)} cm²"
    return f"{written} by area: no pieces are drafted"


def made_to_order(line: ShoppingLine) -> bool:
    """Whether shops do not usually sell that length."""
    return line.trim is not None and not line.trim.usual


def shopping_to_plain(plan: Plan) -> dict[str, Any]:
    """The list for machines; `needed_mm` is what one garment takes."""
    return {
        "garments": plan.made,
        "trims_known": not _trims_unknown(plan),
        "lines": [_plain(line) for line in shopping_of(plan)],
    }


def _plain(line: ShoppingLine) -> dict[str, Any]:
    trim = line.trim
    return {
        "kind": line.kind,
        "name": line.name,
        "buy": line.buy,
        "count": line.count,
        "needed_mm": (trim.needed or None) if trim else None,
        "sold_mm": line.sold,
        "spacing_mm": (trim.spacing or None) if trim else None,
        "usual_length": not made_to_order(line),
        "sold_by": line.sold_by,
        "price": str(line.price) if line.price else None,
        "cost": None if line.cost is None else float(line.cost),
        "currency": line.price.currency if line.price else "",
        "where": list(line.where),
    }


def shopping_rows(plan: Plan) -> Iterator[tuple[ShoppingLine, tuple[str, str, str, str, str, str]]]:
    """Each line with its words: what, how much, the step, price, cost, and where it is used."""
    for line in shopping_of(plan):
        buy = line.buy + (" (made to order)" if made_to_order(line) else "")
        price, cost = str(line.price or ("no price given" if line.sold_by else "")), ""
        if line.price is not None and line.cost is not None:
            cost = line.price.write(line.cost)
        yield line, (line.name, buy, line.sold_by, price, cost, _where_words(line.where))


def _where_words(where: tuple[str, ...]) -> str:
    """Where it is used, cut short where there are many places."""
    if len(where) <= MOST_PLACES:
        return ", ".join(where)
    return f"{', '.join(where[: MOST_PLACES - 1])} and {len(where) - MOST_PLACES + 1} more"


def shopping_lines(plan: Plan) -> Iterator[str]:
    """The list as lines of text, each thing with how much of it, what it costs and where it is used."""
    garments = plan.made
    yield "Shopping list" if garments == 1 else f"Shopping list for {garments} garments"
    for _, (name, buy, _, _, cost, where) in shopping_rows(plan):
        yield f"  {name}: {buy}{f', {cost}' if cost else ''} ({where})"
    if left_out := shopping_left_out(plan):
        yield f"  {left_out}"


def _this(plan: Plan) -> str:
    known = {IMPORTED: "imported pieces", SHAPES: SHAPES}
    return known.get(plan.job.garment, f"this garment ({plan.job.garment})")


def shopping_left_out(plan: Plan) -> str:
    """What the list does not hold, and that it holds what is on hand; empty if it is just what is to be bought."""
    is_there = any(one.cover.takes or one.fitted for one in plan.on_hand or ())
    return " ".join(filter(None, (_left_out(plan), AS_IF_BOUGHT if is_there else "")))


def _left_out(plan: Plan) -> str:
    needed = trims_of(plan)
    if needed is None:
        return f"Trims of {_this(plan)} are not worked out: add them yourself."
    told = (
        [f"Trims of {', '.join(labels)} are not worked out: add them yourself."]
        if (labels := _trims_unknown(plan))
        else []
    )
    unused = [offer.name for offer in plan.job.trim if offer.name not in {trim.name for trim in needed}]
    which = "this garment" if len(plan.members) == 1 else "these garments"
    told += [f"Not needed for {which}: {', '.join(unused)}."] if unused else []
    return " ".join(told)
