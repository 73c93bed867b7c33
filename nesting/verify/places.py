"""Where outlines lie: on usable cloth, halves on a fold, match points on the lines of the cloth's pattern."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nesting.verify.asked import Asked
    from nesting.verify.cloth import LaidCloth, Region
    from nesting.verify.laid import Laid
    from nesting.verify.motion import LaidPiece
    from pieces import Piece

    Floats = NDArray[np.float64]

SELDOM = 1e-9
"""Of sums of lengths, mm."""


def region_of(cloth: LaidCloth, laid: Laid) -> Region:
    """The region that an outline lies in; CheckError if it sticks out of the one that is nearest."""
    if not np.isfinite(laid.outline).all():
        raise CheckError(f"'{laid.piece}' has no finite place")
    outside = [region.outside(laid.outline) for region in cloth.regions]
    nearest = min(range(len(outside)), key=lambda i: max(outside[i].values()))
    side, by = max(outside[nearest].items(), key=lambda item: item[1])
    if by > TOLERANCE + SELDOM:
        raise CheckError(f"'{laid.piece}' reaches {by:.2f} mm beyond the {side} of {cloth.regions[nearest].name}")
    return cloth.regions[nearest]


def check_on_fold(lying: LaidPiece) -> None:
    """Make sure that a half lies with its own fold edge on a fold of the cloth."""
    if not lying.laid.on_fold:
        return
    name = lying.piece.name
    if lying.shape.fold is None or not lying.region.folds:
        raise CheckError(f"'{name}' is half a piece, but there is no fold in {lying.region.name}")
    edge = lying(lying.shape.fold)[:, 1]
    off = min(float(np.abs(edge - fold).max()) for fold in lying.region.folds)
    if off > TOLERANCE + SELDOM:
        raise CheckError(f"'{name}' is half a piece, and its fold edge lies {off:.2f} mm from the fold")


def check_border(laid: Sequence[LaidPiece], asked: Asked) -> int:
    """Make sure that edges that belong on the border of the cloth lie there, in every layer; how many outlines do."""
    border, number = asked.fabric.border, 0
    for lying in laid:
        piece = lying.piece
        if not (border and piece.border):
            continue
        number += 1
        edge = lying(_edge(piece))
        turned = max(one.turned for one in piece.edges if one.name == piece.border) * asked.growth[1]
        for layer in lying.region.layers:
            (low, high), (least, most) = (
                np.sort(layer.to_cloth(part)[:, 1])[[0, -1]] for part in (edge, lying.laid.outline)
            )
            where = "" if len(lying.region.layers) == 1 else f" in {layer.name}"
            if abs(low + turned - border) > TOLERANCE + SELDOM:
                off = f"{abs(low + turned - border):.2f} mm off the border"
                raise CheckError(f"the edge '{piece.border}' of '{piece.name}' lies {off}{where}")
            if low + high > least + most:
                raise CheckError(
                    f"'{piece.name}' lies with its edge '{piece.border}' turned away from the border{where}"
                )
    return number


def _edge(piece: Piece) -> Floats:
    """Points of the edge that belongs on a border, as sewn and as drafted; of a half, of both halves."""
    points = np.vstack([edge.points for edge in piece.edges if edge.name == piece.border])
    fold = [edge.points[0, 1] for edge in piece.edges if edge.kind == "fold"]
    return np.vstack([points, *(points * (1, -1) + (0, 2 * at) for at in fold)])


def check_pattern(laid: Sequence[LaidPiece], cloth: LaidCloth, asked: Asked, start: float | None) -> None:
    """Make sure that match points lie on the lines of the pattern, in every layer."""
    along, across = asked.fabric.repeat_along, asked.fabric.repeat_across
    for lying in laid:
        if lying.shape.match is None or not (along or across):
            continue
        for layer in lying.region.layers:
            u, v = layer.to_cloth(lying(lying.shape.match))[0]
            start = float(u) if start is None else start
            for way, off in (
                ("across the cloth", math.remainder(u - start, along) if along else 0.0),
                ("along the cloth", math.remainder(v - cloth.line, across) if across else 0.0),
            ):
                if abs(off) > TOLERANCE + SELDOM:
                    where = "" if len(lying.region.layers) == 1 else f" in {layer.name}"
                    raise CheckError(
                        f"the match point of '{lying.piece.name}' lies {abs(off):.2f} mm from the pattern's lines"
                        f" {way}{where}"
                    )
