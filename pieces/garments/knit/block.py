"""The knit block: the corners and curves that back and front of a knit top share, all sewn.

x runs down from the body's neck point, y from the centre. Back and front differ in neckline and armhole alone. All
rules are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.body.girths import NAPE
from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.knit.girths import body_length, chest_girth, hem_girth
from pieces.garments.parts.trunk import armhole_curve, neckline_curve
from pieces.piece.curve import Point, polyline_length
from pieces.piece.root import root
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.garments.knit.style import KnitStyle

    Floats = NDArray[np.float64]

HALF_NECK, NECK_FRONT = 1 / 6, 1 / 5
"""Where the neck itself ends beside the neck point and in front below it, as a share of the neck."""

BEHIND = 0.5
"""How far the neckline lies lower behind, for a millimetre that it lies wider."""

MOST_WIDER = INCH
"""A neckline is made no wider of itself."""

USUAL_RIB, USUAL_KNIT = 1.5, 1.25
"""How many times its length a neckband and a neckline of unknown cloth are counted on to stretch.

Knit that stretches by up to 25 % is called stable by a teacher on the web.
"""

SPARE = 0.5
"""By how much a neckline is wider than its head just needs, mm."""

LEAST_SHOULDER = 0.75 * INCH
"""No shoulder seam is shorter."""

SHOULDER_LEFT = 0.6
"""Share of the body's own shoulder, from neck to shoulder point, that a neckline leaves of itself."""

LOWER = 2.5
"""How far the front's neckline lies lower instead, for a millimetre that it may not lie wider."""

STEEPEST = 0.8
"""No shoulder drops more, a millimetre outwards."""

LEAST_SWING = 0.75 * INCH
"""How far an armhole swings inwards at the least."""

LEAST_SIDE = 2 * INCH
"""No side seam is shorter."""

SCOOP = 1.0
"""How far an armhole swings towards the centre before it rises."""


@dataclass(frozen=True)
class KnitBlock:
    """Corners on the sew line, mm; `across` of back and front is where the armholes come nearest to the centre."""

    neck: Point
    tip: Point
    underarm: Point
    hem: Point
    back_bottom: float
    front_bottom: float
    across_back: float
    across_front: float

    @property
    def along(self) -> Point:
        """Unit vector along the shoulder, outwards."""
        dx, dy = self.tip[0] - self.neck[0], self.tip[1] - self.neck[1]
        run = math.hypot(dx, dy)
        return dx / run, dy / run

    def neckline(self, bottom: float) -> Floats:
        """A neckline from the neck point to the centre."""
        return neckline_curve(self.neck, self.along, bottom)

    def armhole(self, across: float) -> Floats:
        """An armhole from the underarm up."""
        return armhole_curve(self.underarm, self.tip, self.along, across, SCOOP)

    @property
    def neck_opening(self) -> float:
        """The whole neckline, mm."""
        return 2 * sum(polyline_length(self.neckline(bottom)) for bottom in (self.back_bottom, self.front_bottom))

    @classmethod
    def of(cls, body: Body, style: KnitStyle, head: float) -> KnitBlock:
        """Work out the corners.

        Parameters
        ----------
        head
            The girth that the neckline must pass, mm.

        Raises
        ------
        DraftError
            If measurements and options do not go together.
        """
        half, slope = HALF_NECK * body.neck, _shoulder_slope(body)
        chest, hem = chest_girth(body, style), hem_girth(body, style)
        closer = min(1.0, (1 + chest / body.bust) / 2)  # a stretched shoulder is as long as the body's
        shoulder = (closer / 2 + style.shape.drop) * body.across_shoulder
        tip = (slope * (shoulder - half), shoulder)
        underarm = (_armhole_level(body, style, tip[0]), chest / 4)
        bottom = (body_length(body, style) - style.band_depth, hem / 4)
        if bottom[0] < underarm[0] + LEAST_SIDE:
            raise DraftError(
                f"the body ends {format_both(bottom[0])} below the neck point, but its armhole"
                f" {format_both(underarm[0])}: give more length, or less armhole_depth",
                about="length",
            )
        if underarm[1] < shoulder - INCH:
            raise DraftError(
                f"a quarter of the body is {format_both(underarm[1])} wide, but the shoulder point is"
                f" {format_both(shoulder)} from the centre: give more ease or girth_share",
                about="girth_share",
            )
        farthest = underarm[1] - LEAST_SWING
        behind, before = (
            min((shoulder + measured_or_usual(body, name) / 2 * closer) / 2, farthest, shoulder)
            for name in ("back_width", "chest_width")
        )

        def wider(more: float, lower: float = 0.0) -> KnitBlock:
            out = style.stands + more
            neck = (slope * out, half + out)
            lows = NAPE * body.neck + BEHIND * out, NECK_FRONT * body.neck + out + lower
            return cls(neck, tip, underarm, bottom, *lows, behind, before)

        most = tip[1] - half - style.stands - LEAST_SHOULDER
        if most < 0:
            raise _wide_neck(half + style.stands, tip[1], style.stood_by)
        if style.neck_wider is not None:
            if style.neck_wider > most:
                raise _wide_neck(half + style.stands + style.neck_wider, tip[1], "neck_wider")
            return wider(style.neck_wider)
        shoulder_left = SHOULDER_LEFT * (body.across_shoulder / 2 - half)
        room = max(0.0, tip[1] - half - style.stands - shoulder_left)

        def opened(more: float) -> KnitBlock:
            return wider(min(more, room), LOWER * max(0.0, more - room))

        return opened(root(lambda more: _passes(opened(more), style, head), 0.0, MOST_WIDER))


