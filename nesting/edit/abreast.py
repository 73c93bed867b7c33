"""Widths of cloth from which on pieces lie beside one another."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations_with_replacement
from typing import TYPE_CHECKING, NamedTuple

from nesting.cloth.spread import spread_cloth
from nesting.problem.lay import lay_pieces
from pieces.length import mm

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nesting.cloth.band import Band
    from nesting.cloth.fabric import Fabric
    from nesting.cloth.spread import Spread
    from pieces import Piece

ROOM = 20_000.0
"""Cloth so much wider than its selvedges holds any piece, mm."""


class Beside(NamedTuple):
    """Pieces that lie beside one another, box by box, on cloth of some width and more.

    Parameters
    ----------
    names
        The pieces, widest first; a single one lies on the cloth at all.
    width
        Least full width of cloth that holds them, mm.
    """

    names: tuple[str, ...]
    width: float


def widths_beside(
    pieces: Sequence[Piece], fabric: Fabric, spread: Spread, *, most: int = 2, waste_twins: bool = False
) -> list[Beside]:
    """The width of cloth from which on each one, two or more pieces lie beside one another, narrowest first.

    A piece is taken as wide as its box across the cloth; interlocked, pieces may pass one another on narrower cloth.

    Parameters
    ----------
    fabric
        The cloth; its own width does not matter.
    most
        How many pieces to look at together.
    """
    wide = replace(fabric, width=mm(ROOM))
    problem = lay_pieces(pieces, wide, spread, waste_twins=waste_twins)
    across: dict[str, float] = {}
    times: Counter[str] = Counter()
    pinned = set()
    stand_ins = {one.instead[0]: len(one.instead) * problem.items[one.item].quantity for one in problem.choices}
    for number, item in enumerate(problem.items):
        if item.piece and item.piece.on_fold and not item.variants[0].on_fold and _folds(problem.bands[0]):
            continue  # whole beside the fold, where halves lie on it
        name = item.piece.name if item.piece else item.name
        across[name] = min(variant.height for variant in item.variants)
        times[name] += item.quantity + (stand_ins.get(number, 0) if item.variants[0].on_fold else 0)
        if all(variant.on_fold for variant in item.variants):
            pinned.add(name)
    bands = spread_cloth(wide, spread)
    folds = max(_folds(band) for band in bands)
    share = bands[0].width - spread_cloth(replace(wide, width=mm(ROOM - 100.0)), spread)[0].width
    lost = share / 100.0 * ROOM - bands[0].width
    found = []
    for names in _together(sorted(across, key=lambda name: (-across[name], name)), most):
        count = Counter(names)
        if any(count[name] > times[name] for name in count) or sum(name in pinned for name in names) > max(1, folds):
            continue
        needed = sum(across[name] for name in names) + (len(names) - 1) * fabric.gap
        found.append(Beside(names, (needed + lost) / share * 100.0))
    return sorted(found, key=lambda beside: (beside.width, beside.names))


def _together(names: list[str], most: int) -> Iterable[tuple[str, ...]]:
    for number in range(1, most + 1):
        yield from combinations_with_replacement(names, number)


def _folds(band: Band) -> int:
    return (band.low_edge == "fold") + (band.high_edge == "fold")
