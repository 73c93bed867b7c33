"""Trousers put together out of block, pockets, casing and bands; for each garment of the kind."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from pieces.body.corrections import Corrections
from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError, OutlineError
from pieces.garments.idle import idle_notes
from pieces.garments.parts.casing import FROM_CENTRE, casing_strip, cord_caution, folded_over
from pieces.garments.trouser.block import foot_girth, to_floor
from pieces.garments.trouser.finished import crotch_length, finished_sizes, fit_notes, thigh_round
from pieces.garments.trouser.leg import draft_back, draft_front
from pieces.garments.trouser.pockets import add_pockets
from pieces.length import mm
from pieces.piece.curve import polyline_length
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.trouser.block import TrouserBlock
    from pieces.garments.trouser.style import TrouserStyle
    from pieces.piece.finished import Finished
    from pieces.piece.piece import Piece

MEASUREMENTS = ("waist", "hip", "crotch_depth", "hip_depth", "inside_leg", "thigh")
"""What the block goes by."""

SEAMS = (
    Seam("side", (("front", "side"),), (("back", "side"),)),
    Seam("inseam", (("front", "inseam"),), (("back", "inseam"),)),
)
ON_WAIST = Seam("waistband", (("waistband", "edge"),), (("front", "waist"), ("back", "waist")))


@dataclass(frozen=True)
class RibBands:
    """What of rib is sewn to trousers: pieces, their seams, what they measure, and what is to be said of them."""

    pieces: tuple[Piece, ...] = ()
    seams: tuple[Seam, ...] = ()
    measures: dict[str, float] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    sizes: tuple[Finished, ...] = ()


NO_BANDS = RibBands()


def draft_trousers(
    name: str, block: TrouserBlock, body: Body, style: TrouserStyle, bands: RibBands = NO_BANDS
) -> PieceSet:
    """The pieces of trousers, checked.

    Raises
    ------
    DraftError
        If measurements and options do not go together.
    """
    try:
        front, back = draft_front(block, style), draft_back(block, style)
        front, back, pockets = add_pockets(front, back, block, body, style)
        strips = _strips(block, style)
        seams = (*SEAMS, *((ON_WAIST,) if strips else ()), *bands.seams)
        sizes = (*finished_sizes(block, body, style), *bands.sizes)
        notes = (*bands.notes, *_notes(block, body, style), *fit_notes(list(sizes), block, body, style))
        pieces = (front, back, *pockets, *strips, *bands.pieces)
        drafted = PieceSet(name, pieces, seams, _measures(block, body, style) | bands.measures, notes, sizes)
        drafted.check()
    except OutlineError as error:
        raise DraftError(
            f"these measurements and options do not make {name} together: {error}", about="seam"
        ) from error
    return drafted


def _strips(block: TrouserBlock, style: TrouserStyle) -> list[Piece]:
    """The casing as strips of its own, where it is asked for; with the hole that a cord comes out of."""
    if style.casing != "separate":
        return []
    depth, side = style.casing_deep, polyline_length(block.front.waist_line())
    strip = casing_strip(block.waist / 2, depth, style.seam, side)
    hole = ((FROM_CENTRE, depth / 2),) if style.cord == "cord" else ()
    return [replace(strip, drill_points=hole)]


def _measures(block: TrouserBlock, body: Body, style: TrouserStyle) -> dict[str, float]:
    front, back = block.front, block.back
    grown = style.casing == "grown-on"
    return {
        "waist_opening": block.waist,
        "waist_elastic": style.elastic_share * measured_or_usual(body, "waist"),
        "casing_depth": style.casing_deep,
        "casing_cut": folded_over(style.elastic_width) if grown else 2 * style.casing_deep,
        "hip_width": block.hip,
        "crotch_depth_with_ease": front.levels.crotch,
        "crotch_length": crotch_length(block),
        "front_crotch_extension": front.extension,
        "back_crotch_extension": back.extension,
        "back_rise": back.rise,
        "back_crotch_lowered": back.drop,
        "thigh_round": thigh_round(block),
        "hem_round": front.hem + back.hem,
        "foot_round": foot_girth(body),
        "inseam_length": front.inseam_length + style.below_leg,
        "side_length": front.levels.top + polyline_length(front.side_seam()) + style.below_leg,
    }


def _notes(block: TrouserBlock, body: Body, style: TrouserStyle) -> Iterator[str]:
    """What was taken by rule, what changes nothing, and what to mind."""
    elastic = format_both(style.elastic_share * measured_or_usual(body, "waist"))
    yield f"elastic: {elastic} as it lies, {style.elastic_share:g} of the waist, and what is overlapped at its join"
    yield from _by_rule(body)
    yield from _tried_on(body)
    if style.cord == "cord":
        yield from cord_caution(body.wearer)
    yield from idle_notes(
        style,
        (("pocket_mouth", "pocket_cloth"), style.pockets == "none", "no pockets are asked for"),
        (("pocket_cloth",), style.pockets == "patch", "a patch has no bag"),
        *style.idle,
    )
    if style.knee is not None and block.front.levels.knee is None:
        yield "knee_width: the leg ends above the knee or near it, so it changes nothing"
    below = block.front.inseam_length + style.below_leg - to_floor(block, body)
    if below > 0:
        yield (
            f"{style.leg_option}: the leg reaches {format_both(below)} below the floor without shoes: make it shorter"
        )


def _by_rule(body: Body) -> Iterator[str]:
    """Measurements that were not taken."""
    missing = [name for name in MEASUREMENTS if getattr(body, name) is None]
    if missing:
        taken = (f"{name.replace('_', ' ')} {format_both(measured_or_usual(body, name))}" for name in missing)
        yield f"by rule, since not measured: {', '.join(taken)}"


def _tried_on(body: Body) -> Iterator[str]:
    """What a try-on has changed, and what it changes nothing of here."""
    tried = body.tried_on
    used = set(Corrections(length=mm(tried.length), ease=mm(tried.ease)).words())
    for words in tried.words():
        yield f"try-on: {words}" if words in used else f"try-on: {words}: changes nothing here"
