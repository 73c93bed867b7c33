"""The block for a body: by waist, hip, thigh, crotch depth and inside leg.

The ease of crotch depth and thigh is of a source that is named beside it. All else is common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.trouser.block import TrouserBlock
from pieces.garments.trouser.legs import BACK_WIDER, with_legs
from pieces.garments.trouser.panel import BACK_CURVE, LegLevels, LegPanel, SideSeam
from pieces.garments.trouser.waist import with_waist
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.trouser.style import TrouserStyle

CROTCH_EASE = ((36 * INCH, 0.5 * INCH), (38 * INCH, 0.75 * INCH))
"""Up to a hip, mm, so much ease in the crotch depth (New Mexico State University, Guide C-209)."""

MOST_CROTCH_EASE = INCH
"""Of larger hips: the same guide."""

FRONT_REACH, BACK_REACH = 1 / 20, 1 / 8
"""How far the crotch reaches beyond the centre, as shares of the hip."""

SLANT, RISE = 1 / 40, 1 / 30
"""How far the centre back leans in at the waist, and how far it rises, as shares of the hip."""

THIGH_EASE = 2 * INCH
"""At the thigh no leg has less: 1 to 2 in (New Mexico State University, Guide C-209)."""

LEAST_CENTRE = 0.25
"""The straight part of the centre back, as a share of the crotch depth, at the least."""


def block_for(body: Body, style: TrouserStyle) -> TrouserBlock:
    """The block for a body.

    Raises
    ------
    DraftError
        If measurements and options do not go together.
    """
    rise_ease = crotch_ease(body.hip) if style.rise_ease is None else style.rise_ease
    crotch = measured_or_usual(body, "crotch_depth") + rise_ease
    hip_line = measured_or_usual(body, "hip_depth")
    top = style.casing_deep if style.casing != "grown-on" else 0.0
    _check_levels(hip_line, crotch, style)
    wider, full = BACK_WIDER * body.hip, body.hip + style.room + body.tried_on.ease
    front_hip, back_hip = full / 4 - wider / 4, full / 4 + wider / 4
    reach = (FRONT_REACH + BACK_REACH) * body.hip
    widened = max(0.0, measured_or_usual(body, "thigh") + THIGH_EASE - full / 2 - reach)
    level = LegLevels(top, hip_line, crotch, None, crotch, style.turned_up)
    none = SideSeam(0.0, 0.0, 0.0)
    front = LegPanel(level, none, front_hip, FRONT_REACH * body.hip + widened / 2, 0.0, 0.0, 0.0, 0.0)
    lean = (hip_line - top) / hip_line
    slant, rise = SLANT * body.hip * lean, RISE * body.hip
    back = LegPanel(level, none, back_hip, BACK_REACH * body.hip + widened / 2, slant, rise, 0.0, 0.0)
    _check_curve(back, style)
    block = TrouserBlock(front, back, rise_ease, widened)
    return with_waist(with_legs(block, body, style), body, style)


def crotch_ease(hip: float) -> float:
    """Ease in the crotch depth for a hip, mm."""
    return next((ease for limit, ease in CROTCH_EASE if hip <= limit), MOST_CROTCH_EASE)


def _check_levels(hip: float, crotch: float, style: TrouserStyle) -> None:
    if hip >= crotch:
        raise DraftError(
            f"the line of the hip, {format_both(hip)} below the waist, lies below the crotch at {format_both(crotch)}:"
            " measure hip_depth and crotch_depth again, or give more rise_ease",
            about="rise_ease" if style.rise_ease is not None else "hip_depth",
        )
    if style.casing_deep > hip / 2:
        raise DraftError(
            f"elastic_width of {format_both(style.elastic_width)} reaches to the hip: choose narrower elastic",
            about="elastic_width",
        )


def _check_curve(back: LegPanel, style: TrouserStyle) -> None:
    """The curve of the crotch leaves a straight centre above it."""
    levels = back.levels
    room = levels.crotch - levels.top
    if room - BACK_CURVE * back.extension < LEAST_CENTRE * room:
        raise DraftError(
            f"the crotch reaches {format_both(back.extension)} back, by hip and thigh, too far for a depth of"
            f" {format_both(room)}: measure crotch_depth and thigh again, or give more rise_ease",
            about="crotch_depth",
        )
