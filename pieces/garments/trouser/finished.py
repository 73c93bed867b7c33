"""What trousers measure once they are sewn, held against the body. How much is little is common practice, no source."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.garments.ease import little_ease
from pieces.garments.parts.casing import MOST_STRETCH
from pieces.piece.curve import polyline_length
from pieces.piece.finished import Finished
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pieces.body.body import Body
    from pieces.garments.trouser.block import TrouserBlock
    from pieces.garments.trouser.style import TrouserStyle

LITTLE: Mapping[str, float] = {"hip": INCH, "thigh": INCH, "hem": 0.0}
"""Less ease than this, mm, is said to be little: at the thigh by New Mexico State University, Guide C-209."""

MORE: Mapping[str, str] = {"hem": "hem_width"}
"""What option gives more there; ease does elsewhere."""

KNEE_OF_THIGH, KNEE_EASE = 0.65, INCH
"""About what a knee measures, as a share of the thigh: common practice, no source; and its least ease: Guide C-209."""


def finished_sizes(block: TrouserBlock, body: Body, style: TrouserStyle) -> Iterator[Finished]:
    """Each finished size, as the sew lines have it."""
    front, back = block.front, block.back
    yield Finished("waist before the elastic, over the hip", block.waist, body.hip)
    waist = measured_or_usual(body, "waist")
    yield Finished("waist, elastic as it lies", style.elastic_share * waist, waist)
    yield Finished("hip", block.hip, body.hip)
    yield Finished("thigh", thigh_round(block), measured_or_usual(body, "thigh"))
    if front.levels.knee is not None:
        yield Finished("knee", front.knee + back.knee)
    yield Finished("hem", front.hem + back.hem)
    yield Finished("length at the side", front.levels.top + polyline_length(front.side_seam()) + style.below_leg)
    yield Finished("inside leg seam", front.inseam_length + style.below_leg)
    yield Finished("crotch length, waist to waist", crotch_length(block))


def thigh_round(block: TrouserBlock) -> float:
    """A leg round where it begins: straight across each panel at its end of the crotch, mm."""
    total = 0.0
    for panel in (block.front, block.back):
        side = panel.side_seam()[::-1]
        level = panel.levels.crotch + panel.drop
        total += float(np.interp(level, side[:, 0], side[:, 1])) + panel.extension
    return total


def crotch_length(block: TrouserBlock) -> float:
    """From the upper edge at the centre front, between the legs, to that at the centre back, mm."""
    return sum(polyline_length(panel.crotch_line()) + panel.levels.top for panel in (block.front, block.back))


def fit_notes(sizes: list[Finished], block: TrouserBlock, body: Body, style: TrouserStyle) -> Iterator[str]:
    """What to know of the fit before cutting."""
    yield from little_ease(sizes, LITTLE, MORE)
    ease = format_both(block.rise_ease)
    yield (
        f"crotch: {ease} below the body, {format_both(crotch_length(block))} round from waist to waist; hold a tape"
        " there between the legs before you cut"
    )
    thigh = measured_or_usual(body, "thigh")
    knee = block.front.knee + block.back.knee
    if block.front.levels.knee is not None and knee < KNEE_OF_THIGH * thigh + KNEE_EASE:
        more = "knee_width" if any(each.name == "knee_width" for each in fields(style)) else "ease"
        yield (
            f"knee: {format_both(knee)} finished, little for a knee of about {format_both(KNEE_OF_THIGH * thigh)}"
            f" ({KNEE_OF_THIGH:g} of the thigh): measure it, and give more {more}"
        )
    if block.widened > 0:
        yield f"thigh: {format_both(block.widened)} more than usual at the inseams, by the body's thigh"
    elastic = style.elastic_share * measured_or_usual(body, "waist")
    if body.hip > MOST_STRETCH * elastic:
        yield (
            f"elastic: {format_both(elastic)} long, must stretch {body.hip / elastic:.2f} times to pass over the hip"
            f" of {format_both(body.hip)}: try it first, or give more elastic_share"
        )
