"""A yoke across the back: the back cut through above the shoulder blades, with a seam between."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.body.girths import NAPE
from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch
from pieces.piece.pieces import PieceSet, Seam

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.piece.curve import Point
    from pieces.piece.piece import Piece

    Floats = NDArray[np.float64]

CLEAR = 5.0
"""How far it keeps from the shoulder's allowances, mm."""

LEVEL = 0.45
"""How far down the seam of a yoke runs, from the nape to the line of the arm: common practice, no source."""


def cut_yoke(drafted: PieceSet, seam: float, level: float) -> PieceSet:
    """The set with its back in two: yoke and lower back.

    Parameters
    ----------
    seam
        Allowance of the seam between, mm.
    level
        How far below the neck point it runs, mm, by `yoke_level`.

    Raises
    ------
    DraftError
        If the seam would not run from the centre to the armhole.
    """
    back = drafted["back"]
    armhole = back.edge("armhole").points
    if level > armhole[0, 0] - 2 * seam:
        raise DraftError(
            "the seam of a yoke would not run from the centre back to the armhole: leave the yoke out, or make the"
            " armhole deeper",
            about="yoke",
        )
    yoke, lower = _cut(back, level, seam)
    pieces = [piece for one in drafted for piece in ((yoke, lower) if one.name == "back" else (one,))]
    seams = [_through(each) for each in drafted.seams]
    seams.append(Seam("yoke", (("back yoke", "yoke seam"),), (("back", "yoke seam"),)))
    return replace(drafted, pieces=tuple(pieces), seams=tuple(seams))


def yoke_level(body: Body, seam: float, *drafted: PieceSet) -> float:
    """Where the seam of a yoke runs, mm below the neck point: by the body, and clear of shoulder and neckline.

    Where left and right differ it is asked of both drafts: it is the same, or they do not meet at the centre.
    """
    usual = NAPE * body.neck + LEVEL * measured_or_usual(body, "nape_to_armhole")
    return max(usual, *(_highest(one["back"], seam) for one in drafted))


def _highest(back: Piece, seam: float) -> float:
    ends = back.edge("armhole").points[-1, 0], back.edge("neck").points[-1, 0]
    return float(max(ends)) + 2 * seam + CLEAR


def _cut(back: Piece, level: float, seam: float) -> tuple[Piece, Piece]:
    centre, armhole = back.edge("centre back"), back.edge("armhole")
    low, high = split_at(armhole.points, level)
    above, below = split_at(centre.points, level)
    across = np.array([below[0], high[0]])  # from the centre outwards
    middle = Notch("centre back", (level, float(below[0, 1])))
    yoke = replace(
        back,
        name="back yoke",
        edges=(
            replace(centre, points=above),
            Edge("yoke seam", across, seam),
            replace(armhole, points=high),
            _own(back.edge("shoulder")),
            _own(back.edge("neck")),
        ),
        grain=_between(above, back.grain[0][1]),
        notches=(*(notch for notch in back.notches if notch.point[0] < level), middle),
        match=None,
        inner=(),
    )
    lower = replace(
        back,
        edges=(
            replace(centre, points=below),
            _own(back.edge("hem")),
            _own(back.edge("side")),
            replace(armhole, points=low),
            Edge("yoke seam", across[::-1].copy(), seam),
        ),
        notches=(*(notch for notch in back.notches if notch.point[0] >= level), middle),
    )
    return yoke, lower


def _own(edge: Edge) -> Edge:
    return replace(edge, points=edge.points.copy())


def _between(centre: Floats, y: float) -> tuple[Point, Point]:
    """A grainline as long as most of a centre line."""
    top, end = float(centre[0, 0]), float(centre[-1, 0])
    return (top + 0.2 * (end - top), y), (top + 0.8 * (end - top), y)


def split_at(points: Floats, level: float) -> tuple[Floats, Floats]:
    """A line in two at a height that it crosses once: x rises along it, or falls."""
    x = points[:, 0]
    first = int(np.argmax((x[:-1] - level) * (x[1:] - level) <= 0))
    share = (level - x[first]) / (x[first + 1] - x[first])
    middle = points[first] + share * (points[first + 1] - points[first])
    middle[0] = level
    parts = np.vstack([points[: first + 1], middle]), np.vstack([middle, points[first + 1 :]])
    return _apart(parts[0]), _apart(parts[1])


def _apart(points: Floats) -> Floats:
    """A line without points on one spot."""
    keep = np.concatenate(([True], np.hypot(*np.diff(points, axis=0).T) > 1e-9))
    return np.ascontiguousarray(points[keep])


def _through(seam: Seam) -> Seam:
    """A seam whose runs follow the back into its two parts."""

    def run(edges: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
        found: list[tuple[str, str]] = []
        for piece, edge in edges:
            if piece != "back":
                found.append((piece, edge))
            elif edge in ("shoulder", "neck"):
                found.append(("back yoke", edge))
            elif edge in ("armhole", "centre back"):
                found += [("back", edge), ("back yoke", edge)]
            else:
                found.append((piece, edge))
        return tuple(found)

    return replace(seam, first=run(seam.first), second=run(seam.second))
