"""A run for machines: plain objects that ``json.dumps`` takes; every length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.cautions import cautions
from reports.money.cost.plain import cost_to_plain, curve_to_plain, quote_to_plain
from reports.money.price import price_words
from reports.plan.plain import rib_cuts_to_plain
from reports.plan.shopping import made_to_order
from reports.run.given import given_rolls
from reports.run.preferred import preferred_to_plain
from reports.run.quotes import quotes_of
from reports.run.rib_tickets import bands_by_ticket, in_order
from reports.run.rolls_left import rolls_left
from reports.stock.on_hand import on_hand_to_plain

if TYPE_CHECKING:
    from nesting.lays.plan import Lay, LayPlan
    from nesting.lays.rolls import RollPlan
    from reports.ask.order.order import RunFabric
    from reports.run.buying import ToBuy
    from reports.run.given import GivenRolls
    from reports.run.lot_plan import LotPlan
    from reports.run.plan import RunPlan
    from reports.run.rib_tickets import TicketBand
    from reports.run.rolls_left import RollLeft
    from reports.run.tickets import Ticket
    from reports.run.trims import TrimOfRun


RUN_SCHEMA = 6
"""Of the answer; 1 had no seed, no rounds, no sizes of a lay, and no cuts of rib; 2 no trims by the drafts; 3 no rib by
ticket, and did not say what rolls lack by lay; up to 5 what was there already was among what is to buy."""


def run_to_plain(run: RunPlan) -> dict[str, Any]:
    """The whole answer of an order: what ``run --json`` prints."""
    costing = run.costing
    return {
        "schema": RUN_SCHEMA,
        "order": run.order.name,
        "units": run.order.units,
        "seed": run.seed,
        "examples": list(run.order.examples),
        "delivery": run.order.delivery.isoformat() if run.order.delivery else None,
        "source": run.garments.source,
        "notes": list(run.notes),
        "left_out": list(run.garments.left_out),
        "cut_short": run.cut_short,
        "garments": [
            {"colour": colour, "size": size, "ordered": ordered, "cut": run.cut.get((colour, size), 0)}
            for (colour, size), ordered in run.garments.ordered.items()
        ],
        "lots": [_lot(run, plan) for plan in run.lots],
        "rolls_left": [_left(one) for one in rolls_left(run)],
        "tickets": [_ticket(ticket) for ticket in run.tickets],
        "buy": [_bought(one) for one in run.to_buy],
        "given": [_given(one) for one in given_rolls(run)],
        "trims_needed": [_trim(one) for one in run.trims],
        "ribs": [
            {
                "name": of.rib.name,
                "colours": list(of.colours),
                **rib_cuts_to_plain(in_order(of.plan)),
                "by_ticket": [_band(band) for band in bands_by_ticket(of, run.each, run.order.written_in)],
            }
            for of in run.ribs
        ],
        "cutting_minutes": round(costing.cutting_minutes, 1),
        "cost": cost_to_plain(costing.cost, costing.quote),
        "curve": curve_to_plain(costing.curve),
        "quote": quote_to_plain(costing.quote),
        "quotes": [
            {"file": one.file, "client": one.client, "quote": quote_to_plain(one.quote)} for one in quotes_of(run)
        ],
        "cautions": list(cautions(run.order.cutting.tool)),
    } | ({} if run.on_hand is None else {"on_hand": on_hand_to_plain(run.on_hand)})


def _band(band: TicketBand) -> dict[str, Any]:
    """A band of a garment; its parts by their numbers on the rib sheets."""
    return {
        **band.garment._asdict(),
        "band": band.band,
        "copy": band.copy,
        "parts": list(band.cuts),
        "cut_from": list(band.sources),
        "joined_at": list(band.joins),
    }


def _trim(trim: TrimOfRun) -> dict[str, Any]:
    """A trim that the drafts need, for all garments of these sizes."""
    line, needed = trim.line, trim.line.trim
    return {
        "name": line.name,
        "buy": line.buy,
        "count": line.count,
        "needed_mm": (needed.needed or None) if needed else None,
        "sold_mm": line.sold,
        "usual_length": not made_to_order(line),
        "sizes": trim.sizes,
        "where": list(line.where),
    }


def _lot(run: RunPlan, plan: LotPlan) -> dict[str, Any]:
    return {
        "part": plan.lot.part,
        "cloths": {
            key: {
                "name": cloth.name,
                "width_mm": cloth.width,
                "colours": list(plan.lot.stands_for[key]),
                "spread_mm": plan.plan.cloth(key, plan.costs.end_loss),
                "taken_mm": {size: mm for (own, size), mm in plan.taken().items() if own == key},
                "rolls": _rolls(plan.rolls[key], cloth) if key in plan.rolls else [],
                "plies_without_roll": [ply + 1 for ply in plan.rolls[key].missing] if key in plan.rolls else [],
                "short": [
                    {"lay": lay + 1, "plies": len(plies), "mm": sum(plies)}
                    for lay, plies in plan.without_roll(key).items()
                ],
                "short_proved": key in plan.rolls and plan.rolls[key].impossible,
            }
            for key, cloth in plan.lot.cloths.items()
        },
        "leaves_out_repeats": plan.leaves_out_repeats,
        "rounds": plan.rounds,
        "stable": plan.stable,
        "mixes_laid": len(plan.lengths),
        "preferred": preferred_to_plain(plan.preferred),
        "plan": _plan(plan.plan),
        "one_size": _plan(plan.one_size),
        "one_by_one": _plan(plan.one_by_one),
    }


def _left(one: RollLeft) -> dict[str, Any]:
    return {
        "cloth": one.cloth,
        "colour": one.colour,
        "roll": one.roll,
        "opened": one.opened,
        "shade_lot": one.shade_lot,
        "width_mm": one.width,
        "from_mm": one.at,
        "length_mm": one.length,
        "value": None if one.value is None else str(one.value),
        "entry": one.entry,
    }


def _rolls(plan: RollPlan, cloth: RunFabric) -> list[dict[str, Any]]:
    return [
        {
            "roll": roll + 1,
            "length_mm": plan.rolls[roll],
            "shade_lot": cloth.rolls[roll].shade_lot,
            "width_mm": cloth.rolls[roll].width or cloth.width,
            "flaws": [{"from_mm": flaw.at, "mm": flaw.length} for flaw in cloth.rolls[roll].flaws],
            "left_mm": left,
            "cuts": [
                {"ply": cut.ply + 1, "mm": cut.length, "from_mm": cut.at} for cut in plan.cuts if cut.roll == roll
            ],
        }
        for roll, left in plan.remnants.items()
    ]


def _plan(plan: LayPlan) -> dict[str, Any]:
    return {
        "cost": round(plan.cost, 4),
        "bound": round(plan.bound, 4),
        "optimal": plan.optimal,
        "mixes": plan.mixes,
        "too_low": plan.low,
        "lays": [_lay(plan, lay) for lay in plan.lays],
    }


def _lay(plan: LayPlan, lay: Lay) -> dict[str, Any]:
    garments = {size: number for size, number in zip(plan.order.sizes, lay.mix, strict=True) if number}
    return {"mix": list(lay.mix), "garments": garments, "plies": dict(lay.plies), "marker_mm": lay.length}


def _ticket(ticket: Ticket) -> dict[str, Any]:
    return {
        "number": ticket.number,
        "part": ticket.part,
        "garments": ticket.garments,
        "plies": ticket.plies,
        "marker_mm": ticket.length,
        "table_mm": ticket.table,
        "density_percent": 100 * ticket.marker.density,
        "checked": True,
    }


def _given(one: GivenRolls) -> dict[str, Any]:
    return {
        "what": one.what,
        "part": one.part,
        "rolls": one.rolls,
        "length_mm": one.length,
        "plies": one.plies,
        "plies_with_roll": one.held,
        "to_buy": one.rest.quantity if one.rest else "",
    }


def _bought(one: ToBuy) -> dict[str, Any]:
    return {
        "what": one.what,
        "part": one.part,
        "supplier": one.supplier,
        "quantity": one.quantity,
        "number": one.number,
        "unit": one.unit,
        "buy_mm": one.purchase.buy if one.purchase else None,
        "cost": None if one.cost is None else str(one.cost),
        "price": price_words(one.price),
    }