def _shoulder_slope(body: Body) -> float:
    """How much the shoulder drops, a millimetre outwards from the neck."""
    half, natural = HALF_NECK * body.neck, body.across_shoulder / 2
    if natural < half + LEAST_SHOULDER:
        raise DraftError(
            f"the neck is as wide as the shoulder: half of it takes {format_both(half)}, but the shoulder point is"
            f" {format_both(natural)} from the centre: measure neck and across_shoulder again",
            about="neck",
        )
    slope = measured_or_usual(body, "shoulder_slope") / (natural - half)
    if slope > STEEPEST:
        raise DraftError(
            f"the shoulder would drop by {format_both(slope * 100)} on {format_both(100)}: measure neck,"
            " across_shoulder and shoulder_slope again",
            about="across_shoulder" if body.shoulder_slope is None else "shoulder_slope",
        )
    return slope


def _wide_neck(neck: float, tip: float, about: str) -> DraftError:
    """What is wrong, and `about` which option or measurement."""
    give = "" if about == "neck" else f"give less {about}, or "
    return DraftError(
        f"the neckline leaves no shoulder: half of it takes {format_both(neck)}, but the shoulder point is"
        f" {format_both(tip)} from the centre: {give}measure neck and across_shoulder again",
        about=about,
    )


def _armhole_level(body: Body, style: KnitStyle, tip: float) -> float:
    """How far below the neck point the armhole ends, mm."""
    if body.armhole_depth is not None:
        level = tip + body.armhole_depth
    else:
        lower = style.shape.lower_of_child if body.wearer == "children" else style.shape.lower
        level = NAPE * body.neck + measured_or_usual(body, "nape_to_armhole") + lower
    return max(level + body.tried_on.armhole, tip + INCH)


def _passes(block: KnitBlock, style: KnitStyle, head: float) -> float:
    """By how much neckline and neckband, stretched, are longer than the head, mm; the tighter one counts."""
    opening, rule = block.neck_opening, style.rule("neckband")
    spare = opening * (style.knit.ratio if style.knit else USUAL_KNIT) - head - SPARE
    if rule is None:
        return spare
    sewn = rule.cut_length("neckband", opening) - 2 * style.seam
    return min(spare, sewn * (style.rib.ratio if style.rib else USUAL_RIB) - head - SPARE)
