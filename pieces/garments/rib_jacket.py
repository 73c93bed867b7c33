"""The model case: a jacket with rib cuffs, hem and neck, zipped or buttoned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.body import Body
from pieces.errors import DraftError, OutlineError
from pieces.garments import jacket_block as blocks
from pieces.garments import jacket_body as trunk
from pieces.garments import jacket_facing as facings
from pieces.garments import jacket_sleeve as arm
from pieces.garments.garment import Garment
from pieces.garments.jacket_finished import finished_sizes, fit_notes
from pieces.garments.jacket_fit import FITS
from pieces.garments.jacket_style import JacketStyle
from pieces.garments.jacket_trims import jacket_trims
from pieces.piece.curve import polyline_length
from pieces.piece.pieces import PieceSet, Seam, walk
from pieces.piece.ribbing import LEAST_SHARE, cut_depth, rib_band
from pieces.require import require
from pieces.units import format_both

if TYPE_CHECKING:
    from pieces.piece.piece import Piece

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
    require(body, Body, "the body of a draft", "a Body")
    require(style, JacketStyle, "the style of a draft", "a style of this garment: garment.style()")
    style = style.corrected(body)
    try:
        return _draft(blocks.Block.of(body, style), body, style)
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a jacket together: {error}") from error


def _draft(block: blocks.Block, body: Body, style: JacketStyle) -> PieceSet:
    back, front = trunk.draft_back(block, body, style), trunk.draft_front(block, body, style)
    armholes = front.edge("armhole").length, back.edge("armhole").length
    cap, room = arm.fit_cap(*armholes, body, style)
    cap = arm.correct_cap(cap, *armholes, body.tried_on.arm)
    rise = block.match[0] - front.notches[0].point[0]
    pieces = [back, front, arm.draft_sleeve(cap, body, style, rise)]
    if style.facing == "separate":
        pieces += _facings(block, body, style)
    if style.tab_width > 0:
        pieces.append(trunk.draft_tab(style))
    openings, places = _openings(block, body, style)
    bands, notes = _bands(openings, places, body, style)
    names = {piece.name for piece in pieces}
    seams = SEAMS + FACED * ("front facing" in names) + FACED_BEHIND * ("back facing" in names)
    drafted = PieceSet("rib-jacket", tuple(style.seams.give(piece) for piece in (*pieces, *bands)), seams)
    drafted.check()
    measures = _measures(block, body, style, drafted) | openings
    measures |= {"sleeve_cut_width": cap.width + 2 * style.seams.of("side"), "cap_height": cap.height}
    finished = list(finished_sizes(drafted, block, body, style))
    tried = [f"try-on: {words}" for words in body.tried_on.words()]
    across = trunk.across_notes(drafted, block, body, style)
    told = (*tried, *_cap_notes(drafted, body, style, room), *notes, *fit_notes(finished, block, body), *across)
    if style.back_facing == "facing" and style.facing != "separate":
        told = (*told, "back_facing: none is drafted, since it is sewn to a separate front facing")
    return PieceSet(drafted.garment, drafted.pieces, seams, measures, told, tuple(finished))


def _facings(block: blocks.Block, body: Body, style: JacketStyle) -> list[Piece]:
    """The front facing, and that of the back neckline where it is asked for."""
    back, front = (block.neckline(depth) for depth in blocks.neck_depths(body))
    found = [facings.draft_front_facing(block, style, facings.to_front_edge(front, style.overlap))]
    return found + ([facings.draft_back_facing(block, back)] if style.back_facing == "facing" else [])


def _openings(
    block: blocks.Block, body: Body, style: JacketStyle
) -> tuple[dict[str, float], dict[str, tuple[tuple[str, float], ...]]]:
    """Sewn lengths that the bands are sewn to, from one finished front edge to the other, mm; and what each band meets.

    A band stretches evenly, so that it meets a seam at the same share of its length as its opening does.
    """
    back, front = (polyline_length(block.neckline(depth)) for depth in blocks.neck_depths(body))
    neck = back + front + style.overlap
    hem = 2 * block.sewn_hem[1] + style.overlap - style.tab_width
    side, shoulder = 1 / 2 - block.sewn_hem[1] / hem / 2, 1 / 2 - back / neck / 2
    places = {
        "cuff": (("sleeve middle", 0.5),),
        "hem band": (("right side seam", side), ("centre back", 0.5), ("left side seam", 1 - side)),
        "neckband": (("right shoulder seam", shoulder), ("centre back", 0.5), ("left shoulder seam", 1 - shoulder)),
    }
    return {"wrist_opening": arm.sleeve_hem(style, body), "hem_opening": 2 * hem, "neck_opening": 2 * neck}, places


def _bands(
    openings: dict[str, float], places: dict[str, tuple[tuple[str, float], ...]], body: Body, style: JacketStyle
) -> tuple[list[Piece], list[str]]:
    """Cuff, hem band and neckband, and notes on how each was measured and whether the rib stretches that far."""
    deep, shallow = (cut_depth(depth, style.seam) for depth in (style.rib_depth, style.neck_rib_depth))
    pieces, notes = [], []
    for name, opening, rule, depth, count in (
        ("cuff", openings["wrist_opening"], style.cuff_rule(), deep, 2),
        ("hem band", openings["hem_opening"], style.hem_rule(), deep, 1),
        ("neckband", openings["neck_opening"], style.neck_rule(), shallow, 1),
    ):
        words = rule.describe()
        if name == "cuff" and style.band_rule == "subtract":
            length, words = body.wrist + style.cuff_add, f"the wrist plus {format_both(style.cuff_add)}"
        else:
            length = rule.cut_length(name, opening)
        pieces.append(rib_band(name, length, depth, style.seam, cut=count, places=places[name]))
        sewn = length - 2 * style.seam
        notes.append(f"{name}: cut by rule, {words}{_ends(name, style)}; sewn {sewn / opening:.0%} of its opening")
        notes += _stretch_notes(name, sewn, opening, body, style)
    return pieces, notes


def _ends(name: str, style: JacketStyle) -> str:
    """What a band's cut length has beyond its rule, which is about ends with the one seam of all."""
    more = 2 * (style.seams.of(style.seams.end_of(name)) - style.seam)
    if abs(more) < SEEN:
        return ""
    return f", and {format_both(abs(more))} {'more' if more > 0 else 'less'} for the allowances at its ends"


