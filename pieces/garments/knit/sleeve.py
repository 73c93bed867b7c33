"""The sleeve of a knit top: a low cap, as wide as that asks for, and never narrower than the fit says.

All rules are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.errors import DraftError, MeasurementError
from pieces.garments.parts.cap import HIGHEST_CAP, cap_notches, cap_of_height, sleeve_edges, solve_cap
from pieces.piece.piece import Notch, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.knit.style import KnitStyle
    from pieces.garments.parts.cap import Cap

MOST_ARM, STILL_LOW = 1.65, 0.29
"""A sleeve wider than so many times the arm gets a higher cap instead, up to that share of its armhole."""

SHORT = 0.36
"""A short sleeve, as a share of the arm."""

TAPER = 0.92
"""The end of a short sleeve, as a share of its width; it has no less room for the arm than the fit says."""

LONG_END, CUFFED_END = 1.1, 1.3
"""The end of a long sleeve over the wrist, which is as large as the hand: hemmed, and with a cuff."""

LEAST_UNDERARM, SHORT_UNDERARM = INCH, 2.5 * INCH
"""No seam under the arm is shorter; that of a short sleeve, where its length is not asked for."""


def fit_cap(front: float, back: float, body: Body, style: KnitStyle) -> Cap:
    """The cap of the fit's height; a lower one where an arm needs more width, a higher one where that is far too much.

    Parameters
    ----------
    front, back
        The two halves of the armhole, mm.

    Raises
    ------
    DraftError
        If the armhole is too small for the arm.
    """
    least, wider = style.shape.arm * body.upper_arm, body.tried_on.arm
    cap = cap_of_height(style.shape.cap * (front + back), front, back)
    most = MOST_ARM * body.upper_arm
    if cap.width > most:
        high = cap_of_height(STILL_LOW * (front + back), front, back)
        cap = high if high.width >= most else solve_cap(front, back, most)
    if cap.width >= least and not wider:
        return cap
    wanted = max(cap.width + wider, least)
    try:
        solved = solve_cap(front, back, wanted)
    except DraftError:
        solved = None
    if solved is None or solved.height > HIGHEST_CAP * (front + back):
        raise DraftError(
            f"the sleeve is {format_both(wanted)} wide, but its armhole {format_both(front + back)} round: choose a"
            " looser fit, give more armhole_depth, or measure upper_arm again",
            about="fit",
        )
    return solved


def sleeve_length(cap: Cap, beyond: float, body: Body, style: KnitStyle) -> float:
    """Finished length from the body's shoulder point, mm: as asked, or the arm's, or a share of it.

    Parameters
    ----------
    beyond
        How far the shoulder seam goes on beyond the body's shoulder point, mm.

    Raises
    ------
    DraftError
        If neither is known.
    """
    length = style.sleeve
    if length is None and body.arm_length is not None:
        least = beyond + cap.height + SHORT_UNDERARM
        length = max(SHORT * body.arm_length, least) if style.is_short else body.arm_length
    if length is None:
        raise DraftError("the sleeve has no length: add sleeve or arm_length", about="sleeve")
    return length + body.tried_on.sleeve


def sleeve_end(cap: Cap, body: Body, style: KnitStyle) -> float:
    """Sewn width of the sleeve's lower end, mm.

    Raises
    ------
    DraftError
        If it is wider than the sleeve.
    """
    if style.sleeve_hem is not None:
        if style.sleeve_hem > cap.width:
            raise DraftError(
                f"sleeve_hem of {format_both(style.sleeve_hem)} is wider than the sleeve, {format_both(cap.width)}:"
                " give less, or choose a looser fit",
                about="sleeve_hem",
            )
        return style.sleeve_hem
    if style.is_short:
        return min(cap.width, max(cap.width * TAPER, style.shape.arm * body.upper_arm))
    if body.wrist is None:
        raise MeasurementError("a long sleeve needs wrist: measure the body there as well, or write sleeve_hem")
    return min(cap.width, body.wrist * (CUFFED_END if style.band_depth else LONG_END))


def draft_sleeve(cap: Cap, beyond: float, rise: float, body: Body, style: KnitStyle) -> Piece:
    """The sleeve, a pair.

    Parameters
    ----------
    beyond
        How far the shoulder seam goes on beyond the body's shoulder point: so much less of the sleeve is left, mm.
    rise
        From the notch in front up to the level at which the pattern of the cloth meets, mm.

    Raises
    ------
    DraftError
        If nothing of it is left below its cap.
    """
    seam = style.seam
    foot = seam + sleeve_length(cap, beyond, body, style) - beyond - style.band_depth
    if foot < seam + cap.height + LEAST_UNDERARM:
        raise DraftError(
            f"the sleeve ends {format_both(foot - seam)} below the shoulder seam, but its cap takes"
            f" {format_both(cap.height)}: give a longer sleeve",
            about="sleeve",
        )
    edges = sleeve_edges(cap, foot, sleeve_end(cap, body, style), seam)
    notches = cap_notches(edges)
    end = replace(edges[1], name="wrist" if style.band_depth else "hem", allowance=style.turned)
    return Piece(
        "sleeve",
        (edges[0], end, *edges[2:]),
        cut=2,
        mirrored_pair=True,
        grain=((foot * 0.25, 0.0), (foot * 0.9, 0.0)),
        notches=(Notch("shoulder", (seam, 0.0)), *notches, Notch("sleeve middle", (foot, (cap.front - cap.back) / 2))),
        match=(notches[0].point[0] + rise, 0.0),
    )
