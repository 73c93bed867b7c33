"""Boxes beside outlines, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from pieces.units import format_need
from reports.plan.answers import FabricPlan, Refusal
from reports.plan.words import SPREAD_WORDS, proof_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.units import Units
    from reports.boxes.boxes import BoxedCloth, Boxes

HEAD = ("cloth", "box of", "cut", "length along the grain", "width")


def boxes_cells(found: Boxes) -> list[tuple[str, ...]]:
    """Every box of every cloth: what is cut of it, how many boxes, and its size."""
    garments = found.task.job.garments
    return [
        HEAD,
        *(
            (
                cloth.offer.name,
                box.held,
                str(box.piece.cut * garments),
                format_need(box.length, found.units),
                format_need(box.width, found.units),
            )
            for cloth in found.cloths
            for box in cloth.boxes
        ),
    ]


def boxes_table(found: Boxes) -> Table:
    """The same as a table."""
    table = Table(title="Boxes", title_justify="left", title_style="bold", box=None, pad_edge=False)
    head, *rows = boxes_cells(found)
    for i, name in enumerate(head):
        table.add_column(name, justify="left" if i < 2 else "right", header_style="dim")
    for row in rows:
        table.add_row(*map(Text, row))
    return table


def boxes_lines(found: Boxes) -> Iterator[str]:
    """What is bought for boxes and for outlines on each cloth, and what the difference costs."""
    for cloth in found.cloths:
        yield f"{cloth.offer.name}:"
        for name, plan in (("Boxes", cloth.by_boxes), ("Outlines", cloth.by_outlines)):
            yield f"  {name}: {bought_words(plan, found.units)}"
            if isinstance(plan, FabricPlan):
                yield f"    {proof_words(plan, found.units)}"
        if cloth.more is not None:
            yield f"  {difference_words(cloth)}"
    if found.is_interrupted:
        yield "Interrupted: some markers may be longer than they need be."


def difference_words(cloth: BoxedCloth) -> str:
    """How much more is bought for boxes, and what that costs."""
    if cloth.more is None:
        return ""
    if abs(cloth.more) < 1:
        return "Boxes take no more cloth to buy than outlines."
    much, price, cost = cloth.offer.sold_by.write(abs(cloth.more)), cloth.offer.price, cloth.more_cost
    money = f", and {price.write(abs(cost))}," if price is not None and cost is not None else ""
    if cloth.more > 0:
        return f"Boxes take {much}{money} more."
    return f"For outlines {much} more was found: cut by boxes, or search longer."


def bought_words(plan: FabricPlan | Refusal, units: Units) -> str:
    """What to buy, and for how long a marker; or why the cloth will not do."""
    if isinstance(plan, Refusal):
        return f"will not do: {plan.reason}."
    price = plan.offer.price
    cost = f" for {price.write(plan.cost)}" if price is not None and plan.cost is not None else ""
    length = format_need(plan.result.marker.length, units)
    return f"buy {plan.purchase.text}{cost}, {SPREAD_WORDS[plan.spread]}; the marker is {length} long."
