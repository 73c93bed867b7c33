"""Cloth folded lengthwise for part of its length and then opened out: stretches laid one after another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import NestingError, SpreadError
from nesting.problem.border import require_border
from nesting.problem.lay import LayingRules, lay_pieces, lay_settled, opened_out
from nesting.problem.problem import Problem
from nesting.problem.turned import settle_turned
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.cloth.fabric import Fabric
    from pieces import Piece

MOST_MOVED = 4
"""Pieces that go on folded cloth, and are opened out all the same, at most."""


def fold_then_open(
    pieces: Sequence[Piece],
    fabric: Fabric,
    *,
    garments: int = 1,
    most: int = MOST_MOVED,
    opened: Sequence[str] | None = None,
) -> Problem:
    """The problem of laying some pieces on folded cloth, and the rest behind them on the cloth opened out.

    What does not go on folded cloth lies open; of the rest one piece after the other does where that makes the first
    layouts shorter. No twin is wasted. It is proved for all of them, wherever they lie, and with twins wasted, too.

    Parameters
    ----------
    most
        Pieces that are opened out at most although they go on folded cloth; with 0 none is that need not be.
    opened
        Names of the pieces that lie opened out, in their order, where that is settled already.

    Raises
    ------
    SpreadError
        If no piece goes on folded cloth, or the pattern across is to be matched, which does not lie the same way in
        both stretches.
    """
    require_border(pieces, fabric, "fold-then-open")
    if fabric.repeat_across and any(piece.match for piece in pieces):
        raise SpreadError(
            f"'{fabric.name}' has a pattern across, which cannot match both folded and opened out: choose one"
        )
    folded, behind = _parts(pieces, fabric, garments, opened)
    loosest = opened_out([(pieces, garments)], fabric)

    def laid(moved: Sequence[Piece]) -> Problem:
        def settled(cloth: Fabric) -> Problem:
            first = lay_settled([(_without(folded, moved), garments)], LayingRules("folded"), cloth)
            second = lay_settled([([*behind, *moved], garments)], LayingRules("open"), cloth)
            return _one_after_another((first, second), loosest)

        return settle_turned(settled, fabric, garments)

    moved: list[Piece] = []
    best = laid(moved)
    most = most if opened is None else 0
    length = _first_length(best) if most else 0.0
    while len(moved) < min(most, len(folded) - 1):
        rest = _without(folded, moved)
        found = [laid([*moved, piece]) for piece in rest]
        lengths = [_first_length(problem) for problem in found]
        k = int(np.argmin(lengths))
        if lengths[k] >= length:
            break
        best, length = found[k], lengths[k]
        moved.append(rest[k])
    return best


def opened_in(problem: Problem) -> tuple[str, ...] | None:
    """Names of the pieces that lie opened out in a problem of such cloth; None of any other."""
    if not problem.stretches:
        return None
    return tuple(dict.fromkeys(item.piece.name for item in problem.stretches[-1].items if item.piece))


def _parts(
    pieces: Sequence[Piece], fabric: Fabric, garments: int, opened: Sequence[str] | None
) -> tuple[list[Piece], list[Piece]]:
    """The pieces that may lie folded, and those that lie opened out in any case: at least one each."""
    folded = [piece for piece in pieces if _lies_folded(piece, fabric, garments, opened)]
    behind = _without(pieces, folded)
    if opened is not None:
        behind.sort(key=lambda piece: opened.index(piece.name))
    if not folded or len(pieces) < 2:
        raise SpreadError(
            f"'{fabric.name}' folded then opened needs some pieces for each part: lay it all open, or all folded"
        )
    if not behind:
        widest = max(folded, key=lambda piece: float(np.ptp(piece.unfolded[:, 1])))
        folded, behind = _without(folded, [widest]), [widest]
    return folded, behind


def _first_length(problem: Problem) -> float:
    return solve(problem, MaxIterations(0)).marker.length


def _without(pieces: Sequence[Piece], out: Sequence[Piece]) -> list[Piece]:
    return [piece for piece in pieces if not any(piece is other for other in out)]


def _lies_folded(piece: Piece, fabric: Fabric, garments: int, opened: Sequence[str] | None) -> bool:
    return _folds(piece, fabric, garments) if opened is None else piece.name not in opened


def _folds(piece: Piece, fabric: Fabric, garments: int) -> bool:
    try:
        lay_pieces([piece], fabric, "folded", garments=garments)
    except NestingError:
        return False
    return True


def _one_after_another(stretches: tuple[Problem, ...], loosest: Problem) -> Problem:
    """The whole problem; where each stretch begins and ends is not known before it is laid."""
    bands = tuple(band for stretch in stretches for band in stretch.bands)
    items, before = [], 0
    for stretch in stretches:
        for item in stretch.items:
            ways = tuple(replace(variant, band=variant.band + before) for variant in item.variants)
            items.append(replace(item, variants=ways))
        before += len(stretch.bands)
    repeat = next((stretch.repeat for stretch in stretches if stretch.repeat), None)
    first = stretches[0]
    return Problem(bands, tuple(items), first.gap, name=first.name, repeat=repeat, stretches=stretches, loosest=loosest)
