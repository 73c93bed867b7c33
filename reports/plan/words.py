"""Answers for people: tables and plain words in the job's own units."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from rich.text import Text

from pieces.units import Units, format_bound, format_need, format_size, percent_need, percent_reached
from reports.money.cost.words import sheet_lines, sheet_table
from reports.plan.answers import Refusal
from reports.plan.best import best_of
from reports.plan.costing import costing_of, left_out_words, price_words
from reports.plan.drafted import bare_table
from reports.plan.shopping import shopping_rows
from reports.plan.together import share_rows, together_lines

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.table import Table

    from nesting.rib.plan import RibPlan
    from reports.ask.offer import FabricOffer
    from reports.plan.answers import FabricPlan, PassedOver, RibAnswer
    from reports.plan.best import Best
    from reports.plan.plan import Plan

FEW_COPIES = 2
"""Copies of a band that are named one by one."""

SPREAD_WORDS = {
    "open": "open, single layer",
    "folded": "folded lengthwise",
    "double-folded": "both selvedges folded to the middle",
    "part-folded": "folded over in part, the rest single",
    "fold-then-open": "folded lengthwise, then opened out",
    "crosswise": "folded crosswise",
    "face-to-face": "a stack of lengths, right sides together",
    "face-up": "a stack of lengths, right sides up",
    "tube": "tube, laid flat",
}

NO_LESS = {
    "part-folded": "No fold in part was found to take less.",
    "fold-then-open": "Folded for a part of its length, it was not found to take less.",
}
"""What is said where a spread was asked for by name, and the cloth lies at a limit of it."""


def fabric_table(plan: Plan) -> Table:
    """Every cloth side by side: what to buy, cost, how well it is used, how far from the best possible."""
    units = plan.job.written_in
    table = bare_table(
        "Cloth",
        ("fabric", "left"),
        ("width", "right"),
        ("laid", "left"),
        ("marker", "right"),
        ("buy", "right"),
        ("cost", "right"),
        ("used", "right"),
        ("at least", "right"),
    )
    for fabric in plan.fabrics:
        width = format_size(fabric.offer.width, units)
        if isinstance(fabric, Refusal):
            table.add_row(Text(fabric.offer.name), width, "will not do", "", "", "", "", "")
            continue
        result = fabric.result
        table.add_row(
            Text(fabric.offer.name),
            width,
            fabric.spread,
            format_need(result.marker.length, units),
            f"[bold]{fabric.purchase.text}[/bold]",
            _cost(fabric),
            percent_reached(result.marker.density),
            format_bound(fabric.at_least, units),
        )
    return table


def additions_table(plan: Plan) -> Table:
    """How each length to buy comes about, line by line."""
    table = bare_table("From marker to purchase", ("fabric", "left"), ("step", "left"), ("length", "right"))
    for _, fabric in plan.markers:
        lines = fabric.purchase.lines("marker", plan.job.written_in)
        for i, line in enumerate(lines):
            table.add_row(Text(fabric.offer.name if i == 0 else ""), line.what, line.text)
        table.add_row("", "to buy", fabric.purchase.text)
        table.add_section()
    return table


def rib_table(plan: Plan) -> Table:
    """How the bands are cut of each rib."""
    units = plan.job.written_in
    table = bare_table(
        "Rib", ("rib", "left"), ("band", "left"), ("cut from", "left"), ("length", "right"), ("depth", "right")
    )
    for rib in plan.ribs:
        if isinstance(rib, Refusal):
            table.add_row(Text(rib.offer.name), "will not do", "", "", "")
            continue
        copies = {cut.band: cut.copy for cut in rib.plan.cuts if cut.copy}
        for i, cut in enumerate(rib.plan.cuts):
            band = f"{cut.band} {cut.copy + 1}" if cut.band in copies else cut.band
            band += " (part, to be joined)" if cut.joins else ""
            sizes = format_size(cut.length, units), format_size(cut.depth, units)
            table.add_row(Text(rib.offer.name if i == 0 else ""), band, cut.source, *sizes)
        table.add_section()
    return table


def shopping_table(plan: Plan) -> Table:
    """Everything to buy, with where each is used."""
    garments = plan.made
    table = bare_table(
        "Shopping list" if garments == 1 else f"Shopping list for {garments} garments",
        ("what", "left"),
        ("buy", "left"),
        ("sold by", "left"),
        ("price", "left"),
        ("cost", "right"),
        ("used at", "left"),
    )
    for _, words in shopping_rows(plan):
        table.add_row(*map(Text, words))
    return table


def share_table(plan: Plan) -> Table:
    """Each garment's share of what is bought, by the area of its pieces."""
    table = bare_table(
        "Shares, by area of the pieces",
        ("of", "left"),
        ("garment", "left"),
        ("share", "right"),
        ("length", "right"),
        ("cost", "right"),
    )
    for words in share_rows(plan):
        table.add_row(*map(Text, words))
        if words[1] == "all":
            table.add_section()
    return table


