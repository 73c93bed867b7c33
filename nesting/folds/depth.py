"""Cloth folded in part: how deep to fold it, and what holds however deep it is folded."""

from __future__ import annotations

from itertools import chain, combinations_with_replacement, zip_longest
from typing import TYPE_CHECKING

from nesting.errors import NestingError, SpreadError
from nesting.problem.lay import lay_mix, lay_pieces, opened_out
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nesting.cloth.fabric import Fabric
    from nesting.problem.problem import Problem
    from pieces import Piece

MOST_DEPTHS = 12
"""Depths that get a first layout."""

ROOM = 1e-3
"""What is left beside the pieces that a depth is made for, mm."""


def fold_in_part(
    pieces: Sequence[Piece], fabric: Fabric, *, garments: int = 1, waste_twins: bool = False, most: int = MOST_DEPTHS
) -> tuple[float, Problem]:
    """The depth that gives the shortest first layout of those tried, mm, and its problem; it is proved for all depths.

    Those depths are tried at which a piece, or two beside one another, just fill the folded part or the single one.

    Parameters
    ----------
    most
        Depths that get a first layout, at most; a single one gets none.

    Raises
    ------
    SpreadError
        If the pieces go on at none of the depths at which one of them just fits.
    NestingError
        The reason why the pieces do not go on the cloth laid open: then they go on at no depth.
    """
    loosest = opened_out([(pieces, garments)], fabric)
    alone, together = _depths(pieces, fabric)
    first: NestingError | None = None
    found: list[tuple[float, Problem]] = []
    for depth in chain(alone, together):
        if len(found) >= most:
            break
        try:
            found.append((depth, _folded(depth, pieces, fabric, garments, waste_twins, loosest)))
        except NestingError as error:
            first = first or error
    if not found and first:
        raise SpreadError(
            f"'{fabric.name}' folded in part does not hold the pieces at any of {len(alone) + len(together)} depths "
            "tried;"
            f" at the first, {first}"
        ) from first
    if not found:
        raise SpreadError(f"'{fabric.name}' is too narrow to fold any piece into a part of it: lay it open, or folded")
    if len(found) == 1:
        return found[0]
    return min(found, key=lambda one: (solve(one[1], MaxIterations(0)).marker.length, one[0]))


def folded_at(
    depth: float, pieces: Sequence[Piece], fabric: Fabric, *, garments: int = 1, waste_twins: bool = False
) -> Problem:
    """The problem at a depth, mm, that may be another: it is proved for all depths."""
    return _folded(depth, pieces, fabric, garments, waste_twins, opened_out([(pieces, garments)], fabric))


def _folded(
    depth: float, pieces: Sequence[Piece], fabric: Fabric, garments: int, waste_twins: bool, loosest: Problem
) -> Problem:
    problem = lay_mix([(pieces, garments)], fabric, "part-folded", waste_twins=waste_twins, depth=depth)
    return problem.proved_by(loosest)


def _depths(pieces: Sequence[Piece], fabric: Fabric) -> tuple[list[float], list[float]]:
    """Depths at which one piece just fills the folded part or the single one, and those at which two do; by turns."""
    double = sorted({height for piece in pieces for height in _heights(piece, fabric, folded=True)}, reverse=True)
    single = sorted({height for piece in pieces for height in _heights(piece, fabric, folded=False)})
    known: set[float] = set()

    def these(filling: Iterable[float], left: Iterable[float]) -> list[float]:
        one = [height + fabric.selvedge + ROOM for height in filling]
        other = [(fabric.width - fabric.selvedge - height - ROOM) / 2 for height in left]
        turns = (depth for pair in zip_longest(one, other) for depth in pair if depth is not None)
        fresh = dict.fromkeys(round(depth, 3) for depth in turns if fabric.selvedge < depth < fabric.width / 2)
        found = [depth for depth in fresh if depth not in known]
        known.update(found)
        return found

    return these(double, single), these(_sums(double, fabric), _sums(single, fabric))


def _sums(heights: Iterable[float], fabric: Fabric) -> list[float]:
    """How much two pieces take beside one another, mm."""
    return [one + other + fabric.gap for one, other in combinations_with_replacement(heights, 2)]


def _heights(piece: Piece, fabric: Fabric, *, folded: bool) -> set[float]:
    """How much of the width a piece takes on folded or on open cloth, in each way that it may lie, mm."""
    try:
        problem = lay_pieces([piece], fabric, "folded" if folded else "open", waste_twins=folded)
    except NestingError:
        return set()
    return {variant.height for item in problem.items for variant in item.variants if not variant.tilt}
