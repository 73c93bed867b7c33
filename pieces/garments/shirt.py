"""A shirt with a collar cut in one, buttoned in front, by the block of the jacket. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.body.girths import reaches_hip
from pieces.body.ranges import usual_range
from pieces.errors import DraftError, OutlineError
from pieces.garments.ease import at_the_waist
from pieces.garments.garment import Garment
from pieces.garments.idle import idle_by
from pieces.garments.jacket import body as trunk
from pieces.garments.jacket import sleeve as arm
from pieces.garments.jacket.block import Block, neck_depths
from pieces.garments.jacket.facing import draft_front_facing, to_front_edge
from pieces.garments.jacket.finished import fit_notes
from pieces.garments.jacket.fit import FITS
from pieces.garments.jacket.posture import Posture, ease_in
from pieces.garments.jacket.sides import join_sides, sides_of
from pieces.garments.jacket.yoke import cut_yoke, yoke_level
from pieces.garments.parts.collar import fall_collar
from pieces.garments.plausible import long_sleeve, require_cuff, require_hems, require_lengths, require_stand
from pieces.garments.rib_jacket import FACED, SEAMS
from pieces.garments.shirts.parts import chest_pockets, cuffs, hemmed, interfacings, shirt_front
from pieces.garments.shirts.sewing import shirt_steps, shirt_trims
from pieces.garments.shirts.style import ShirtStyle
from pieces.length import mm
from pieces.piece.finished import Finished
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.idle import Idle
    from pieces.garments.jacket.style import JacketStyle
    from pieces.garments.parts.cap import Cap
    from pieces.piece.piece import Piece

HEM_LESS = INCH
"""How much narrower than above a short sleeve ends."""

COLLAR_EASE, LEAST_COLLAR_EASE = 0.75 * INCH, INCH / 4
"""The neckline is drafted for a neck so much wider; with less room than the other it is said to be tight."""

IDLE: tuple[Idle, ...] = (
    (("cuff_depth",), lambda style: not style.has_cuff, "no cuffs are asked for"),
    (("ends",), lambda style: style.sleeves == "short", "short sleeves are hemmed anyway"),
    (("pocket_mouth",), lambda style: style.pockets == "none", "no pockets are asked for"),
)
"""Options by what makes them idle, and the words for it."""


def draft(body: Body, style: ShirtStyle) -> PieceSet:
    """Draft the shirt; DraftError where measurements and options do not go together."""
    try:
        sides = sides_of(body)
        if sides is None:
            drafted = _draft(body, style, _lacking_length(body, style))
            return _with_yoke(drafted, style, yoke_level(body, style.seam, drafted))
        more = _lacking_length(sides[1], style)  # the same on both sides, or they do not meet at the centre
        like = style.block_style(sides[1])
        levels = Block.of(_with_room_at_the_neck(sides[1]), replace(like, length=mm(like.length + more)))
        halves = [_draft(side, style, more, levels) for side in sides]
        level = yoke_level(sides[1], style.seam, *halves)
        joined = join_sides(*(_with_yoke(half, style, level) for half in halves))
        tried = [note for words in body.tried_on.words() if (note := f"try-on: {words}") not in joined.notes]
        return replace(joined, notes=(*tried, *joined.notes))
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a shirt together: {error}") from error


def _lacking_length(body: Body, style: ShirtStyle) -> float:
    """How much shorter than asked for the jacket's rules make it, mm: their neck point is that of the cut line."""
    block = Block.of(_with_room_at_the_neck(body), style.block_style(body))
    return style.long_for(body) + body.tried_on.length - (block.sewn_hem[0] - block.sewn_neck[0])


def _with_yoke(drafted: PieceSet, style: ShirtStyle, level: float) -> PieceSet:
    """The set with its back in two, where a yoke is asked for."""
    return cut_yoke(drafted, style.seam, level) if style.yoke == "back" else drafted


