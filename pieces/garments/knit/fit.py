"""How close a knit top lies to the body. All shares and lengths are common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.garments.jacket.fit import FitName


class KnitFit(NamedTuple):
    """What a fit sets.

    Parameters
    ----------
    girth
        Finished, as a share of the bust: a close one is smaller than the body.
    arm
        Sleeve round the upper arm, as a share of it, at the least.
    cap
        Height of the sleeve's cap, as a share of its armhole.
    lower, lower_of_child
        How far the armhole lies under the line of the arm, mm.
    drop
        How far the shoulder seam goes on beyond the body's shoulder point, as a share of the width across.
    """

    girth: float
    arm: float
    cap: float
    lower: float
    lower_of_child: float
    drop: float


THIN: Mapping[FitName, KnitFit] = {
    "close": KnitFit(0.95, 0.97, 0.29, 6.0, 5.0, 0.0),
    "regular": KnitFit(1.08, 1.12, 0.27, 20.0, 12.0, 0.02),
    "loose": KnitFit(1.2, 1.25, 0.22, 40.0, 25.0, 0.08),
}
"""Of a T-shirt."""

THICK: Mapping[FitName, KnitFit] = {
    "close": KnitFit(1.04, 1.08, 0.27, 15.0, 10.0, 0.0),
    "regular": KnitFit(1.16, 1.2, 0.23, 30.0, 18.0, 0.04),
    "loose": KnitFit(1.3, 1.3, 0.21, 50.0, 30.0, 0.1),
}
"""Of a sweatshirt or a hoodie, which have room for a shirt beneath."""
