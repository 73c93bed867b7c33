"""Grain: the turns at which every layer of a piece keeps to it, and whether a piece is its own mirror image."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.cloth.ply import Ply
from nesting.problem.tilt import tilts
from nesting.problem.transform import Transform

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from pieces import Piece

    Floats = NDArray[np.float64]

SAME_OUTLINE = 1e-6
"""Outlines whose points differ by less, mm, are one and the same to the search."""

SAME_MARK = 1e-3
"""Marks and corners nearer than this, mm, are one and the same to a person: far finer than anything is cut."""

GRAIN_TURNS = {"straight": (0.0, 180.0), "cross": (0.0, 180.0, 90.0, 270.0), "free": tuple(45.0 * k for k in range(8))}
"""Turns off the grainline's own direction, degrees, by how strictly a piece keeps to it."""


class Turn(NamedTuple):
    """A turn in degrees, and how much of it is tilt."""

    degrees: float
    tilt: float = 0.0


def turns(
    piece: Piece,
    heads: Sequence[float],
    *,
    mirrored: bool = False,
    plies: Sequence[Ply] = (Ply(),),
    outline: Floats | None = None,
) -> list[Turn]:
    """Turns that lay a piece's grainline along the selvedge in every layer, or as far off it as the piece allows.

    Parameters
    ----------
    heads
        Degrees at which the top of a garment may point: both ways without a nap, else one.
    mirrored
        Whether the piece lies turned over: its grainline is turned over with it, and only then turned.
    plies
        The layers that are cut at once.
    outline
        The piece as drafted, where it may be tilted; without it, it lies upright.
    """
    grain = -_angle(piece) if mirrored else _angle(piece)
    wanted = _angles(piece, heads)
    kept = [angle for angle in wanted if all(ply.angle(angle) in wanted for ply in plies)]
    if outline is None or not piece.tilt:
        return [Turn((angle - grain) % 360.0) for angle in kept]
    found = [
        (number, Turn((angle + tilt - grain) % 360.0, tilt))
        for angle in kept
        for number, tilt in enumerate(tilts(Transform(angle - grain, mirrored)(outline), piece.tilt))
    ]
    return [turn for _, turn in sorted(found, key=lambda one: one[0])]  # upright first


def is_own_twin(piece: Piece, heads: Sequence[float]) -> bool:
    """Whether a piece turned over on its grainline is itself again, marks included, so that both layers are alike.

    It may be turned then, but only as the cloth allows.
    """
    outline, grain = piece.unfolded, _angle(piece)
    upright = Transform.to_corner(outline, -grain)
    for angle in _angles(piece, heads) if len(heads) > 1 else (0.0,):
        over = Transform.to_corner(outline, grain + angle, True)
        if is_same(upright.outline(outline), over.outline(outline), SAME_MARK) and all(
            any(_is_same_mark(upright(points), over(other)) for also, other in _marks(piece) if also == kind)
            for kind, points in _marks(piece)
        ):
            return True
    return False


def is_same(outline: Floats, other: Floats, tolerance: float = SAME_OUTLINE) -> bool:
    """Whether two placed outlines are the same polygon, wherever their points start."""
    if len(outline) != len(other) or np.abs(outline.max(axis=0) - other.max(axis=0)).max() > tolerance:
        return False
    first = np.flatnonzero(np.abs(other - outline[0]).max(axis=1) < tolerance)
    return any(np.abs(np.roll(other, -int(i), axis=0) - outline).max() < tolerance for i in first)


def _angle(piece: Piece) -> float:
    """Degrees at which a piece's grainline runs as drafted, from its start to its end."""
    (x0, y0), (x1, y1) = piece.grain
    return math.degrees(math.atan2(y1 - y0, x1 - x0))


def _angles(piece: Piece, heads: Sequence[float]) -> Sequence[float]:
    """Degrees from the direction of the cloth at which a grainline may run."""
    return heads if len(heads) == 1 else GRAIN_TURNS[piece.lies]


def _marks(piece: Piece) -> Iterator[tuple[str, Floats]]:
    """What is marked on a piece, or cut out of it: its kind, and its points."""
    if piece.on_fold:  # opened out, both halves bear the same
        return
    for notch in piece.notches:
        yield "notch", np.array([notch.point])
    for point in piece.drill_points:
        yield "drill point", np.array([point])
    for line in piece.inner:
        yield line.kind, np.array(line.points)


def _is_same_mark(points: Floats, other: Floats) -> bool:
    """Whether two marks lie on one another, in whichever direction they are drawn."""
    apart = np.hypot(*(points[:, None] - other[None]).T)
    return bool(apart.min(axis=0).max() < SAME_MARK and apart.min(axis=1).max() < SAME_MARK)
