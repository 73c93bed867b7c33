"""The block of trousers that are pulled on: front and back by waist, hip, thigh, crotch depth and inside leg.

The ease of the crotch depth is of a source that is named beside it. All else is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.trouser.panel import BACK_CURVE, LegLevels, LegPanel, SideSeam
from pieces.piece.curve import polyline_length
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body
    from pieces.body.ranges import Wearer
    from pieces.garments.trouser.style import TrouserStyle

CROTCH_EASE = ((36 * INCH, 0.5 * INCH), (38 * INCH, 0.75 * INCH))
"""Up to a hip, mm, so much ease in the crotch depth (New Mexico State University, Guide C-209)."""

MOST_CROTCH_EASE = INCH
"""Of larger hips: the same guide."""

FRONT_REACH, BACK_REACH = 1 / 20, 1 / 8
"""How far the crotch reaches beyond the centre, as shares of the hip."""

SLANT, RISE = 1 / 40, 1 / 30
"""How far the centre back leans in at the waist, and how far it rises, as shares of the hip."""

BACK_WIDER = 1 / 40
"""How much wider half a leg is behind at knee and hem, as a share of the hip; at the hip a quarter of that."""

THIGH_EASE = 2 * INCH
"""At the thigh no leg has less: 1 to 2 in (New Mexico State University, Guide C-209)."""

WAIST_EASE = INCH
"""The waist of the cloth is no less than the waist and this, if nothing is asked for."""

KNEE_DOWN, NEAR_KNEE = 0.43, 2 * INCH
"""The knee, as a share of the inside leg below the crotch; a hem no further below it leaves no knee in the draft."""

KNEE_SHARE = 0.8
"""The leg at the knee, as a share of that at the crotch."""

FOOT: Mapping[Wearer, float] = {"women": 310.0, "men": 345.0}
"""Girth round heel and instep, mm, that a hem must pass: means of a survey, from memory, not opened."""

FOOT_OF_CHILD, PAST_FOOT = 0.37, 1.08
"""A child's, as a share of its hip; and how much wider a hem is at the least, if nothing is asked for."""

LEAST_LEG = 1.5 * INCH
"""No leg is shorter, below the crotch."""

MOST_FLARE = 0.6
"""How far a side seam may lean out or in above the hip, as a share of the hip's depth."""

LEAST_CENTRE = 0.25
"""The straight part of the centre back, as a share of the crotch depth, at the least."""

MOST_HEM = 0.4
"""No hem is deeper than this share of the leg below the crotch."""

LEG_FLARE = 0.3
"""How far each seam of a leg may lean out, for a millimetre down, at the most."""

MATCHED = 0.05
"""Seams whose lengths differ by less, mm, were solved."""


@dataclass(frozen=True)
class TrouserBlock:
    """Front and back of a leg, and what they were worked out from, mm."""

    front: LegPanel
    back: LegPanel
    rise_ease: float
    widened: float

    @property
    def waist(self) -> float:
        """The upper edge of the legs, all round, mm."""
        return 2 * sum(polyline_length(panel.waist_line()) for panel in (self.front, self.back))

    @property
    def hip(self) -> float:
        """The garment at the hip, all round, mm."""
        return 2 * (self.front.hip + self.back.hip)

    @property
    def thigh(self) -> float:
        """A leg round at the crotch, mm."""
        return sum(panel.hip + panel.extension for panel in (self.front, self.back))

    @classmethod
    def of(cls, body: Body, style: TrouserStyle) -> TrouserBlock:
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
        wider, full = BACK_WIDER * body.hip, body.hip + style.room
        front_hip, back_hip = full / 4 - wider / 4, full / 4 + wider / 4
        reach = (FRONT_REACH + BACK_REACH) * body.hip
        widened = max(0.0, measured_or_usual(body, "thigh") + THIGH_EASE - full / 2 - reach)
        thigh = full / 2 + reach + widened
        level = LegLevels(top, hip_line, crotch, None, crotch, style.turned_up)
        none = SideSeam(0.0, 0.0, 0.0)
        front = LegPanel(level, none, front_hip, FRONT_REACH * body.hip + widened / 2, 0.0, 0.0, 0.0, 0.0)
        lean = (hip_line - top) / hip_line
        slant, rise = SLANT * body.hip * lean, RISE * body.hip
        back = LegPanel(level, none, back_hip, BACK_REACH * body.hip + widened / 2, slant, rise, 0.0, 0.0)
        _check_curve(back, style)
        legs = _Legs(body, style, cls(front, back, rise_ease, widened), thigh)
        legged = legs.to_hem()
        _check_hem(legged, style)
        return _with_waist(_with_drop(legged, style), body, style)


