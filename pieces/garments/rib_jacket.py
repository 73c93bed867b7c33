"""The model case: a jacket with rib cuffs, hem and neck, zipped or buttoned."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError, OutlineError
from pieces.garments.garment import Garment
from pieces.garments.jacket import block as blocks
from pieces.garments.jacket import body as trunk
from pieces.garments.jacket import facing as facings
from pieces.garments.jacket import sleeve as arm
from pieces.garments.jacket.bands import draft_bands, elastics
from pieces.garments.jacket.finished import finished_sizes, fit_notes
from pieces.garments.jacket.fit import FITS
from pieces.garments.jacket.idle import idle_options
from pieces.garments.jacket.look import SKETCH, TITLE, jacket_title
from pieces.garments.jacket.parts import add_interfacing, add_parts
from pieces.garments.jacket.posture import Posture, ease_in
from pieces.garments.jacket.sewing import jacket_steps
from pieces.garments.jacket.sides import join_sides, sides_of
from pieces.garments.jacket.style import JacketStyle
from pieces.garments.jacket.trims import jacket_trims
from pieces.garments.jacket.two_piece import cut_two_piece_sleeve
from pieces.garments.jacket.yoke import cut_yoke, yoke_level
from pieces.garments.parts.neck import HOOD_HEIGHT, NO_CORD, hood, stand_collar
from pieces.garments.plausible import long_sleeve, require_cuff, require_lengths, require_stand
from pieces.piece.curve import polyline_length
from pieces.piece.pieces import PieceSet, Seam, walk
from pieces.piece.ribbing import QUARTER
from pieces.units import format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.piece.piece import Piece

LOW_CAP = 1 / 8
"""A cap lower than that share of its armhole is said to be flat: common practice, no source."""

SEEN = 0.05
"""A smaller difference of two seams is none, mm."""

ARMHOLES = (
    Seam("front armhole", (("sleeve", "front cap"),), (("front", "armhole"),)),
    Seam("back armhole", (("sleeve", "back cap"),), (("back", "armhole"),)),
)
SEAMS = (
    Seam("side", (("front", "side"),), (("back", "side"),)),
    Seam("shoulder", (("front", "shoulder"),), (("back", "shoulder"),)),
    *ARMHOLES,
    Seam("underarm", (("sleeve", "front underarm"),), (("sleeve", "back underarm"),)),
    Seam("cuff", (("cuff", "end"),), (("cuff", "other end"),)),
)
FACED = (
    Seam("front edge", (("front facing", "front edge"),), (("front", "front edge"),)),
    Seam("front neckline", (("front facing", "neck"),), (("front", "neck"),)),
)
FACED_BEHIND = (
    Seam("back neckline", (("back facing", "neck"),), (("back", "neck"),)),
    Seam("facing shoulder", (("front facing", "shoulder"),), (("back facing", "shoulder"),)),
)


def draft(body: Body, style: JacketStyle) -> PieceSet:
    """Draft the jacket.

    Returns
    -------
    PieceSet
        Shell pieces (back, front, sleeve, and facing or tabs where asked) and rib (cuff, hem band, neckband),
        checked: seams match, outlines are simple, notches lie on the sew line.

    Raises
    ------
    DraftError
        If the measurements do not go together; it says which, and what to change.
    """
    sides = sides_of(body)
    try:
        if sides is None:
            drafted = _draft(body, style.corrected(body))
            return _cut_up(drafted, style, yoke_level(body, style.seams.of("shoulder"), drafted))
        right_style = style.corrected(sides[1])
        levels = blocks.Block.of(sides[1], right_style)
        right = _draft(sides[1], right_style, levels)  # first, so that what is wrong with both is not said of the left
        left = _left(sides[0], style, levels)
        level = yoke_level(sides[1], style.seams.of("shoulder"), left, right)
        left, right = (_cut_up(half, style, level) for half in (left, right))
        joined, said = join_sides(left, right), set(left.notes + right.notes)
        tried = [note for words in body.tried_on.words() if (note := f"try-on: {words}") not in said]
        return replace(joined, notes=(*tried, *joined.notes))
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a jacket together: {error}") from error


def _left(body: Body, style: JacketStyle, levels: blocks.Block) -> PieceSet:
    """The left side, whose faults are those of its corrections."""
    try:
        return _draft(body, style.corrected(body), levels)
    except (DraftError, OutlineError) as error:
        raise DraftError(
            f"the left side cannot be drafted, with its own shoulder or sleeve: {error}", about="shoulder_slope"
        ) from error


def _draft(body: Body, style: JacketStyle, levels: blocks.Block | None = None) -> PieceSet:
    """One draft, its back and sleeve still whole; of two sides both are shifted at the levels of one block."""
    _require_plausible(body, style)
    block = blocks.Block.of(body, style, levels)
    back, front = trunk.draft_back(block, body, style), trunk.draft_front(block, body, style)
    posture = Posture.of(levels or block, body, style, float(back.edge("armhole").points[:, 1].min()))
    back, front = posture.give(back), posture.give(front)
    armholes = front.edge("armhole").length, back.edge("armhole").length
    cap, room = arm.fit_cap(*armholes, body, style)
    cap = arm.correct_cap(cap, *armholes, body.tried_on.arm)
    rise = block.match[0] - front.notches[0].point[0]
    pieces = [back, front, arm.draft_sleeve(cap, body, style, rise)]
    if style.facing == "separate":
        pieces += [posture.give(piece) for piece in _facings(block, body, style)]
    if style.tab_width > 0:
        pieces.append(trunk.draft_tab(style))
    openings, places = _openings(block, body, style, posture)
    pieces[:2] = _with_quarters(back, front, openings["hem_opening"] / 2)
    bands, notes = draft_bands(openings, places, body, style)
    names = {piece.name for piece in pieces}
    pieces, more = add_parts({piece.name: piece for piece in pieces}, body, style)
    standing, on_neck = _on_neckline(openings, pieces, body, style)
    seams = SEAMS + FACED * ("front facing" in names) + FACED_BEHIND * ("back facing" in names) + (*more, *on_neck)
    given = [style.seams.give(piece) for piece in (*pieces, *standing, *bands)]
    drafted = PieceSet("rib-jacket", (*given, *add_interfacing(given, style)), seams)
    drafted, eased = ease_in(drafted, posture)
    seams = drafted.seams
    drafted.check()
    measures = _measures(block, body, style, drafted) | openings | elastics(openings, body, style)
    measures |= {"sleeve_cut_width": cap.width + 2 * style.seams.of("side"), "cap_height": cap.height}
    drafted = replace(drafted, measures=measures)
    finished = list(finished_sizes(drafted, block, body, style))
    tried = [f"try-on: {words}" for words in body.tried_on.words()]
    across = trunk.across_notes(drafted, block, body, style)
    told = (
        *tried,
        *eased,
        *_cap_notes(drafted, body, style, room),
        *long_sleeve(body, arm.sleeve_lengths(style, body)),
        *notes,
        *fit_notes(finished, block, body, style),
        *across,
    )
    told = (*told, *idle_options(body, style))
    if style.neckline == "hood":
        told = (*told, NO_CORD)
    return replace(drafted, notes=told, finished=tuple(finished))


def _require_plausible(body: Body, style: JacketStyle) -> None:
    """Refuse sleeves, cuffs and what stands on the neckline where no body has a use for them."""
    sleeve = arm.sleeve_lengths(style, body)
    require_lengths(body, style.length, sleeve)
    require_cuff("rib_depth", style.rib_depth, sleeve)
    if style.neckline != "hood":
        option = "collar_height" if style.neckline == "collar" else "neck_rib_depth"
        require_stand(body, option, getattr(style, option))


def _cut_up(drafted: PieceSet, style: JacketStyle, level: float) -> PieceSet:
    """The set with back and sleeve in two where that is asked for; what was measured holds as before."""
    if style.yoke == "back":
        drafted = cut_yoke(drafted, style.seams.of("shoulder"), level)
    if style.sleeve_pieces == "two":
        drafted = cut_two_piece_sleeve(drafted, style.seams.of("side"))
    drafted.check()
    return drafted


def _with_quarters(back: Piece, front: Piece, half: float) -> list[Piece]:
    """Back and front with the notches that halve each on the hem band; `half` is that of the hem opening, mm."""
    behind = back.edge("hem").length
    return [trunk.with_quarter(back, behind), trunk.with_quarter(front, half - behind)]


def _on_neckline(
    openings: dict[str, float], pieces: list[Piece], body: Body, style: JacketStyle
) -> tuple[list[Piece], list[Seam]]:
    """A collar or a hood, where one takes the place of the neckband; and its seam."""
    if style.neckline == "band":
        return [], []
    half, seam = openings["neck_opening"] / 2, style.seams.of("neck")
    back = next(piece for piece in pieces if piece.name == "back").edge("neck").length
    if style.neckline == "collar":
        ends = style.seams.of(style.seams.end_of("neckband"))
        piece = stand_collar(half, style.collar_height, ends, seam, back)
    else:
        height = HOOD_HEIGHT[body.wearer] if style.hood_height is None else style.hood_height
        piece = hood(half, height, style.seam, seam, half - back)
    if style.facing == "grown-on":  # the front's neckline goes on into its facing
        return [piece], []
    return [piece], [Seam(style.neckline, ((piece.name, "neck"),), (("back", "neck"), ("front", "neck")))]


def _facings(block: blocks.Block, body: Body, style: JacketStyle) -> list[Piece]:
    """The front facing, and that of the back neckline where it is asked for."""
    back, front = (block.neckline(depth) for depth in blocks.neck_depths(body, style))
    found = [facings.draft_front_facing(block, style, facings.to_front_edge(front, style.overlap))]
    if style.back_facing == "facing":
        wide = body.across_shoulder / 2 + style.drop_shoulder - blocks.half_neckline(body, style)
        found.append(facings.draft_back_facing(block, back, wide))
    return found


def _openings(
    block: blocks.Block, body: Body, style: JacketStyle, posture: Posture
) -> tuple[dict[str, float], dict[str, tuple[tuple[str, float], ...]]]:
    """Sewn lengths that the bands are sewn to, from one finished front edge to the other, mm; and what each band meets.

    A band stretches evenly, so that it meets a seam at the same share of its length as its opening does.
    """
    back, front = (
        polyline_length(moved(block.neckline(depth)))
        for moved, depth in zip((posture.back, posture.front), blocks.neck_depths(body, style), strict=True)
    )
    neck = back + front + style.overlap
    foot = np.array([block.sewn_hem])
    behind, before = (float(moved(foot)[0, 1]) for moved in (posture.back, posture.front))
    hem = behind + before + style.overlap - style.tab_width
    side, shoulder = 1 / 2 - behind / hem / 2, 1 / 2 - back / neck / 2
    places = {
        "cuff": (("sleeve middle", 0.5),),
        "hem band": (
            (QUARTER, side / 2),
            ("right side seam", side),
            (QUARTER, (side + 0.5) / 2),
            ("centre back", 0.5),
            (QUARTER, (1.5 - side) / 2),
            ("left side seam", 1 - side),
            (QUARTER, 1 - side / 2),
        ),
        "neckband": (("right shoulder seam", shoulder), ("centre back", 0.5), ("left shoulder seam", 1 - shoulder)),
    }
    return {"wrist_opening": arm.sleeve_hem(style, body), "hem_opening": 2 * hem, "neck_opening": 2 * neck}, places


def _measures(block: blocks.Block, body: Body, style: JacketStyle, drafted: PieceSet) -> dict[str, float]:
    seams = style.seams
    neck, tip, depth = block.cut_corners(seams)
    back_neck, front_neck = blocks.neck_depths(body, style)
    lower = style.seam - seams.of("neck") - neck[0]
    wider = seams.of("side") - style.seam  # than a cut edge that has the one seam of all
    armhole = sum(drafted[name].edge("armhole").length for name in ("back", "front"))
    sleeve = drafted["sleeve"]
    cap = sum(sleeve.edge(name).length for name in ("front cap", "back cap"))
    names = {piece.name for piece in drafted}
    bands = {
        f"{name.replace(' ', '_')}_cut_{what}": getattr(drafted[name], size)
        for name in ("cuff", "hem band", "neckband")
        if name in names
        for what, size in (("length", "width"), ("depth", "length"))
    }
    return bands | {
        "body_finished_length": style.length,
        "body_cut_length": block.sewn_hem[0] + seams.of("hem") - neck[0],
        "body_cut_width": blocks.panel_width(body, style) + 4 * wider,
        "bust_quarter": blocks.bust_quarter(body, style) + wider,
        "shoulder_from_centre": tip[1],
        "shoulder_drop": tip[0] - neck[0],
        "half_neck_width": neck[1],
        "half_neck_width_sewn": block.sewn_neck[1],
        "back_neck_depth": back_neck + lower,
        "front_neck_depth": front_neck + lower,
        "front_extension": trunk.cut_extension(style),
        "armhole_depth": depth,
        "armhole_seam": armhole,
        "sleeve_finished_length": arm.sleeve_lengths(style, body),
        "sleeve_cut_length": drafted["sleeve"].length,
        "sleeve_cap_seam": cap,
    }


def _cap_notes(drafted: PieceSet, body: Body, style: JacketStyle, room: float) -> list[str]:
    differences = [walk(seam, drafted) for seam in ARMHOLES]
    off = abs(sum(differences))
    notes = [f"sleeve cap and armhole {'match' if off < SEEN else f'differ by {off:.1f} mm'}"]
    if drafted.measures["cap_height"] < LOW_CAP * drafted.measures["armhole_seam"]:
        notes.append(
            f"sleeve: its cap is {format_both(drafted.measures['cap_height'])} high, low for this armhole, as of a"
            " dropped shoulder: it folds under the arm"
        )
    usual = FITS[style.fit].arm_room(body)
    if style.sleeve_room is None and room < usual:
        notes.append(f"sleeve_room: {room / usual:.0%} of the usual, so the cap meets the armhole")
    if style.sleeve_room is None and room > usual:
        more = f"{format_both(room - usual)} more than usual"
        notes.append(f"sleeve_room: {more}, so that the cap stays within a third of its armhole")
    return notes


RIB_JACKET = Garment(
    "rib-jacket",
    TITLE,
    ("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist"),
    JacketStyle,
    draft,
    jacket_trims,
    jacket_steps,
    SKETCH,
    jacket_title,
)