def _draft(body: Body, style: ShirtStyle, more: float, levels: Block | None = None) -> PieceSet:
    """One draft, its back still whole; of two sides both are shifted at the levels of one block."""
    _require_plausible(body, style)
    like, collared = style.block_style(body, style.wrist_end(body)), _with_room_at_the_neck(body)
    like = replace(like, length=mm(like.length + more))
    block = Block.of(collared, like, levels)
    back, front = trunk.draft_back(block, collared, like), trunk.draft_front(block, collared, like)
    posture = Posture.of(levels or block, body, like, float(back.edge("armhole").points[:, 1].min()))
    back, front = posture.give(back), shirt_front(posture.give(front), style)
    rise = block.match[0] - front.notches[0].point[0]
    armholes = front.edge("armhole").length, back.edge("armhole").length
    cap, room = arm.fit_cap(*armholes, body, like)
    cap = arm.correct_cap(cap, *armholes, body.tried_on.arm)
    sleeve, ends = cuffs(hemmed(_sleeve(cap, body, style, like, rise), style), body, style)
    front, patches = chest_pockets(front, block, body, style)
    facing = _facing(block, posture, collared, style, like)
    pieces = [hemmed(back, style), front, sleeve, *facing, _collar(back, front, style), *ends, *patches]
    drafted = PieceSet("shirt", (*pieces, *interfacings(pieces, style)), tuple(_seams(sleeve, ends, style)))
    drafted, eased = ease_in(drafted, posture)
    drafted.check()
    require_hems(drafted, style.hem, with_wrist=not style.has_cuff)
    finished = tuple(_finished(drafted, block, cap, body, style))
    notes = (
        *(f"try-on: {words}" for words in body.tried_on.words()),
        *eased,
        *long_sleeve(body, style.sleeve_of(body)),
        *_room_notes(room, like, body),
        *fit_notes(list(finished), block, body, like),
        *trunk.across_notes(drafted, block, body, like),
        *_told(finished, style),
    )
    return replace(drafted, measures=_measures(drafted, cap, body, style), finished=finished, notes=notes)


def _require_plausible(body: Body, style: ShirtStyle) -> None:
    """Refuse sleeves, cuffs and collars that no body has a use for."""
    sleeve = style.sleeve_of(body)
    require_lengths(body, style.long_for(body), sleeve)
    require_cuff("cuff_depth", style.cuff, sleeve)
    require_stand(body, "collar_height", style.collar_height)
    require_stand(body, "collar_point", style.collar_point)


def _collar(back: Piece, front: Piece, style: ShirtStyle) -> Piece:
    """The collar, as long as the neckline from centre front to centre front."""
    behind = back.edge("neck").length
    half = behind + front.edge("neck").length
    return fall_collar(half, style.collar_height, style.collar_point, style.seam, behind)


def _measures(drafted: PieceSet, cap: Cap, body: Body, style: ShirtStyle) -> dict[str, float]:
    sleeve = drafted["sleeve"]
    return {
        "body_finished_length": style.long_for(body),
        "neck_opening": 2 * drafted["collar"].edge("neck").length,
        "armhole_seam": sum(drafted[name].edge("armhole").length for name in ("back", "front")),
        "sleeve_cap_seam": sum(sleeve.edge(name).length for name in ("front cap", "back cap")),
        "sleeve_cut_width": sleeve.width,
        "cap_height": cap.height,
    }


def _with_room_at_the_neck(body: Body) -> Body:
    """The body with a wider neck, as far as necks go: that of the jacket's rules leaves a collar no room."""
    return replace(body, neck=mm(min(body.neck + COLLAR_EASE, usual_range(body.wearer, "neck").most)))


def _sleeve(cap: Cap, body: Body, style: ShirtStyle, like: JacketStyle, rise: float) -> Piece:
    """The sleeve; a short one ends a little narrower than it is above."""
    if style.wrist_end(body) is None:
        like = style.block_style(body, cap.width - HEM_LESS)
    return arm.draft_sleeve(cap, body, like, rise)


