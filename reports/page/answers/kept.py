"""A marker of an answer changed by hand: what is believed of it is checked first."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nesting.edit.by_hand import laid_again, put, snap, with_places
from nesting.errors import CheckError
from nesting.marker.opinion import check
from nesting.verify import verify_asked
from reports.buy.kept import kept_of
from reports.buy.shown import grains_of
from reports.errors import MissingError
from reports.page.answers.fields import job_of
from reports.page.errors import LayoutError
from reports.page.work_folder import uploads_of
from reports.plan.answers import purchase_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.marker.marker import Marker
    from nesting.verify import Asked
    from reports.buy.kept import Kept
    from reports.plan.plan import Plan

LEAST_SHARED, SLACK = 1.0, 0.01
"""Less area of one piece over another, mm², and less sticking out, mm, is not worth a word."""


def kept_of_payload(payload: dict[str, Any]) -> Kept:
    """What is kept of the job that a search was asked for, the same object each time."""
    return kept_of(job_of(payload["job"], uploads_of(payload)))


def moved(
    marker: Marker,
    piece: int,
    x: float,
    y: float,
    turn: float | None = None,
    asked: Asked | None = None,
    too_long: Callable[[float], str] = lambda length: "",
) -> dict[str, Any]:
    """Where a piece that was let go comes to lie, and what that makes of the marker, which has to give what is `asked`.

    Where it may not lie, and no place is near at which it may, it stays where it was let go: not legal, and why.
    `too_long` says why a marker of some length will not do.
    """
    if not 0 <= piece < len(marker.placements):
        raise MissingError(f"{len(marker.placements)} pieces lie on the cloth, counted from 0: there is no {piece}")
    found = snap(marker, piece, x, y, turn)
    place = found or put(marker, piece, x, y, turn)
    after = laid_again(marker, [*marker.placements[:piece], place, *marker.placements[piece + 1 :]])
    why = ""
    try:
        check(after)
    except CheckError as error:
        why = _why_not(after, piece) or str(error)
    why = why or too_long(after.length)
    if asked and not why:
        verify_asked(after, asked)
    _, _, variant, outline = list(after.outlines())[piece]
    return {
        "x": place.x,
        "y": place.y,
        "turn": variant.turn,
        "outline": outline.tolist(),
        "grain": grains_of(after)[piece],
        "band": after.problem.bands[variant.band].name,
        "legal": not why,
        "why": why,
        "length_mm": after.length,
        "density": after.density,
    }


def _why_not(marker: Marker, piece: int) -> str:
    """Why a piece may not lie where it does, if it is the piece's own fault."""
    import shapely

    outlines = list(marker.outlines())
    _, item, variant, outline = outlines[piece]
    shape, band = shapely.Polygon(outline), marker.problem.bands[variant.band]
    under = [
        f"'{other.name}'"
        for number, (_, other, _, points) in enumerate(outlines)
        if number != piece and shape.intersection(shapely.Polygon(points)).area > LEAST_SHARED
    ]
    if under:
        return f"'{item.name}' lies over {' and '.join(dict.fromkeys(under))}"
    (left, low), (right, high) = outline.min(axis=0), outline.max(axis=0)
    if left < band.start - SLACK or right > band.end + SLACK or low < band.low - SLACK or high > band.high + SLACK:
        return f"'{item.name}' reaches beyond the cloth it is cut from"
    return ""


def with_layout(plan: Plan, number: int, places: Sequence[tuple[float, float, float | None]]) -> Plan:
    """The plan with the pieces of one of its markers laid by hand.

    Raises
    ------
    LayoutError
        If it cannot be cut so: the first reason.
    """
    chosen, fabric = plan.markers[number]
    marker = with_places(fabric.result.marker, places)
    try:
        check(marker)
    except CheckError as error:
        raise LayoutError(str(error)) from error
    bought = purchase_of(fabric.offer, marker.problem, marker.length)
    after = replace(
        fabric,
        result=replace(fabric.result, marker=marker, stopped_by="hand"),
        purchase=bought,
        cost=fabric.offer.cost(bought.buy),
    )
    return replace(plan, fabrics=(*plan.fabrics[: chosen - 1], after, *plan.fabrics[chosen:]))