def _stretch_notes(name: str, sewn: float, opening: float, body: Body, style: JacketStyle) -> list[str]:
    """Where a band would have to stretch further than its rib. No neckband passes the head: the front opens."""
    if style.swatch is None:
        few = sewn < LEAST_SHARE * opening
        return [f"{name}: must stretch {opening / sewn:.2f} times; try it on your rib first"] if few else []
    if name != "cuff":
        return style.swatch.note(name, sewn, "meet its opening", opening)
    return [
        *style.swatch.note(name, sewn, "meet its opening", opening, remedy="gather the wrist end, or cut it longer"),
        *style.swatch.passing_hand(name, sewn, body.wrist, body.wearer),
    ]


def _measures(block: blocks.Block, body: Body, style: JacketStyle, drafted: PieceSet) -> dict[str, float]:
    seams = style.seams
    neck, tip, depth = block.cut_corners(seams)
    back_neck, front_neck = blocks.neck_depths(body)
    lower = style.seam - seams.of("neck") - neck[0]
    wider = seams.of("side") - style.seam  # than a cut edge that has the one seam of all
    armhole = sum(drafted[name].edge("armhole").length for name in ("back", "front"))
    sleeve = drafted["sleeve"]
    cap = sum(sleeve.edge(name).length for name in ("front cap", "back cap"))
    bands = {
        f"{name.replace(' ', '_')}_cut_{what}": getattr(drafted[name], size)
        for name in ("cuff", "hem band", "neckband")
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
    usual = FITS[style.fit].arm_room(body)
    if style.sleeve_room is None and room < usual:
        notes.append(f"sleeve_room: {room / usual:.0%} of the usual, so the cap meets the armhole")
    if style.sleeve_room is None and room > usual:
        more = f"{format_both(room - usual)} more than usual"
        notes.append(f"sleeve_room: {more}, so that the cap stays within a third of its armhole")
    return notes


RIB_JACKET = Garment(
    "rib-jacket",
    "jacket with rib cuffs, hem and neck",
    ("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist"),
    JacketStyle,
    draft,
    jacket_trims,
)