def _facing(block: Block, posture: Posture, body: Body, style: ShirtStyle, like: JacketStyle) -> list[Piece]:
    """The facing of the front edge, where it is cut by itself."""
    if style.facing == "grown-on":
        return []
    neckline = to_front_edge(block.neckline(neck_depths(body, like)[1]), like.overlap)
    return [shirt_front(posture.give(draft_front_facing(block, like, neckline)), style)]


def _seams(sleeve: Piece, ends: list[Piece], style: ShirtStyle) -> Iterator[Seam]:
    yield from (seam for seam in SEAMS if seam.name != "cuff")
    if style.facing == "separate":
        yield from FACED
        yield Seam("front neck end", (("front facing", "neck end"),), (("front", "neck end"),))
    yield Seam("collar", (("collar", "neck"),), (("back", "neck"), ("front", "neck")))
    if ends:
        gathered = sleeve.edge("wrist").length - ends[0].edge("edge").length
        yield Seam("cuff", (("sleeve", "wrist"),), (("cuff", "edge"),), gathered)


def _finished(drafted: PieceSet, block: Block, cap: Cap, body: Body, style: ShirtStyle) -> Iterator[Finished]:
    sides = [drafted[name].edge("side").points for name in ("back", "front")]
    sleeve, neck = drafted["sleeve"], drafted["collar"].edge("neck").length
    long = float(sleeve.edge("wrist").points[0, 0]) - float(sleeve.edge("front cap").points[-1, 0]) + style.cuff
    yield Finished("chest", 2 * sum(float(side[-1, 1]) for side in sides), body.bust)
    length = block.sewn_hem[0] - block.sewn_neck[0]
    hip = body.hip if reaches_hip(body, length) else None
    yield from at_the_waist(drafted, body, block.sewn_neck[0], length)
    yield Finished("hem against the hip", 2 * sum(float(side[0, 1]) for side in sides), hip)
    yield Finished("length from the neck point", length)
    arm_length = body.arm_length if style.sleeves == "long" else None
    beyond = block.sewn_tip[1] - body.across_shoulder / 2
    yield Finished("sleeve from the shoulder point", long + beyond, arm_length)
    yield Finished("armhole round", sum(drafted[name].edge("armhole").length for name in ("back", "front")))
    yield Finished("upper arm", cap.width, body.upper_arm)
    if style.has_cuff:
        yield Finished("cuff", style.cuff_length(body), body.wrist)
    yield Finished("neck opening", 2 * neck, body.neck)


def _room_notes(room: float, like: JacketStyle, body: Body) -> Iterator[str]:
    """Where the sleeve is narrower or wider than usual, so that its cap meets the armhole."""
    usual = FITS[like.fit].arm_room(body)
    if like.sleeve_room is None and abs(room - usual) > 1.0:
        than = "more" if room > usual else "less"
        yield f"sleeve_room: {format_both(abs(room - usual))} {than} than usual, so that the cap meets the armhole"


def _told(finished: tuple[Finished, ...], style: ShirtStyle) -> Iterator[str]:
    """A tight neck, and options that change nothing."""
    neck = next(size for size in finished if size.name == "neck opening")
    if neck.ease is not None and neck.ease < LEAST_COLLAR_EASE:
        yield f"neck opening: {format_both(neck.garment)} round leaves little room: measure the neck at its base"
    yield from idle_by(style, IDLE)


SHIRT = Garment(
    "shirt",
    "shirt with a collar, buttoned in front",
    ("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist"),
    ShirtStyle,
    draft,
    shirt_trims,
    shirt_steps,
    sketch="M38 12L24 18L6 86L20 90L30 50V112H70V50L80 90L94 86L76 18L62 12L56 6H44L38 12L46 24L50 16L54 24L62 12"
    "M50 16V112M8 78L22 82M92 78L78 82",
)
