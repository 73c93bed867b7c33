"""A robe or kaftan of rectangles: closed or open in front, with or without gussets. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.girths import reaches_hip, to_waist
from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError, OutlineError
from pieces.garments.ease import little_ease
from pieces.garments.garment import Garment
from pieces.garments.idle import idle_by
from pieces.garments.jacket.parts import LEAST_MOUTH, MOST_MOUTH
from pieces.garments.parts.pocket import MOUTH_SHARE, PATCH_DEPTH, patch_pocket
from pieces.garments.parts.strap import belt, strap, strap_stitched
from pieces.garments.plausible import long_sleeve, require_hems, require_lengths, require_stand
from pieces.garments.straight.neck import draft_neck
from pieces.garments.straight.panels import BodyMarks, body_seams, draft_body, draft_sleeve
from pieces.garments.straight.sewing import robe_steps
from pieces.garments.straight.shape import RobeShape
from pieces.garments.straight.style import RobeStyle
from pieces.garments.tried import tried_notes
from pieces.piece.finished import Finished
from pieces.piece.pieces import PieceSet
from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import thread_for
from pieces.trims.trim import TrimNeeded
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pieces.body.body import Body
    from pieces.garments.idle import Idle
    from pieces.piece.curve import Point
    from pieces.piece.piece import Piece

LITTLE: Mapping[str, float] = {"chest": 4 * INCH, "waist": 4 * INCH, "hip": 4 * INCH, "upper arm": 2 * INCH}
"""Less ease than this, mm, is said to be little: a robe has no closure to give way."""

BELT_MORE, BELT_WIDTH = 40 * INCH, 2 * INCH
"""How much longer than the waist a belt is, and its finished width."""

LOOP_MORE, LOOP_WIDTH = INCH, 3 / 8 * INCH
"""How much longer than the belt is wide a loop is, and its finished width."""

BELOW_WAIST, ABOVE_HEM, BESIDE = 3 * INCH, 2 * INCH, INCH
"""How far a pocket keeps from waist, hem and sides."""

IDLE: tuple[Idle, ...] = (
    (("facing_width",), lambda style: style.neckline != "facing", "no facing is asked for"),
    (("band_width",), lambda style: style.neckline != "band", "no band is asked for"),
    (("slit",), lambda style: style.is_open, "the front is open"),
    (("belt_length", "belt_width"), lambda style: style.belt == "none", "no belt is asked for"),
    (("pocket_mouth",), lambda style: style.pockets == "none", "no pockets are asked for"),
)
"""Options by what makes them idle, and the words for it."""


def draft(body: Body, style: RobeStyle) -> PieceSet:
    """Draft the robe; DraftError where sizes do not go together, or the head does not pass."""
    try:
        return _draft(body, style.corrected(body))
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a robe together: {error}") from error


def _draft(body: Body, style: RobeStyle) -> PieceSet:
    require_lengths(body, style.long_for(body), style.sleeve or 0.0)
    if style.neckline == "band" and not style.is_open:
        require_stand(body, "band_width", style.banded)
    shape = RobeShape.of(body, style)
    marks, more = _added(shape, body, style, to_waist(body))
    neck, seams = draft_neck(shape, style)
    pieces = (*draft_body(shape, style, marks), *draft_sleeve(shape, style), *neck, *more)
    finished = tuple(_finished(shape, body, style))
    measures = {
        "body_finished_length": shape.length,
        "half_width": 2 * shape.half,
        "sleeve_cut_width": next(piece.width for piece in pieces if piece.name == "sleeve"),
        "sleeve_cut_length": next(piece.length for piece in pieces if piece.name == "sleeve"),
        "armhole_depth": shape.arm,
        "half_neck_width": shape.neck,
        "front_neck_depth": shape.ahead,
        "slit": shape.slit,
    }
    notes = (
        *tried_notes(body, "robe", "length", "sleeve", "ease"),
        *long_sleeve(body, style.sleeve or 0.0),
        *little_ease(finished, LITTLE, MORE),
        *idle_by(style, IDLE),
    )
    drafted = PieceSet("robe", pieces, (*body_seams(style), *seams), measures, notes, finished)
    drafted.check()
    require_hems(drafted, style.hem)
    return drafted


MORE: Mapping[str, str] = {"upper arm": "sleeve_width"}


def _added(shape: RobeShape, body: Body, style: RobeStyle, waist: float) -> tuple[BodyMarks, list[Piece]]:
    """Belt, loops and pockets, and where they lie on the body."""
    pieces: list[Piece] = []
    loop: float | None = None
    pocket: tuple[Point, ...] = ()
    if style.belt == "belt":
        wide = BELT_WIDTH if style.belt_width is None else style.belt_width
        girth = measured_or_usual(body, "waist")
        long = girth + BELT_MORE if style.belt_length is None else style.belt_length
        if long < girth:
            raise DraftError(
                f"belt_length of {format_both(long)} does not go round a waist of {format_both(girth)}: make it longer",
                about="belt_length",
            )
        pieces += [
            belt(long, wide, style.seam),
            strap("belt loop", wide + LOOP_MORE, LOOP_WIDTH, (style.seam, style.seam), 2),
        ]
        if shape.arm + style.gusset < waist < shape.length - style.side_slit:
            loop = waist
    if style.pockets == "patch":
        mouth = _mouth(shape, body, style, waist)
        pieces += patch_pocket(mouth, style.seam)
        top, near = waist + BELOW_WAIST, (shape.half - mouth) / 2
        low = top + PATCH_DEPTH * mouth
        pocket = ((top, near), (low, near), (low, near + mouth), (top, near + mouth), (top, near))
    return BodyMarks(loop, pocket), pieces


def _mouth(shape: RobeShape, body: Body, style: RobeStyle, waist: float) -> float:
    """How wide the mouth of a pocket is, mm; DraftError if there is no room for it."""
    beside = 2 * max(BESIDE, style.faced if style.neckline == "facing" and style.is_open else 0.0)
    room = min(shape.half - beside, (shape.length - waist - BELOW_WAIST - ABOVE_HEM) / PATCH_DEPTH)
    usual = min(max(MOUTH_SHARE * body.bust, LEAST_MOUTH), MOST_MOUTH, max(room, LEAST_MOUTH))
    mouth = usual if style.pocket_mouth is None else style.pocket_mouth
    if mouth > room + 1e-6:
        raise DraftError(
            f"a patch pocket with a mouth of {format_both(mouth)} finds no room between waist and hem: make the robe"
            " longer, or leave pockets out",
            about="pockets" if style.pocket_mouth is None else "pocket_mouth",
        )
    return mouth


def _finished(shape: RobeShape, body: Body, style: RobeStyle) -> Iterator[Finished]:
    yield Finished("chest", 4 * shape.half, body.bust)
    if body.waist is not None and to_waist(body) <= shape.length:
        yield Finished("waist", 4 * shape.half, body.waist)
    yield Finished("hip", 4 * shape.half, body.hip if reaches_hip(body, shape.length) else None)
    yield Finished("length from the neck point", shape.length)
    yield Finished(
        "sleeve from the shoulder point", shape.sleeve + shape.half - body.across_shoulder / 2, body.arm_length
    )
    yield Finished("upper arm", 2 * shape.arm, body.upper_arm)
    if not style.is_open:
        yield Finished("neckline with its slit", shape.opening + 2 * shape.slit, measured_or_usual(body, "head"))


def trims(drafted: PieceSet, style: RobeStyle) -> tuple[TrimNeeded, ...]:
    """Thread by all that is sewn, and a label."""
    return (*thread_for(_sewn(drafted)), TrimNeeded("label", ("back neck",), count=1))


ALONE = ("centre back", "centre front")
"""Edges that are sewn to those of the other half."""

STITCHED = ("hem", "wrist", "side slit", "inner edge", "inner side", "inner slant", "pocket side", "bottom", "mouth")
"""Edges that are turned in and stitched, by what their names end in."""


def _sewn(drafted: PieceSet) -> Iterator[Sewn]:
    yield from sewn_seams(drafted)
    for piece in drafted:
        times = piece.cut * (2 if piece.on_fold else 1)
        if piece.name == "belt loop":
            yield strap_stitched(piece)
            continue
        if piece.name == "belt":
            yield Sewn("belt", piece.edge("long edge").length + 2 * piece.edge("end").length, 2, ("lockstitch",))
            continue
        for edge in piece.edges:
            if edge.name in ALONE:
                yield Sewn(edge.name, edge.length)
            if edge.name.endswith(STITCHED):
                yield Sewn(f"{piece.name}, {edge.name}", times * edge.length, 3, ("lockstitch",))


ROBE = Garment(
    "robe",
    "robe or kaftan of rectangles",
    ("bust", "hip", "across_shoulder", "neck", "upper_arm"),
    RobeStyle,
    draft,
    trims,
    robe_steps,
    sketch="M42 10H6V36H30V114H70V36H94V10H58C57 20 43 20 42 10M50 18V40M30 36V28M70 36V28",
)
