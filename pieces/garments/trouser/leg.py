"""The pieces of a leg, front and back, out of the block."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.garments.parts.casing import FROM_CENTRE, folded_over
from pieces.garments.parts.hem import HEM_FOLD
from pieces.piece.curve import point_along, polyline_length
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pieces.garments.trouser.block import TrouserBlock
    from pieces.garments.trouser.panel import LegPanel
    from pieces.garments.trouser.style import TrouserStyle

    Floats = NDArray[np.float64]

BETWEEN = 8.0
"""Between two notches that mark a back, mm."""


def draft_front(block: TrouserBlock, style: TrouserStyle) -> Piece:
    """The front of a leg; with the hole that a cord comes out of, where it is in the front itself."""
    piece = _draft("front", block.front, style, (0.0,))
    if style.cord == "none" or style.casing != "grown-on":
        return piece
    return replace(piece, drill_points=((style.casing_deep / 2, FROM_CENTRE),))


def draft_back(block: TrouserBlock, style: TrouserStyle) -> Piece:
    """The back of a leg; its crotch has two notches, the front's one."""
    return _draft("back", block.back, style, (-BETWEEN / 2, BETWEEN / 2))


def beyond_fold(seam: Floats, deep: float) -> Floats:
    """A seam that runs down to a fold across the grain, and so far beyond it, mm, as its mirror image.

    Folded up, the cloth beyond the fold is as wide as the leg that it lies on.
    """
    fold = float(seam[-1, 0])
    if deep == 0:
        return seam
    upper = seam[::-1]  # from the fold up
    ends = float(np.interp(fold - deep, seam[:, 0], seam[:, 1]))
    near = upper[(upper[:, 0] > fold - deep + 1e-6) & (upper[:, 0] < fold - 1e-6)]
    mirrored = np.vstack([near, [(fold - deep, ends)]]) * (-1, 1) + (2 * fold, 0)
    return np.vstack([seam, mirrored])


def _draft(name: str, panel: LegPanel, style: TrouserStyle, crotch_notches: tuple[float, ...]) -> Piece:
    crotch, seam = panel.crotch_line(), style.seam
    inseam, side = (beyond_fold(line, style.turned_up) for line in (panel.inseam(), panel.side_seam()[::-1]))
    waist = panel.waist_line()
    edges = (
        Edge("crotch", crotch, seam),
        Edge("inseam", inseam, seam),
        Edge("hem", np.array([inseam[-1], side[-1]]), 0.0 if style.turned_up else seam, turned=style.turned_up),
        Edge("side", np.ascontiguousarray(side[::-1]), seam),
        Edge("waist", waist, folded_over(style.elastic_width) if style.casing == "grown-on" else seam),
    )
    crease = panel.hip - panel.side.hem - panel.hem / 2
    top, hem = panel.levels.hip, panel.levels.hem
    grain = ((top, crease), (top + 0.85 * (hem - top), crease))
    middle = polyline_length(crotch) / 2
    marks = [Notch(f"{name} crotch", point_along(crotch, middle + at)) for at in crotch_notches]
    notches = (*marks, *_notches(panel, style))
    return Piece(name, edges, cut=2, mirrored_pair=True, grain=grain, notches=notches, match=(top, crease))


def _notches(panel: LegPanel, style: TrouserStyle) -> Iterator[Notch]:
    """What front and back meet at: hip, knee and the fold of the hem."""
    side, inseam = panel.side_seam(), panel.inseam()
    yield Notch("hip", point_along(side[::-1], panel.side_to_hip()))
    if panel.levels.knee is not None:
        yield Notch("knee", point_along(side, panel.side_to_knee()))
        yield Notch("knee", point_along(inseam[::-1], panel.inseam_to_knee()))
    if style.turned_up:
        yield from (Notch(HEM_FOLD, (float(x), float(y))) for x, y in (side[0], inseam[-1]))
