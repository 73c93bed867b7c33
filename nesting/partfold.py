"""Cloth folded in part: how deep to fold it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.errors import NestingError, SpreadError
from nesting.lay import lay_pieces
from nesting.solver import solve
from nesting.stop import MaxIterations

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.fabric import Fabric
    from nesting.problem import Problem
    from pieces import Piece

MOST_DEPTHS = 6
"""Depths tried."""


def fold_in_part(
    pieces: Sequence[Piece], fabric: Fabric, *, garments: int = 1, waste_twins: bool = False, most: int = MOST_DEPTHS
) -> tuple[float, Problem]:
    """The depth that gives the shortest first layout, mm, and its problem.

    Depths are tried, the deepest first, at which some piece just fits between the fold and the selvedge folded over.

    Parameters
    ----------
    most
        Depths tried at most; a single one is not laid.

    Raises
    ------
    SpreadError
        If there is none; otherwise the first reason why the pieces do not go on cloth so folded.
    """
    across = {round(height + fabric.selvedge + 1e-3, 3) for piece in pieces for height in _heights(piece, fabric)}
    depths = sorted((d for d in across if fabric.selvedge < d < fabric.width / 2), reverse=True)[:most]
    found: list[tuple[float, float, Problem]] = []
    errors: list[NestingError] = []
    for depth in depths:
        try:
            problem = lay_pieces(pieces, fabric, "part-folded", garments=garments, waste_twins=waste_twins, depth=depth)
        except NestingError as error:
            errors.append(error)
            continue
        length = solve(problem, MaxIterations(0)).marker.length if len(depths) > 1 else 0.0
        found.append((length, depth, problem))
    if errors and not found:
        raise errors[0]
    if not found:
        raise SpreadError(f"'{fabric.name}' is too narrow to fold any piece into a part of it: lay it open, or folded")
    _, depth, problem = min(found, key=lambda one: one[:2])
    return depth, problem


def _heights(piece: Piece, fabric: Fabric) -> set[float]:
    """How much of the width a piece takes on folded cloth, in each way that it may lie, mm."""
    try:
        problem = lay_pieces([piece], fabric, "folded", waste_twins=True)
    except NestingError:
        return set()
    return {variant.height for item in problem.items for variant in item.variants if not variant.tilt}
