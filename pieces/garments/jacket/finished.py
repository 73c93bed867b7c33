"""What the rib jacket measures once it is sewn, held against the body: whether one gets in, and can lift an arm.

How much ease is little, and how low an armhole may lie, is common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.girths import NAPE, reaches_hip
from pieces.body.rules import measured_or_usual
from pieces.garments.ease import armhole_notes, at_the_waist, little_ease
from pieces.piece.finished import Finished
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pieces.body.body import Body
    from pieces.garments.jacket.block import Block
    from pieces.garments.jacket.style import JacketStyle
    from pieces.piece.pieces import PieceSet

LITTLE: Mapping[str, float] = {
    "chest": 2 * INCH,
    "waist": INCH,
    "hem against the hip": INCH,
    "upper arm": INCH,
    "cuff": -1.0,
}
"""Less ease than this, mm, is said to be little."""

MORE_CUFF: Mapping[str, str] = {"subtract": "cuff_add", "share": "cuff_share", "stretch": "sleeve_hem"}
"""What option makes the cuff longer, by its rule."""


def finished_sizes(drafted: PieceSet, block: Block, body: Body, style: JacketStyle) -> Iterator[Finished]:
    """Each finished size of a drafted jacket, as its pieces have it."""
    arm = drafted["sleeve"]
    armholes = sum(drafted[name].edge("armhole").length for name in ("back", "front"))
    sides = [drafted[name].edge("side").points for name in ("back", "front")]
    hem = 2 * sum(float(side[0, 1]) for side in sides)
    length = block.sewn_hem[0] - block.sewn_neck[0] + style.rib_depth
    beyond = block.sewn_tip[1] - body.across_shoulder / 2  # of the shoulder seam, beyond the body's shoulder point
    sleeve = float(arm.sew_line[:, 0].max() - arm.sew_line[:, 0].min()) + style.rib_depth + beyond
    yield Finished("chest", 2 * sum(float(side[-1, 1]) for side in sides), body.bust)
    yield from at_the_waist(drafted, body, block.sewn_neck[0], length)
    yield Finished("hem against the hip", hem, body.hip if reaches_hip(body, length) else None)
    yield Finished("length from the neck point", length)
    yield Finished("sleeve from the shoulder point", sleeve, body.arm_length)
    yield Finished("armhole round", armholes)
    yield Finished("upper arm", float(arm.sew_line[:, 1].max() - arm.sew_line[:, 1].min()), body.upper_arm)
    yield Finished("cuff", drafted.measures.get("cuff_elastic", drafted["cuff"].edge("edge").length), body.wrist)
    opening = drafted.measures["neck_opening"]
    closed = opening - 2 * style.overlap  # closed, the fronts lie over one another
    yield Finished("neck opening", closed, body.neck)
    if style.neckline == "band":
        yield Finished("neckband", drafted["neckband"].edge("edge").length * closed / opening, body.neck)


def fit_notes(sizes: list[Finished], block: Block, body: Body, style: JacketStyle) -> Iterator[str]:
    """A line for each size that leaves the body too little room, and for an armhole that lies too low or too high."""
    yield from little_ease(sizes, LITTLE, {"upper arm": "sleeve_room", "cuff": MORE_CUFF[style.band_rule]})
    lower = block.sewn_underarm[0] - block.sewn_neck[0] - NAPE * body.neck - measured_or_usual(body, "nape_to_armhole")
    yield from armhole_notes(lower, body, style.called)
