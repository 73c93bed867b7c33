"""What is said of several garments laid together: what that saves, and each one's share; in words and as data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.plan.parts import cost_of_each, parts_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.ask.offer import FabricOffer
    from reports.plan.alone import Alone, AloneGarment
    from reports.plan.parts import Part, Parted
    from reports.plan.plan import Plan


def together_lines(plan: Plan) -> Iterator[str]:
    """What laying the garments together saves, a line for each cloth to buy; nothing where it was not searched."""
    for alone in plan.alone:
        yield from _alone_lines(alone)
    if plan.job.together and not plan.alone and plan.made > 1:
        yield "Together: the garments were not searched one at a time; alone = true in the job does that."


def _alone_lines(alone: Alone) -> Iterator[str]:
    offer, bought = alone.together.offer, alone.together.purchase
    of = f"Together: {bought.text} of {offer.name}."
    refused = [f"{one.member.label} alone: {one.reason}" for one in alone.each if one.plan is None]
    if alone.buy is None or alone.saved is None:
        yield f"{of} One at a time: not known; {'; '.join(refused) or 'the search was interrupted'}."
        return
    each = ", ".join(_one_at_a_time(one) for one in alone.each)
    yield f"{of} One at a time: {offer.sold_by.write(alone.buy)} ({each}), each searched as hard."
    yield f"  {_saved(alone, offer)}"


def _saved(alone: Alone, offer: FabricOffer) -> str:
    saved, money = alone.saved or 0.0, alone.saved_cost
    if abs(saved) < 1e-6:
        return "Laid together, as much is bought."
    length, cost = offer.sold_by.write(abs(saved)), ""
    if money is not None and offer.price is not None and (money > 0) == (saved > 0):
        cost = f" and {offer.price.write(abs(money))}"
    if saved > 0:
        return f"Laying them together saves {length}{cost}."
    return f"Laid together they take {length} more, as far as was searched: lay them one at a time, or search longer."


def _one_at_a_time(one: AloneGarment) -> str:
    times = f"{one.member.quantity} × " if one.member.quantity > 1 else ""
    return f"{one.member.label} {times}{one.plan.purchase.text if one.plan else ''}"


def share_rows(plan: Plan) -> Iterator[tuple[str, str, str, str, str]]:
    """Each garment's part of what is bought, and the whole: cloth or rib, garment, share, length and cost."""
    parted = parts_of(plan)
    for one in parted:
        name = one.best.answer.offer.name
        for part in one.parts:
            yield name, part.member.label, *_part_words(one, part)
            name = ""
        yield "", "all", *_part_words(one, one.whole)
    costs = list(cost_of_each(parted))
    if len(parted) > 1 and costs:
        price = next(p.best.answer.offer.price for p in parted if p.best.answer.offer.price)
        name = "cloth and rib"
        for member, cost in costs:
            yield name, member.label, "", "", price.write(cost)
            name = ""
        yield "", "all", "", "", price.write(sum((cost for _, cost in costs), costs[0][1] * 0))


def _part_words(of: Parted, part: Part) -> tuple[str, str, str]:
    price = of.best.answer.offer.price
    return f"{part.percent} %", part.text, price.write(part.cost) if price and part.cost is not None else ""


def together_to_plain(plan: Plan) -> dict[str, Any] | None:
    """The same for machines; None where the job has one garment."""
    if not plan.job.together:
        return None
    parted = parts_of(plan)
    costs = dict(cost_of_each(parted))
    return {
        "garments": [
            {
                "label": member.label,
                "garment": member.job.garment,
                "title": member.job.title,
                "quantity": member.quantity,
                "cost": float(costs[member]) if member in costs else None,
            }
            for member in plan.members
        ],
        "shares": [_parted_to_plain(one) for one in parted],
        "alone": [_alone_to_plain(one) for one in plan.alone],
    }


def _parted_to_plain(one: Parted) -> dict[str, Any]:
    answer = one.best.answer
    return {
        "kind": one.best.kind,
        "number": one.best.number,
        "name": answer.offer.name,
        "currency": answer.offer.price.currency if answer.offer.price else "",
        "parts": [
            {
                "label": part.member.label,
                "percent": float(part.percent),
                "mm": part.length,
                "shown": part.text,
                "cost": None if part.cost is None else float(part.cost),
            }
            for part in one.parts
        ],
    }


def _alone_to_plain(alone: Alone) -> dict[str, Any]:
    return {
        "number": alone.number,
        "name": alone.together.offer.name,
        "together_mm": alone.together.purchase.buy,
        "alone_mm": alone.buy,
        "saved_mm": alone.saved,
        "saved_cost": None if alone.saved_cost is None else float(alone.saved_cost),
        "each": [_one_to_plain(one) for one in alone.each],
    }


def _one_to_plain(one: AloneGarment) -> dict[str, Any]:
    """A garment by itself; without an answer it has the reason."""
    plan = one.plan
    return {
        "label": one.member.label,
        "quantity": one.member.quantity,
        "refused": one.reason,
        "marker_mm": plan.result.marker.length if plan else None,
        "buy_mm": plan.purchase.buy if plan else None,
        "buy": plan.purchase.text if plan else None,
        "cost": float(plan.cost) if plan and plan.cost is not None else None,
        "spread": plan.spread if plan else None,
        "bound_mm": plan.result.bound if plan else None,
        "seed": plan.result.seed if plan else None,
        "effort": round(plan.result.work, 3) if plan else None,
    }
