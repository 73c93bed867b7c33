"""How close a jacket lies to the body: its ease, its armhole, its width across back and chest and its sleeve, together.

The ease of a close fit, and what is added to the armhole of a regular one, are from notes of a sewing course, read on
the web (8 cm; 2.5 cm); an ease of 4 to 5 in for jackets is from memory. All else is common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from pieces.body.girths import NAPE
from pieces.body.rules import RULES, measured_or_usual
from pieces.units import CM, INCH

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body

FitName = Literal["close", "regular", "loose"]


class Fit(NamedTuple):
    """What a fit sets.

    Parameters
    ----------
    ease
        Round the body, mm.
    lower, lower_of_child
        How far the armhole lies under the line of the arm, mm.
    arm, least, most
        Room and seams round the upper arm, as a share of it, and its limits, mm; of a child without a least.
    """

    ease: float
    lower: float
    lower_of_child: float
    arm: float
    least: float
    most: float

    def arm_room(self, body: Body) -> float:
        """Room and seams round the upper arm, mm."""
        least = 0.0 if body.wearer == "children" else self.least
        return min(self.most, max(least, self.arm * body.upper_arm))


FITS: Mapping[FitName, Fit] = {
    "close": Fit(8 * CM, 1 * CM, 0.5 * CM, 1 / 8, 1.5 * INCH, 2.5 * INCH),
    "regular": Fit(4 * INCH, 2.5 * CM, 1.5 * CM, 1 / 4, 2.5 * INCH, 4 * INCH),
    "loose": Fit(5 * INCH, 5 * CM, 3 * CM, 3 / 8, 4 * INCH, 6 * INCH),
}

HALF_NECK = 4 / 15
"""Half the width of the neckline, sewn, as a share of the neck."""

BACK_SHARE = 0.2
"""Share of the ease that the back gets across; the front gets none there, the armholes the rest (the same notes)."""


def armhole_depth(body: Body, fit: FitName, drop: float) -> float:
    """Depth of the armhole under the shoulder point, mm.

    It is as asked for; or by the fit under the line of the arm. A loose one without a measured arm line is an eighth of
    the bust and 5 1/2 in deep: 10 3/4 in for a bust of 42 in (10 1/2 to 11 is usual): common practice, no source.

    Parameters
    ----------
    drop
        How far the shoulder point lies below the neck point, mm.
    """
    if body.armhole_depth is not None:
        return body.armhole_depth
    is_child = body.wearer == "children"
    if fit == "loose" and not is_child and body.nape_to_armhole is None:
        return body.bust / 8 + 5.5 * INCH
    lower = FITS[fit].lower_of_child if is_child else FITS[fit].lower
    return NAPE * body.neck + measured_or_usual(body, "nape_to_armhole") + lower - drop


def shoulder_slope(body: Body, fit: FitName, half_neck: float) -> float:
    """How much the shoulder seam drops a millimetre outwards.

    It is the body's; a loose one is flatter, 1 in at 8 in from the centre, for a body that slopes as is usual, and
    differs from that as the body does. Common practice, no source.

    Parameters
    ----------
    half_neck
        Half the cut width of the neckline, mm.
    """
    run = body.across_shoulder / 2 - HALF_NECK * body.neck
    drop = measured_or_usual(body, "shoulder_slope")
    if fit != "loose":
        return drop / run
    return INCH / (8 * INCH - half_neck) + (drop - RULES["shoulder_slope"].work_out(body)) / run


def widths_across(body: Body, fit: FitName, ease: float) -> tuple[float | None, float | None]:
    """Half the width across back and chest, mm, where the armholes come nearest; None where their swing decides.

    That is so of a loose fit, where they were not measured.
    """
    back, chest = (
        None if fit == "loose" and getattr(body, name) is None else measured_or_usual(body, name) / 2
        for name in ("back_width", "chest_width")
    )
    return None if back is None else back + BACK_SHARE * ease / 4, chest