def cost_words(plan: Plan) -> Iterator[Table | str]:
    """The cost of a garment, and its price; nothing where the job does not ask for them."""
    costing = costing_of(plan)
    if costing is None:
        return
    yield ""
    sheet = costing.cost.garment
    yield sheet_table(replace(sheet, title="One garment") if plan.made == 1 else sheet, plan.job.written_in)
    yield from sheet_lines(costing.cost.garment)
    if left_out := left_out_words(costing):
        yield left_out
    yield from price_words(costing)


def answer_lines(plan: Plan) -> Iterator[str]:
    """The answer in plain words, the cheapest offer first named."""
    cloth = [fabric for _, fabric in plan.markers]
    several = len({fabric.offer.part for fabric in cloth}) > 1
    for fabric in cloth:
        yield from _fabric_lines(fabric, plan.job.written_in, several=several)
    best = best_of(plan)
    yield from best_lines([one for one in best if one.kind == "fabric"])
    for _, rib in plan.rib_plans:
        cost = f" for {_cost(rib)}" if rib.cost is not None else ""
        yield f"Buy {rib.text} of {rib.offer.name}{cost}: {how_cut(rib.plan)}."
    yield from best_lines([one for one in best if one.kind == "rib"])
    yield from together_lines(plan)
    yield from refusal_lines(plan)


def _fabric_lines(fabric: FabricPlan, units: Units, *, several: bool) -> Iterator[str]:
    """What to buy of one cloth, how good that is, and what else was tried."""
    cost = f" for {_cost(fabric)}" if fabric.cost is not None else ""
    weight = f" ({fabric.kilograms:.2f} kg)" if fabric.kilograms is not None else ""
    part = f" for {fabric.offer.part}" if several else ""
    how = SPREAD_WORDS[fabric.spread] + (f", {format_size(fabric.depth, units)} deep" if fabric.depth else "")
    yield f"Buy {fabric.purchase.text}{weight} of {fabric.offer.name}{part}{cost}: {how}."
    yield f"  {proof_words(fabric, units)}"
    if fabric.is_interrupted:
        yield "  Interrupted: a whole search may find less. So no cloth is called the cheapest."
    if asked := asked_words(fabric):
        yield f"  {asked}"
    if pattern := pattern_words(fabric, units):
        yield f"  {pattern}"
    for passed in fabric.passed_over:
        yield f"  {way_words(fabric, passed, units)}"


def asked_words(fabric: FabricPlan) -> str:
    """How a cloth was asked to lie, where it lies at a limit of that; else nothing."""
    asked = fabric.offer.spread
    if fabric.spread == asked or asked not in NO_LESS:
        return ""
    return f"Asked for: {SPREAD_WORDS[asked]}. {NO_LESS[asked]}"


def pattern_words(fabric: FabricPlan, units: Units) -> str:
    """What matching the cloth's pattern takes; empty if it has none."""
    if fabric.plain is None:
        return ""
    more = max(0.0, fabric.result.marker.length - fabric.plain)
    return (
        f"Matching the pattern takes {format_size(more, units)} more than plain cloth, besides the repeat it begins "
        f"with; common practice adds one repeat for each larger piece, here {format_size(fabric.usual_extra, units)}."
    )


def way_words(fabric: FabricPlan, passed: PassedOver, units: Units) -> str:
    """Another way to lay a cloth: what it takes, or why it will not do."""
    simplest = "; simplest, and hardly longer" if passed.spread == fabric.simplest else ""
    if simplest and passed.purchase and passed.purchase.buy <= fabric.purchase.buy:
        simplest = "; simplest; same amount to buy"
    if passed.spread == fabric.shortest:
        simplest = "; shortest; same amount to buy"
    return f"{SPREAD_WORDS[passed.spread]}: {_passed_over(passed, units)}{simplest}"


def _passed_over(passed: PassedOver, units: Units) -> str:
    if passed.reason:
        return passed.reason
    if passed.purchase is None:
        return "not searched"
    length = passed.purchase.lines("marker", units)[0].text  # so that with the additions it is no more than is bought
    return f"{length}, to buy {passed.purchase.text}"


def laid_lines(plan: Plan) -> Iterator[str]:
    """How each marker was found, how good it is, and why an offer will not do."""
    for _, fabric in plan.markers:
        result = fabric.result
        yield f"{fabric.offer.name}: {SPREAD_WORDS[fabric.spread]}. {proof_words(fabric, plan.job.written_in)}"
        if asked := asked_words(fabric):
            yield f"  {asked}"
        yield (
            f"  effort {result.work:.2f} ({result.seconds:.1f} s) from seed {result.seed};"
            f" stopped by: {result.stopped_by}"
        )
    yield from refusal_lines(plan)


def refusal_lines(plan: Plan) -> Iterator[str]:
    """Why each offer that will not do will not."""
    for refusal in (*plan.fabrics, *plan.ribs):
        if isinstance(refusal, Refusal):
            yield f"{refusal.offer.name} will not do: {refusal.reason}."


