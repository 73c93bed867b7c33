"""What a knit top measures once it is sewn, beside the body."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.body.girths import NAPE, reaches_hip
from pieces.body.rules import measured_or_usual
from pieces.garments.ease import armhole_notes, at_the_waist
from pieces.garments.knit.girths import body_length
from pieces.piece.finished import Finished
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from pieces.body.body import Body
    from pieces.garments.knit.block import KnitBlock
    from pieces.garments.knit.style import KnitStyle
    from pieces.piece.pieces import PieceSet

TIGHT = 0.1
"""Less than the body by no more than this is as large as it, mm."""


def finished_sizes(drafted: PieceSet, block: KnitBlock, body: Body, style: KnitStyle) -> Iterator[Finished]:
    """Each finished size of a drafted top, as its pieces have it."""
    sides = [drafted[name].edge("side").points for name in ("back", "front")]
    sleeve, sizes = drafted["sleeve"], drafted.measures
    beyond = block.tip[1] - body.across_shoulder / 2
    length = body_length(body, style)
    hip = body.hip if reaches_hip(body, length) else None
    yield Finished("chest", 2 * sum(float(side[-1, 1]) for side in sides), body.bust)
    yield from at_the_waist(drafted, body, 0.0, length)
    yield Finished("hem against the hip", 2 * sum(float(side[0, 1]) for side in sides), hip)
    yield Finished("length from the neck point", block.hem[0] + style.band_depth)
    arm = float(np.ptp(sleeve.sew_line[:, 0])) + style.band_depth + beyond
    yield Finished("sleeve from the shoulder point", arm, None if style.is_short else body.arm_length)
    yield Finished("armhole round", sizes["armhole_seam"])
    yield Finished("upper arm", float(np.ptp(sleeve.sew_line[:, 1])), body.upper_arm)
    yield Finished("sleeve end", sizes["wrist_opening"], body.upper_arm if style.is_short else body.wrist)
    yield Finished("neck opening", sizes["neck_opening"], body.neck)
    for band, around in (("cuff", body.wrist), ("hem band", hip), ("neckband", body.neck)):
        sewn = sizes.get(f"{band.replace(' ', '_')}_sewn_length")
        if sewn is not None:
            yield Finished(band, sewn, around)


def fit_notes(sizes: Iterable[Finished], block: KnitBlock, body: Body, garment: str) -> Iterator[str]:
    """A line for chest, waist and sleeve that are smaller than the body, and for an armhole too low or too high."""
    for size in sizes:
        if size.name in ("chest", "waist", "upper arm") and size.ease is not None and size.ease < -TIGHT:
            yield f"{size.name}: {format_both(-size.ease)} less than the body: the knit stretches to fit"
    yield from armhole_notes(
        block.underarm[0] - NAPE * body.neck - measured_or_usual(body, "nape_to_armhole"), body, garment
    )
