"""The sizes of a robe from which its rectangles are cut. All rules are common practice, no source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.body.girths import NAPE, covered_girth
from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, polyline_length
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.garments.straight.style import RobeStyle

    Floats = NDArray[np.float64]

NECK_MORE = INCH / 2
"""Half the neckline is a sixth of the neck wide, and so much more."""

BACK_DEPTH = 0.05
"""Depth of the back neckline, as a share of the neck: 3/4 in at a neck of 15 in."""

FRONT_DEPTH = 3 * INCH
"""Depth of a closed front neckline."""

LOWER = 1.5 * INCH
"""How far the armhole ends below the line of the arm, where there is no gusset; with one it ends at the line."""

ARM_MORE = 3 * INCH
"""Room round the upper arm at the least."""

SLIT, HEAD_MORE = 6 * INCH, INCH
"""A slit as it is usual, and how much more than the head an opening must have round."""

LEAST_SIDE, LEAST_SLEEVE = 2 * INCH, 2 * INCH
"""What there must be of a side seam and of a sleeve."""


@dataclass(frozen=True)
class RobeShape:
    """Sewn sizes, mm; x down from the neck point, y from the centre.

    Parameters
    ----------
    length
        From the neck point to the hem.
    half
        A quarter of the girth: half the width of back and front.
    neck
        Half the width of the neckline.
    behind, ahead
        Depth of the back and of the front neckline.
    arm
        Half the sleeve's width: how far down the armhole goes.
    slit
        Of a closed front, below its neckline; of an open one 0.
    sleeve
        Length of the sleeve, from the side of the body to the wrist.
    """

    length: float
    half: float
    neck: float
    behind: float
    ahead: float
    arm: float
    slit: float
    sleeve: float

    @classmethod
    def of(cls, body: Body, style: RobeStyle) -> RobeShape:
        """The sizes for a body.

        Raises
        ------
        DraftError
            If they do not go together, or the head does not pass.
        """
        length = style.long_for(body)
        half = (covered_girth(body, length) + style.ease) / 4
        neck, arm = body.neck / 6 + NECK_MORE, _arm(body, style)
        usual = arm if style.is_open else FRONT_DEPTH
        ahead = usual if style.neck_depth is None else style.neck_depth
        if half < max(neck + style.seam, body.across_shoulder / 2 - INCH):
            raise DraftError(
                f"a quarter of the robe is {format_both(half)} wide, but the shoulder point is"
                f" {format_both(body.across_shoulder / 2)} from the centre: give more ease",
                about="ease",
            )
        lowest = length - style.side_slit - LEAST_SIDE
        if arm + style.gusset > lowest:
            raise DraftError(
                f"armhole and gusset reach {format_both(arm + style.gusset)} down, but the side seam ends at"
                f" {format_both(length - style.side_slit)}: make the robe longer, or side_slit or gusset smaller",
                about="length",
            )
        shape = cls(length, half, neck, BACK_DEPTH * body.neck, ahead, arm, 0.0, _sleeve(body, style, half))
        if style.is_open:
            low = ahead
        else:
            shape = cls(**{**vars(shape), "slit": shape.slit_for(measured_or_usual(body, "head"), style)})
            low = ahead + shape.slit + style.faced
        if low > length - LEAST_SIDE:
            raise DraftError(
                f"the neck opening reaches {format_both(low)} down, but the robe is {format_both(length)} long:"
                " make it longer, or neck_depth or slit smaller",
                about="length",
            )
        return shape

    def slit_for(self, head: float, style: RobeStyle) -> float:
        """How long the slit is, mm: as asked, or so that the head passes."""
        lacks = (head + HEAD_MORE - self.opening) / 2
        if style.slit is None:
            return max(SLIT, lacks)
        if style.slit < lacks:
            raise DraftError(
                f"a neckline {format_both(self.opening)} round with a slit of {format_both(style.slit)} does not pass"
                f" a head of {format_both(head)}: make the slit {format_both(lacks)} or more, or set front to 'open'",
                about="slit",
            )
        return style.slit

    @property
    def opening(self) -> float:
        """The whole neckline of a closed front without its slit, mm."""
        return 2 * sum(polyline_length(self.round(depth)) for depth in (self.behind, self.ahead))

    def round(self, depth: float) -> Floats:
        """A round neckline from the neck point to the centre, square to both."""
        return Cubic((0.0, self.neck), (0.55 * depth, self.neck), (depth, 0.55 * self.neck), (depth, 0.0)).flatten()

    def ahead_line(self, style: RobeStyle) -> Floats:
        """The front neckline, from the neck point to the centre: round, or straight where the front is open."""
        if style.is_open:
            return Line((0.0, self.neck), (self.ahead, 0.0)).flatten()
        return self.round(self.ahead)


def _arm(body: Body, style: RobeStyle) -> float:
    """Half the sleeve's width, mm: as asked, or by the line of the arm."""
    if style.sleeve_width is not None:
        return style.sleeve_width / 2
    line = NAPE * body.neck + measured_or_usual(body, "nape_to_armhole")
    return max(line + (0.0 if style.gusset else LOWER), (body.upper_arm + ARM_MORE) / 2)


def _sleeve(body: Body, style: RobeStyle, half: float) -> float:
    """Length of the sleeve beyond the side of the body, mm."""
    if style.sleeve is None:
        raise DraftError("the sleeve has no length: add sleeve or arm_length", about="sleeve")
    length = style.sleeve - (half - body.across_shoulder / 2)
    if length < max(LEAST_SLEEVE, style.gusset + INCH):
        raise DraftError(
            f"a sleeve of {format_both(style.sleeve)} from the shoulder point has {format_both(max(0.0, length))}"
            " beyond the side of the body: make it longer, or give less ease or a smaller gusset",
            about="sleeve",
        )
    return length