def proof_words(fabric: FabricPlan, units: Units) -> str:
    """How far a cloth's marker is from the best possible, and what holds that."""
    result = fabric.result
    if fabric.is_proved:
        return f"No shorter marker exists{depths_words(fabric)} ({result.bound_held})."
    proof = f"No marker can be shorter than {format_bound(result.bound, units)}{depths_words(fabric)}"
    proof += f" ({result.bound_held})"
    if fabric.is_shortest_within is None:
        proof += f", at most {percent_need(result.gap)} shorter than this one."
    else:
        proof += f": this one is the shortest to within {_next_to_nothing(fabric.is_shortest_within, units)}, proved."
    sold = fabric.offer.sold_by
    if fabric.buys_least:
        return f"{proof} Sold by {sold.text}, {_least_bought(fabric)}: proved."
    least, bought = sold.write(fabric.least.enough), sold.write(fabric.purchase.enough)
    proof += f" In this spread{depths_words(fabric)} less than {least} is impossible, proved;"
    proof += f" less than {bought} was not found, and is not ruled out."
    return f"{proof} No layout costs less: proved." if fabric.costs_least else proof


def _next_to_nothing(mm: float, units: Units) -> str:
    """A length that is finer than what is written of cloth, rounded up."""
    return format_need(mm, units, 16) if units is Units.INCHES else f"{ceil(mm)} mm"


def depths_words(fabric: FabricPlan) -> str:
    """At which depths of the fold what is proved of a cloth holds, where it is folded in part; else nothing."""
    return f" at {fabric.fold_depths} fold depth" if fabric.fold_depths else ""


def _least_bought(fabric: FabricPlan) -> str:
    """What is proved of what is bought: where more is bought for a lower price, of the cloth needed and of its cost."""
    bought, none = fabric.purchase, f"no layout in this spread{depths_words(fabric)}"
    if bought.buy <= bought.enough:
        return f"{none} lets you buy less"
    needs = f"{none} needs less than {fabric.offer.sold_by.write(bought.enough)}"
    return f"{needs}, or costs less" if fabric.costs_least else needs


def best_lines(best: Sequence[Best]) -> Iterator[str]:
    """The best of several offers for each part, and what makes it the best; nothing where that is no help."""
    several = sum(one.kind == "fabric" for one in best) > 1
    for one in best:
        what = (
            f"cloth for {one.part}" if several and one.kind == "fabric" else "cloth" if one.kind == "fabric" else "rib"
        )
        price = one.answer.offer.price
        alike = ", which cost the same" if one.tied else ""
        if one.by == "cost" and price:
            saving = (
                f", {price.write(one.saved)} less than {one.against.offer.name}" if one.saved and one.against else ""
            )
            yield f"Cheapest {what}: {one.named}{alike}{saving}."
        elif one.by == "quantity":
            equal = " (the same amount)" if one.tied else ""
            yield f"Least {what} to buy: {one.named}{equal}; some prices are missing, or in other currencies."


def how_cut(plan: RibPlan) -> str:
    """How good a rib plan is, which bands are joined and where, and which stay closed tubes."""
    joined = {(cut.band, cut.copy): cut.joins for cut in plan.cuts if cut.joins}
    several = {cut.band for cut in plan.cuts if cut.copy}
    alike: dict[tuple[str, str], list[int]] = {}
    for (band, copy), times in joined.items():
        alike.setdefault((band, f"joined {_times(times)}{_where(plan, band, copy)}"), []).append(copy + 1)
    words = [f"{_copies(band, copies) if band in several else band} {how}" for (band, how), copies in alike.items()]
    told = ["the least possible, proved" if plan.optimal else "the least found", ", ".join(words) or "no joins"]
    if any(join.place == "" for join in plan.seams):
        why = "would take more rib or joins" if plan.most_at_places else "was not found to be possible"
        told.append(f"more of them at seams {why}")
    closed = dict.fromkeys(cut.band for cut in plan.cuts if cut.closed)
    return "; ".join(told + [f"{band} left a closed tube, without a seam" for band in closed])


def _copies(band: str, copies: list[int]) -> str:
    """A band with the numbers of its copies; how many, where they are more than a few."""
    if len(copies) > FEW_COPIES:
        return f"{len(copies)} × {band}"
    return f"{band} {' and '.join(map(str, copies))}"


def _where(plan: RibPlan, band: str, copy: int) -> str:
    """Where a band is joined: at which seams, and how often at none."""
    own = [join.place for join in plan.seams if (join.band, join.copy) == (band, copy)]
    at, off = [f"at the {place}" for place in own if place], own.count("")
    if off:
        at.append(f"{_times(off)} between seams" if at else "between seams")
    return f" ({', '.join(at)})" if at else ""


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _cost(answer: FabricPlan | RibAnswer) -> str:
    price = answer.offer.price
    return "" if answer.cost is None or price is None else price.write(answer.cost)


def width_words(offer: FabricOffer, units: Units) -> str:
    """How wide the cloth is; where it shrinks across, how wide it is then as well."""
    wide, left = f"{format_size(offer.width, units)} wide", offer.width * (1 - offer.shrinkage_across / 100)
    return f"{wide}, {format_bound(left, units)} once it has shrunk" if offer.shrinkage_across else wide
