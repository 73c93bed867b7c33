"""Legs on the block: as long as asked, tapered to knee and hem, front and back inseam of one length.

All rules are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.trouser.block import MATCHED, TrouserBlock, foot_girth, to_floor
from pieces.garments.trouser.panel import SideSeam
from pieces.piece.curve import polyline_length
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.trouser.style import TrouserStyle

BACK_WIDER = 1 / 40
"""How much wider half a leg is behind at knee and hem, as a share of the hip; at the hip a quarter of that."""

KNEE_DOWN, NEAR_KNEE = 0.43, 2 * INCH
"""The knee, as a share of the inside leg below the crotch; a hem no further below it leaves no knee in the draft."""

KNEE_SHARE = 0.8
"""The leg at the knee, as a share of that at the crotch."""

PAST_FOOT = 1.08
"""How much wider than the foot a hem is at the least, if nothing is asked for."""

ANKLE = 2 * INCH
"""How far above the floor a cuff ends at the ankle."""

PAST_FLOOR = 6 * INCH
"""No leg goes on further than that below the floor: a slip of the unit."""

LEAST_LEG = 1.5 * INCH
"""No leg is shorter, below the crotch."""

MOST_HEM = 0.4
"""No hem is deeper than this share of the leg below the crotch."""

LEG_FLARE = 0.3
"""How far each seam of a leg may lean out, for a millimetre down, at the most."""


def with_legs(block: TrouserBlock, body: Body, style: TrouserStyle) -> TrouserBlock:
    """The block with its legs.

    Raises
    ------
    DraftError
        If they are too short, or too wide or too narrow for their length.
    """
    legged = _Legs(body, style, block).to_hem()
    _check_widths(legged, body, style)
    return _with_drop(legged, style)


@dataclass(frozen=True)
class _Legs:
    """Legs of any length on a block that has none yet."""

    body: Body
    style: TrouserStyle
    block: TrouserBlock

    def to_hem(self) -> TrouserBlock:
        """The block with legs as long as asked: by the inseam, or by the side."""
        style, (top, crotch) = self.style, (self.block.front.levels.top, self.block.front.levels.crotch)
        tried = self.body.tried_on.length
        name = style.leg_option
        if style.length is not None:
            asked = style.length - top - style.below_leg + tried
            high = top + asked
        else:
            inseam = style.usual_inseam(self.body, self.block.rise_ease) if style.inseam is None else style.inseam
            asked = inseam - style.below_leg + tried
            high = crotch + asked
        if high < crotch + LEAST_LEG:
            raise DraftError(
                f"{name}: leaves a leg of {format_both(max(high - crotch, 0.0))} below the crotch, less than"
                f" {format_both(LEAST_LEG)}: make it longer",
                about=name,
            )

        most = to_floor(self.block, self.body) + PAST_FLOOR - style.below_leg
        if high > crotch + most:
            raise DraftError(
                f"{name}: leaves a leg of {format_both(high - crotch)} below the crotch, longer than to the floor and"
                f" {format_both(PAST_FLOOR)}: choose {format_both(high - crotch - most)} less",
                about=name,
            )
        room = MOST_HEM * (high - crotch)
        if style.turned_up > room:
            raise DraftError(
                f"a hem of {format_both(style.turned_up)} is too deep for so short a leg: choose {format_both(room)} or"
                " less, or a longer leg",
                about="hem",
            )

        def longer(hem: float) -> float:
            front = self._at(hem).front
            seam = front.inseam_length if style.length is None else polyline_length(front.side_seam())
            return seam - asked

        return self._at(root(longer, crotch + LEAST_LEG / 2, high))

    def _at(self, hem: float) -> TrouserBlock:
        """The block with its hem at a level."""
        body, style, block, thigh = self.body, self.style, self.block, self.block.thigh
        inside_leg = measured_or_usual(body, "inside_leg")
        crotch = block.front.levels.crotch
        knee, floor = crotch + KNEE_DOWN * inside_leg, crotch + inside_leg - block.rise_ease
        at_knee = KNEE_SHARE * thigh if style.knee is None else style.knee
        has_knee = hem > knee + NEAR_KNEE
        foot = foot_girth(body)
        usual = _between(hem, ((crotch, thigh), (knee, at_knee), (max(floor, knee + 1), style.hem_share * thigh)))
        if style.most_at_ankle is not None:
            ankle = max(floor - ANKLE - style.below_leg, knee + 1)
            usual = min(usual, _between(hem, ((crotch, thigh), (knee, at_knee), (ankle, style.most_at_ankle * foot))))
        usual = max(usual, PAST_FOOT * foot)
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


def _check_widths(block: TrouserBlock, body: Body, style: TrouserStyle) -> None:
    """The leg passes the foot, and does not flare too far."""
    front, back, levels = block.front, block.back, block.front.levels
    places = [("hem_width", levels.hem, front.hem, back.hem)]
    if levels.knee is not None:
        places.append(("knee_width", levels.knee, front.knee, back.knee))
    foot = foot_girth(body)
    for option, level, before, behind in places:
        asked = f"{option} of {format_both(before + behind)}"
        if before + behind < foot:
            raise DraftError(
                f"{asked} does not pass the foot, about {format_both(foot)} round heel and instep: make it wider",
                about=option,
            )
        wide = front.hip + front.extension + 2 * LEG_FLARE * (level - levels.crotch)
        if before > wide:
            most = format_both(behind + 2 * wide - before)
            raise DraftError(
                f"{asked} flares too far for so short a leg: choose {most} or less, or a longer leg", about=option
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


def _between(at: float, known: tuple[tuple[float, float], ...]) -> float:
    """What lies on the lines between known points; beyond them as at the nearest."""
    return float(np.interp(at, [level for level, _ in known], [size for _, size in known]))