@dataclass(frozen=True)
class _Legs:
    """Legs of any length on a block that has none yet."""

    body: Body
    style: TrouserStyle
    block: TrouserBlock
    thigh: float

    def to_hem(self) -> TrouserBlock:
        """The block with legs as long as asked: by the inseam, or by the side."""
        style, (top, crotch) = self.style, (self.block.front.levels.top, self.block.front.levels.crotch)
        name = "inseam" if style.length is None else "length"
        if style.length is not None:
            asked = style.length - top - style.below_leg
            high = top + asked
        else:
            inseam = style.usual_inseam(self.body, self.block.rise_ease) if style.inseam is None else style.inseam
            asked = inseam - style.below_leg
            high = crotch + asked
        if high < crotch + LEAST_LEG:
            raise DraftError(
                f"{name}: leaves a leg of {format_both(max(high - crotch, 0.0))} below the crotch, less than"
                f" {format_both(LEAST_LEG)}: make it longer",
                about=name,
            )

        def longer(hem: float) -> float:
            front = self._at(hem).front
            seam = front.inseam_length if style.length is None else polyline_length(front.side_seam())
            return seam - asked

        return self._at(root(longer, crotch + LEAST_LEG / 2, high))

    def _at(self, hem: float) -> TrouserBlock:
        """The block with its hem at a level."""
        body, style, block, thigh = self.body, self.style, self.block, self.thigh
        inside_leg = measured_or_usual(body, "inside_leg")
        crotch = block.front.levels.crotch
        knee, floor = crotch + KNEE_DOWN * inside_leg, crotch + inside_leg - block.rise_ease
        at_knee = KNEE_SHARE * thigh if style.knee is None else style.knee
        has_knee = hem > knee + NEAR_KNEE
        usual = _between(hem, ((crotch, thigh), (knee, at_knee), (max(floor, knee + 1), style.hem_share * thigh)))
        usual = max(usual, PAST_FOOT * foot_girth(body))
        at_hem = usual if style.hem_width is None else style.hem_width
        levels = replace(block.front.levels, knee=knee if has_knee else None, hem=hem)
        wider, panels = BACK_WIDER * body.hip, (block.front, block.back)
        fuller = panels[1].hip + panels[1].extension - panels[0].hip - panels[0].extension
        more = (wider, _between(hem, ((crotch, fuller), (knee, wider))))
        crease = (block.front.hip - block.front.extension) / 2
        widths = [(at_knee - more[0]) / 2, (at_hem - more[1]) / 2]
        side = SideSeam(0.0, *(block.front.hip - crease - width / 2 for width in widths))
        front = replace(block.front, levels=levels, side=side, knee=widths[0], hem=widths[1])
        back = replace(block.back, levels=levels, side=side, knee=widths[0] + more[0], hem=widths[1] + more[1])
        return replace(block, front=front, back=back)


def crotch_ease(hip: float) -> float:
    """Ease in the crotch depth for a hip, mm."""
    return next((ease for limit, ease in CROTCH_EASE if hip <= limit), MOST_CROTCH_EASE)


def foot_girth(body: Body) -> float:
    """Round heel and instep, mm: what a closed hem must pass."""
    return FOOT.get(body.wearer, FOOT_OF_CHILD * body.hip)


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


def _check_hem(block: TrouserBlock, style: TrouserStyle) -> None:
    """A hem is not deeper than its leg allows, and does not flare too far on it."""
    front, levels = block.front, block.front.levels
    room = MOST_HEM * (levels.hem - levels.crotch)
    if style.turned_up > room:
        raise DraftError(
            f"a hem of {format_both(style.turned_up)} is too deep for so short a leg: choose {format_both(room)} or"
            " less, or a longer leg",
            about="hem",
        )
    wide = front.hip + front.extension + 2 * LEG_FLARE * (levels.hem - levels.crotch)
    if front.hem > wide:
        most = block.back.hem + 2 * wide - front.hem
        raise DraftError(
            f"hem_width of {format_both(front.hem + block.back.hem)} flares too far for so short a leg: choose"
            f" {format_both(most)} or less, or a longer leg",
            about="hem_width",
        )


def _with_drop(block: TrouserBlock, style: TrouserStyle) -> TrouserBlock:
    """The back crotch lowered until both inseams are of one length."""
    front = block.front.inseam_length

    def shorter(drop: float) -> float:
        return front - replace(block.back, drop=drop).inseam_length

    drop = root(shorter, -INCH, 3 * INCH)
    if abs(shorter(drop)) > MATCHED:
        raise DraftError(
            "front and back inseam cannot be made to match: choose hem_width nearer to the leg above it, or a longer"
            " leg",
            about="hem_width" if style.hem_width is not None else "inseam",
        )
    return replace(block, back=replace(block.back, drop=drop))


def _with_waist(block: TrouserBlock, body: Body, style: TrouserStyle) -> TrouserBlock:
    """The side seams leaned so that the waist is as wide as asked; it must pass over the hips."""
    waist = measured_or_usual(body, "waist")
    asked = max(block.waist, body.hip, waist + WAIST_EASE) if style.waist_width is None else style.waist_width
    what, least = max(("hip", body.hip), ("waist", waist), key=lambda pair: pair[1])
    if asked < least:
        raise DraftError(
            f"waist_width of {format_both(asked)} does not pass over the {what} of {format_both(least)}: trousers to"
            " pull on have no opening, so make it at least as wide",
            about="waist_width",
        )

    def leaning(side: float) -> TrouserBlock:
        parts = (replace(panel, side=replace(panel.side, waist=side)) for panel in (block.front, block.back))
        front, back = parts
        return replace(block, front=front, back=back)

    most = MOST_FLARE * (block.front.levels.hip - block.front.levels.top)
    found = root(lambda out: leaning(-out).waist - asked, -most, most)
    leaned = block if abs(asked - block.waist) < MATCHED else leaning(-found)
    if abs(leaned.waist - asked) > MATCHED:
        raise DraftError(
            f"a waist of {format_both(asked)} on a hip of {format_both(block.hip)} would lean the side seams too far:"
            " choose a waist_width nearer to the hip, or more ease",
            about="waist_width" if style.waist_width is not None else "ease",
        )
    return leaned


def _between(at: float, known: tuple[tuple[float, float], ...]) -> float:
    """What lies on the lines between known points; beyond them as at the nearest."""
    return float(np.interp(at, [level for level, _ in known], [size for _, size in known]))
