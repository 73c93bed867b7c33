"""The rib jacket's sleeve: a cap solved to the armhole it is sewn into, tapered to the wrist.

Front and back halves of the cap each meet their own half of the armhole. Rules are common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.errors import DraftError
from pieces.garments.jacket.fit import FITS
from pieces.garments.parts.cap import HIGHEST_CAP, cap_notches, sleeve_edges, solve_cap
from pieces.piece.piece import Notch, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.jacket.style import JacketStyle
    from pieces.garments.parts.cap import Cap

ROOM_STEP, MOST_ROOM = 2.0, 12 * INCH
"""By how much the room is widened at a time for that, and up to what, mm."""

ROOM_STEPS = 8
"""Steps from the usual room down to two thirds of it."""

CUFF_TO_WRIST_END = 0.8
"""Cuff length over the wrist end it gathers."""


def sleeve_lengths(style: JacketStyle, body: Body) -> float:
    """Finished sleeve length from the body's shoulder point, mm: as asked, or the arm's."""
    length = style.sleeve if style.sleeve is not None else body.arm_length
    if length is None:
        raise DraftError("the sleeve has no length: add sleeve or arm_length", about="sleeve")
    return length


def fit_cap(front: float, back: float, body: Body, style: JacketStyle) -> tuple[Cap, float]:
    """The cap, and the room round the upper arm it gives, mm: as asked, or as usual.

    It has less room, down to two thirds, where the cap would not meet its armhole, and more where that would be higher
    than a third of it: an arm does not lift in such a sleeve.
    """
    if style.sleeve_room is not None:
        return solve_cap(front, back, _sewn_width(body, style, style.sleeve_room)), style.sleeve_room
    usual = FITS[style.fit].arm_room(body)
    while usual < MOST_ROOM and _is_high(front, back, _sewn_width(body, style, usual)):
        usual += ROOM_STEP
    for step in range(ROOM_STEPS):
        room = usual * (1 - step / ROOM_STEPS / 3)
        try:
            return solve_cap(front, back, _sewn_width(body, style, room)), room
        except DraftError:
            continue
    room = usual * 2 / 3
    return solve_cap(front, back, _sewn_width(body, style, room)), room


def correct_cap(cap: Cap, front: float, back: float, wider: float) -> Cap:
    """The cap of a sleeve that a try-on has shown to be so much too narrow, mm."""
    return solve_cap(front, back, cap.width + wider) if wider else cap


def _is_high(front: float, back: float, width: float) -> bool:
    """Whether the cap of a sleeve so wide would be higher than an arm can be lifted in."""
    try:
        return solve_cap(front, back, width).height > HIGHEST_CAP * (front + back)
    except DraftError:
        return front + back > 2 * width  # too narrow for any cap; else it is too wide


def draft_sleeve(cap: Cap, body: Body, style: JacketStyle, rise: float) -> Piece:
    """The sleeve with its cap, underarm seams of equal length, square to the wrist.

    Parameters
    ----------
    rise
        How far the front's armhole notch lies above its match point, mm. The sleeve's match point lies as far below
        its own front notch, on its middle line: so lines across the cloth run on from front to sleeve at the notch.

    Raises
    ------
    DraftError
        If nothing is left of the sleeve below its cap, or the wrist end is wider than the sleeve.
    """
    seam = style.seam
    length = sleeve_cut_length(style, body)
    wrist, base = sleeve_hem(style, body), seam + cap.height
    if length - seam < base + INCH:
        raise DraftError(
            f"the sleeve is cut {format_both(length)} long, but its cap and seam take {format_both(base)}:"
            f" make the sleeve longer or wider{style.if_rib(', drop the shoulder less')}, or the cuff shallower",
            about="sleeve",
        )
    if wrist > cap.width:
        raise DraftError(
            f"the wrist end is {format_both(wrist)} wide, but the sleeve is {format_both(cap.width)}:"
            f" give less {style.wrist_by}, or more sleeve_room",
            about=style.wrist_by,
        )
    foot = length - seam
    edges = sleeve_edges(cap, foot, wrist, seam)
    middle = (cap.front - cap.back) / 2
    notches = cap_notches(edges)
    return Piece(
        "sleeve",
        edges,
        cut=2,
        mirrored_pair=True,
        grain=((length * 0.3, 0.0), (length * 0.85, 0.0)),
        notches=(Notch("shoulder", (seam, 0.0)), *notches, Notch("cuff middle", (foot, middle))),
        match=(notches[0].point[0] + rise, 0.0),
    )


def sleeve_cut_length(style: JacketStyle, body: Body) -> float:
    """Cut sleeve length: finished length less what the shoulder drops and the cuff's depth, plus two seam allowances.

    A dropped shoulder carries the armhole seam down the arm, so that the sleeve begins so much lower.
    """
    return sleeve_lengths(style, body) - style.drop_shoulder - style.rib_depth + 2 * style.seam


def sleeve_hem(style: JacketStyle, body: Body) -> float:
    """Sewn width of the wrist end: as asked, or the cuff over 0.8."""
    return style.sleeve_hem if style.sleeve_hem is not None else (body.wrist + style.cuff_add) / CUFF_TO_WRIST_END


def _sewn_width(body: Body, style: JacketStyle, room: float) -> float:
    return body.upper_arm + style.sleeve_ease + room - 2 * style.seam
