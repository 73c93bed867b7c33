"""Lays of a run laid by hand: kept beside the run, whose plan, purchases and costs stay as they were counted."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.verify import TOLERANCE
from pieces.units import format_bound, format_need
from reports.errors import StateError
from reports.money.lengths import write_length
from reports.run.laid import rules_of
from reports.run.lay_marker import ply_length_of
from reports.run.tickets import count_plies
from reports.run.use import ply_length

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.units import Units
    from reports.ask.order.order import Order
    from reports.run.lay_marker import LayMarker
    from reports.run.plan import RunPlan

GONE = "this lay is laid by hand, and does not fit the run as it is now: plan the run again"


def with_hand(run: RunPlan, told: Mapping[str, Mapping[str, Any]]) -> RunPlan:
    """The run with its lays that were laid by hand, by their tickets, as they were kept; each is checked.

    Raises
    ------
    StateError
        If one does not fit the run.
    """
    by_ticket = {str(lay.ticket): lay for lay in run.lays}
    if not set(told) <= set(by_ticket):
        raise StateError(GONE)
    made = {by_ticket[ticket].ticket: _made(by_ticket[ticket], kept) for ticket, kept in told.items()}
    return replace(run, by_hand=made)


def laid_by_hand(lay: LayMarker, marker: Marker) -> LayMarker:
    """The lay with another marker of the same problem; CheckError if it does not give what the lay is to give."""
    check(marker)
    return replace(lay, marker=marker)


def why_too_long(order: Order, lay: LayMarker, length: float) -> str:
    """Why a marker of some length, mm, will not do for a lay: empty if it will."""
    units, longest = order.written_in, rules_of(order, lay.lot).longest
    ply = length + 2 * lay.offer.end_allowance
    if ply <= longest + TOLERANCE:
        return ""
    return f"a ply would be {format_need(ply, units)} long, and the table is {format_bound(longest, units)}"


def hand_words(planned: LayMarker, made: LayMarker, units: Units) -> str:
    """What a lay laid by hand takes, against what the run counts."""
    by = ply_length_of(made) - ply_length(planned.marker, planned.offer.end_allowance)
    if abs(by) < TOLERANCE:
        return "Laid by hand: each ply is as long as the run counts."
    way, more = ("longer", "more") if by > 0 else ("shorter", "less")
    each, together = write_length(abs(by), units), write_length(abs(by) * planned.number, units)
    takes = "takes" if planned.number == 1 else "take"
    rolls = " See that the rolls have it." if by > 0 else ""
    return (
        f"Laid by hand: each ply is {each} {way}. {count_plies(planned.number)} {takes} {together} {more} cloth than"
        f" the run counts.{rolls} What to buy and what it costs stay as they were planned."
    )


def _made(lay: LayMarker, kept: Mapping[str, Any]) -> LayMarker:
    try:
        placements = tuple(
            Placement(int(item), int(copy), int(variant), float(x), float(y))
            for item, copy, variant, x, y in kept["placed"]
        )
        return laid_by_hand(lay, Marker(lay.marker.problem, placements, float(kept["length"])))
    except (CheckError, LookupError, ValueError, TypeError) as error:
        raise StateError(GONE) from error
