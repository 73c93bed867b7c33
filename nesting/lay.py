"""Pieces on a spread: which ways each piece may lie, and how often it must.

In a single layer a mirrored pair is a left and a right item, and a piece drawn on the fold is opened out. In a
mirrored double layer one placement yields a left and a right piece, and a piece on the fold lies as a half with its
fold edge on a fold of the cloth. Where a spread has both, each piece may lie in either.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import NoFoldError, PieceTooWideError, SpreadError
from nesting.grain import is_own_twin, turns
from nesting.item import Choice, Item
from nesting.problem import Problem
from nesting.spread import lengths_of_cloth, pattern, spread_cloth
from nesting.transform import Transform
from nesting.ways import Cloth, fold_ways, free_ways

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from nesting.band import Band
    from nesting.fabric import Fabric
    from nesting.item import Variant
    from nesting.repeat import Repeat
    from nesting.spread import Spread
    from pieces import Piece


def lay_pieces(
    pieces: Iterable[Piece],
    fabric: Fabric,
    spread: Spread,
    *,
    garments: int = 1,
    waste_twins: bool = False,
    depth: float | None = None,
    plies: int = 2,
) -> Problem:
    """The layout problem of some pieces on a fabric spread in one way.

    Parameters
    ----------
    pieces
        All that is cut from this fabric for one garment.
    garments
        How many garments are cut at once.
    waste_twins
        Whether a piece needed once may be cut double, its twin wasted.
    depth
        How far part of the width is folded over, mm; only for the spread that needs it.
    plies
        How many lengths of cloth lie on one another, in a stack.

    Raises
    ------
    PieceTooWideError, NoFoldError, SpreadError
        If a piece cannot lie on any band, on no fold, or would waste its twin unasked.
    """
    return lay_mix([(tuple(pieces), garments)], fabric, spread, waste_twins=waste_twins, depth=depth, plies=plies)


def lay_mix(
    sets: Sequence[tuple[Sequence[Piece], int]],
    fabric: Fabric,
    spread: Spread,
    *,
    waste_twins: bool = False,
    depth: float | None = None,
    plies: int = 2,
) -> Problem:
    """The layout problem of garments of several sizes on one marker.

    Parameters
    ----------
    sets
        The pieces of a garment of each size, with names of their own, and how many of it are cut at once.
    waste_twins, depth, plies
        As for `lay_pieces`, and so are the errors.
    """
    bands = spread_cloth(fabric, spread, depth, plies)
    repeat = pattern(fabric, spread) if any(piece.match for pieces, _ in sets for piece in pieces) else None
    laying = _Laying(bands, fabric, repeat, waste_twins)
    before = 0
    for pieces, garments in sets:
        for heads, number in fabric.heads(garments, before):
            for piece in pieces:
                laying.add(piece, number, heads)
        before += garments
    return Problem(
        bands,
        tuple(laying.items),
        fabric.gap,
        name=fabric.name,
        choices=tuple(laying.choices),
        repeat=repeat,
        lengths=lengths_of_cloth(spread, plies),
    )


class _Laying:
    """Items and choices of a problem while they are put together."""

    def __init__(self, bands: tuple[Band, ...], fabric: Fabric, repeat: Repeat | None, waste_twins: bool) -> None:
        self.items: list[Item] = []
        self.choices: list[Choice] = []
        self._bands, self._fabric, self._waste_twins = bands, fabric, waste_twins
        numbered = tuple(enumerate(bands))
        self._double = Cloth(tuple((i, band) for i, band in numbered if band.mirrored), repeat, fabric.growth)
        self._single = Cloth(tuple((i, band) for i, band in numbered if not band.mirrored), repeat, fabric.growth)
        self._has_fold = any("fold" in (band.low_edge, band.high_edge) for band in bands)

    def add(self, piece: Piece, garments: int, heads: Sequence[float]) -> None:
        """Add a piece for some garments whose tops point one of some ways."""
        wanted = piece.cut * garments
        twins = piece.on_fold or piece.mirrored_pair or is_own_twin(piece, heads)
        singles, ways = self._singles(piece, heads), self._ways_double(piece, heads)
        if not ways and not singles:
            raise self._too_wide(piece)
        times, left_over, yields = 0, wanted, 1
        if ways and twins:
            plies = self._double.bands[0][1].plies
            yields = len(plies) // 2 if ways[0].on_fold else len(plies)
            times, left_over = divmod(wanted, yields)
        if times:
            self._add_double(Item(piece.name, times, ways, yields=yields, piece=piece), singles)
        if left_over and singles:
            self._add_singles(piece, singles, left_over)
        elif left_over:
            self._add_wasteful(piece, wanted, left_over, ways, has_twins=twins)

    def _ways_double(self, piece: Piece, heads: Sequence[float]) -> tuple[Variant, ...]:
        if piece.on_fold and self._has_fold:
            return fold_ways(piece, self._double, heads)
        return free_ways(piece, piece.unfolded, self._double, (False, True), heads)

    def _singles(self, piece: Piece, heads: Sequence[float]) -> list[Item]:
        """One item for each hand of a piece in cloth with its right side up, none of them wanted yet."""
        items = []
        for mirrored in (False, True) if piece.mirrored_pair else (False,):
            ways = free_ways(piece, piece.unfolded, self._single, (mirrored,), heads)
            name = piece.name + (f" ({'right' if mirrored else 'left'})" if piece.mirrored_pair else "")
            yields = len(self._single.bands[0][1].plies) if ways else 1
            items += [Item(name, 0, ways, yields=yields, piece=piece)] if ways else []
        return items

    def _add_singles(self, piece: Piece, singles: list[Item], wanted: int) -> None:
        each = wanted // len(singles)
        times, left_over = divmod(each, singles[0].yields)
        if left_over and not self._waste_twins:
            raise SpreadError(
                f"'{piece.name}' is cut {each} times, and this stack cuts {singles[0].yields} at once: change the"
                " number of plies or of garments, or allow waste_twins"
            )
        self.items += [replace(item, quantity=times) for item in singles if times]
        if left_over:
            self.items += [
                replace(item, name=f"{item.name} (twin wasted)", quantity=1, yields=left_over) for item in singles
            ]

    def _add_wasteful(
        self, piece: Piece, wanted: int, left_over: int, ways: tuple[Variant, ...], *, has_twins: bool
    ) -> None:
        """Add what is cut double although it is needed once."""
        if not self._waste_twins:
            if piece.on_fold:
                raise NoFoldError(
                    f"'{piece.name}' is cut on a fold, and this spread has none: fold the cloth lengthwise, lay it"
                    " open, or allow waste_twins"
                )
            raise SpreadError(
                f"'{piece.name}' is cut {wanted} times{'' if has_twins else ', all the same way up'}, and folded cloth"
                " cuts a left and a right at once: lay the cloth open, or allow waste_twins"
            )
        plies = self._double.bands[0][1].plies
        each = left_over if has_twins else sum(not ply.hand(ways[0].mirrored) for ply in plies)
        name = f"{piece.name} (twin wasted)"
        full, rest = divmod(left_over, each)
        self.items += [Item(name, full, ways, yields=each, piece=piece)] if full else []
        self.items += [Item(name, 1, ways, yields=rest, piece=piece)] if rest else []

    def _add_double(self, item: Item, singles: list[Item]) -> None:
        """Add an item cut double, and those that may be cut one by one in its stead."""
        self.items.append(item)
        if singles:
            first = len(self.items)
            pieces = range(first, first + len(singles))
            together = item.yields // len(singles)
            self.choices.append(Choice(first - 1, tuple(i for i in pieces for _ in range(together))))
            self.items += singles

    def _too_wide(self, piece: Piece) -> PieceTooWideError:
        fabric, is_open = self._fabric, bool(self._single.bands)
        usable = max(band.width for band in self._bands)
        whole = self._least_across(piece, piece.unfolded)
        needs = whole if is_open else self._least_across(piece, piece.cut_line)
        where = f"'{fabric.name}' between its selvedges" if is_open else f"'{fabric.name}' folded"
        remedy = "choose a wider fabric, or cut the piece in two with a seam"
        if whole <= fabric.usable_width and not (is_open and not self._double.bands):
            remedy = "lay the cloth open (spread 'open'), or choose a wider fabric"
        return PieceTooWideError(piece.name, needs, usable, where, remedy)

    def _least_across(self, piece: Piece, outline: NDArray[np.float64]) -> float:
        """How much an outline of the piece needs across the cloth at the least, mm."""
        ways = (
            Transform(turn.degrees, False, self._fabric.growth) for turn in turns(piece, (0.0, 180.0), outline=outline)
        )
        return min(float(np.ptp(way(outline)[:, 1])) for way in ways)
