"""Back, front and tabs of the rib jacket. All rules are common practice, no source.

Every edge is drafted with the one seam of all; its own allowance is given to it by `Allowances.give`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pieces.garments.jacket.block import Block, neck_depths
from pieces.garments.jacket.facing import facing_top, to_front_edge
from pieces.garments.jacket.fit import widths_across
from pieces.piece.curve import Line, Point, point_along
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.ribbing import QUARTER
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.jacket.style import JacketStyle
    from pieces.piece.pieces import PieceSet

SHORT = 1.0
"""A piece that is narrower than asked for by no more, mm, is not noted."""

FRONT_SCOOP, BACK_SCOOP = 1.15, 0.85
"""How far towards the centre the armhole swings before it rises, where nothing else is known: more in front."""


def cut_extension(style: JacketStyle) -> float:
    """Cut width beyond the centre front: the extension, or the seam of an edge that has none; 0 on a fold there."""
    if style.facing == "grown-on":
        return style.overlap
    return style.overlap + style.seams.of("front")


def draft_back(block: Block, body: Body, style: JacketStyle) -> Piece:
    """The back: half of it on the fold, or left and right with a centre-back seam."""
    neckline = block.neckline(neck_depths(body, style)[0])
    hem, top = block.sewn_hem, (float(neckline[-1, 0]), 0.0)
    on_fold = style.back == "fold"
    centre = Line(top, (hem[0], 0.0)).flatten()
    edges = (
        Edge("centre back", centre, 0.0 if on_fold else block.seam, "fold" if on_fold else "seam"),
        Edge("hem", Line((hem[0], 0.0), hem).flatten(), block.seam),
        *block.outer_edges(BACK_SCOOP, *_across(block, body, style)[0]),
        Edge("neck", neckline, block.seam),
    )
    return Piece(
        "back",
        edges,
        cut=1 if on_fold else 2,
        mirrored_pair=not on_fold,
        grain=_grain(hem),
        notches=(*_armhole_notches(edges, "back", 2), *(Notch("centre back", point) for point in (top, (hem[0], 0.0)))),
        match=block.match,
        label="centre back on fold" if on_fold else "centre-back seam",
    )


def draft_front(block: Block, body: Body, style: JacketStyle) -> Piece:
    """The front, with its extension for the closure, and the facing grown on where the style asks for it."""
    neckline = to_front_edge(block.neckline(neck_depths(body, style)[1]), style.overlap)
    hem, fold = block.sewn_hem, float(neckline[-1, 0])
    if style.facing == "grown-on":
        neckline = np.vstack([neckline, facing_top(neckline, block, style)[1:]])
    edge, top = float(neckline[-1, 1]), float(neckline[-1, 0])
    outer = "inner edge" if style.facing == "grown-on" else "front edge"
    edges = (
        Edge(outer, Line((top, edge), (hem[0], edge)).flatten(), block.seam),
        Edge("hem", Line((hem[0], edge), hem).flatten(), block.seam),
        *block.outer_edges(FRONT_SCOOP, *_across(block, body, style)[1]),
        Edge("neck", neckline, block.seam),
    )
    centre = Notch("centre front", (hem[0], 0.0))
    return Piece(
        "front",
        edges,
        cut=2,
        mirrored_pair=True,
        grain=_grain(hem),
        notches=(*_armhole_notches(edges, "front", 1), *(() if edge == 0 else (centre,))),
        match=block.match,
        label="facing grown on" if style.facing == "grown-on" else "",
        inner=(InnerLine("line", ((fold, -style.overlap), (hem[0], -style.overlap))),) * (outer == "inner edge"),
    )


def draft_tab(style: JacketStyle) -> Piece:
    """A fabric tab between front edge and hem band: as deep as the rib, folded double."""
    depth, width = 2 * style.rib_depth, style.tab_width
    corners: list[Point] = [(0.0, 0.0), (depth, 0.0), (depth, width), (0.0, width)]
    names = ("front edge", "hem", "band", "other hem")
    edges = tuple(
        Edge(name, Line(corners[i], corners[(i + 1) % 4]).flatten(), style.seam) for i, name in enumerate(names)
    )
    return Piece("hem tab", edges, cut=2, grain=((depth * 0.2, width / 2), (depth * 0.8, width / 2)))


def with_quarter(piece: Piece, half: float) -> Piece:
    """Back or front with a notch on its hem in the middle of what the hem band is sewn to, from the side seam, mm."""
    hem = piece.edge("hem")
    return replace(piece, notches=(*piece.notches, Notch(QUARTER, point_along(hem.points, hem.length - half / 2))))


class Across(NamedTuple):
    """How near an armhole comes to the centre line, mm, and how much further out it lies after a try-on.

    Without a `half` its swing decides, and `wider` moves it from there.
    """

    half: float | None
    wider: float


def _across(block: Block, body: Body, style: JacketStyle) -> tuple[Across, Across]:
    """Of back and front; a dropped shoulder takes the armholes along."""
    tried, back, front = body.tried_on, *widths_across(body, style.fit, style.room)
    return (
        _moved(block, back, style.drop_shoulder, tried.back / 2),
        _moved(block, front, style.drop_shoulder, tried.front / 2),
    )


def _moved(block: Block, half: float | None, drop: float, wider: float) -> Across:
    if half is None:
        return Across(None, wider)
    return Across(min(half + drop, block.widest, block.sewn_tip[1]) + wider, 0.0)


def across_notes(drafted: PieceSet, block: Block, body: Body, style: JacketStyle) -> Iterator[str]:
    """A line where back or front is narrower across than was measured, or asked for after a try-on."""
    halves, tried = _across(block, body, style), body.tried_on
    asked = (body.back_width or 0.0) + tried.back, (body.chest_width or 0.0) + tried.front
    for name, (half, _), whole, of in zip(("back", "front"), halves, asked, ("back_width", "chest_width"), strict=True):
        found = 2 * float(drafted[name].edge("armhole").points[:, 1].min())
        least = max(0.0 if half is None else 2 * half, whole)
        if found < least - SHORT:
            yield (
                f"{name}: {format_both(found)} across, {format_both(least - found)} less than {of} and try-on ask for:"
                " give more ease, or drop the shoulder"
            )


def _grain(hem: Point) -> tuple[Point, Point]:
    return (hem[0] * 0.45, hem[1] * 0.45), (hem[0] * 0.9, hem[1] * 0.45)


def _armhole_notches(edges: tuple[Edge, ...], name: str, count: int) -> tuple[Notch, ...]:
    """Notches a third of the way up the armhole from the side seam: one in front, two behind."""
    armhole = next(edge for edge in edges if edge.name == "armhole")
    return tuple(
        Notch(f"{name} armhole", point_along(armhole.points, armhole.length / 3 + 10.0 * i)) for i in range(count)
    )
