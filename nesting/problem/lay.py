"""Pieces on a spread: which ways each piece may lie, and how often it must.

In a single layer a mirrored pair is a left and a right item, and a piece drawn on the fold is opened out. In a
mirrored double layer one placement yields a left and a right piece, and a piece on the fold lies as a half with its
fold edge on a fold of the cloth. Where a spread has both, each piece may lie in either.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, NamedTuple, get_args

import numpy as np

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import STACKS, Spread, lengths_of_cloth, pattern, spread_cloth
from nesting.errors import NestingError, NoFoldError, PieceTooWideError, SpreadError
from nesting.problem.border import border_ways, require_border
from nesting.problem.grain import is_own_twin, turns
from nesting.problem.holes import with_holes_open
from nesting.problem.item import Choice, Item
from nesting.problem.pared import pared
from nesting.problem.problem import Problem
from nesting.problem.transform import Transform
from nesting.problem.turned import settle_turned
from nesting.problem.ways import ClothBands, fold_ways, free_ways
from nesting.tolerance import ALLOWED
from pieces import Piece
from pieces.length import length_in_mm, mm
from pieces.require import require, require_all, require_whole

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.cloth.repeat import Repeat
    from nesting.problem.item import Variant
    from pieces.length import Written

    Sets = Sequence[tuple[Sequence[Piece], int]]
    """The pieces of a garment of each size, with names of their own, and how many of it are cut at once."""

MOST_GARMENTS = 1000
"""No marker holds more garments."""

UNFOLDED = 4 * ALLOWED
"""How much pieces are pared, mm, where cloth is opened out in a proof.

A half may lie off its fold by the tolerance, and its twin as far to the other side; a piece that is its own mirror
image is so to less than that.
"""


class LayingRules(NamedTuple):
    """What pieces are laid by: all but the last as for `lay_pieces`.

    Parameters
    ----------
    whole
        Whether two halves may lie as one whole piece in both layers: no rule of the spread, but a cutter may, so that
        proofs are made of it. With `waste_twins` they may anyway, and the last one alone, its twin wasted.
    """

    spread: Spread
    waste_twins: bool = False
    depth: float | None = None
    plies: int = 2
    whole: bool = False


def lay_pieces(
    pieces: Iterable[Piece],
    fabric: Fabric,
    spread: Spread,
    *,
    garments: int = 1,
    waste_twins: bool = False,
    depth: Written | None = None,
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
        How far part of the width is folded over, with its unit; only for the spread that needs it.
    plies
        How many lengths of cloth lie on one another, in a stack.

    Raises
    ------
    PieceTooWideError, NoFoldError, SpreadError
        If a piece cannot lie on any band, on no fold, or would waste its twin unasked.
    """
    require(fabric, Fabric, "the fabric of lay_pieces", 'a Fabric, such as Fabric("canvas", width="60 in")')
    cut = require_all(pieces, Piece, "the pieces of lay_pieces", "pieces")
    require(spread, str, "the spread of lay_pieces", f"one of {', '.join(get_args(Spread))}")
    require_garments(garments, "lay_pieces")
    require_whole(plies, "the plies of lay_pieces")
    require(waste_twins, bool, "waste_twins", "True or False")
    if plies != 2 and spread not in STACKS:
        raise SpreadError(f"cloth laid {spread} is not a stack: leave plies out, or lay it {' or '.join(STACKS)}")
    if depth is not None and spread != "part-folded":
        raise SpreadError(f"cloth laid {spread} has no depth of a fold: leave depth out, or lay it part-folded")
    folded = None if depth is None else float(length_in_mm(depth, "the depth of a fold"))
    return lay_mix([(cut, garments)], fabric, spread, waste_twins=waste_twins, depth=folded, plies=plies)


def require_garments(garments: int, whose: str) -> None:
    """Make sure that a number of garments is one that may be laid at once; `whose` it is, such as ``"a sweep"``."""
    require_whole(garments, f"the garments of {whose}")
    if not 1 <= garments <= MOST_GARMENTS:
        raise NestingError(f"the garments of {whose} must be 1 to {MOST_GARMENTS} on one marker, not {garments}")


def lay_mix(
    sets: Sets,
    fabric: Fabric,
    spread: Spread,
    *,
    waste_twins: bool = False,
    depth: float | None = None,
    plies: int = 2,
) -> Problem:
    """The layout problem of garments of several sizes on one marker; all else as for `lay_pieces`.

    What two halves, a twin that is wasted or a piece in a hole might do but are not laid to do here, is in what proofs
    are made of.
    """
    return with_holes_open(_lay_whole(sets, fabric, LayingRules(spread, waste_twins, depth, plies)))


def _lay_whole(sets: Sets, fabric: Fabric, rules: LayingRules) -> Problem:
    """As `lay_mix`, with the cloth in a hole taken for the piece's."""
    spread, waste_twins = rules.spread, rules.waste_twins
    garments = sum(number for _, number in sets)
    problem = settle_turned(partial(lay_settled, sets, rules), fabric, garments)
    has_halves = any(piece.on_fold and piece.cut * number > 1 for pieces, number in sets for piece in pieces)
    if spread == "part-folded":
        return problem.proved_by(opened_out(sets, fabric)) if waste_twins or has_halves else problem
    if waste_twins or not has_halves:
        return problem
    loosest = settle_turned(partial(lay_settled, sets, rules._replace(whole=True)), fabric, garments).to_prove
    return problem.proved_by(loosest) if loosest.choices else problem


def opened_out(sets: Sets, fabric: Fabric) -> Problem:
    """What proofs are made of where cloth is folded here and there: each such marker is one of this, and no longer.

    That is cloth laid open, as all that is folded opens out to it, whichever pieces are cut of it and however deep it
    is. A twin that is wasted is left out. Two pieces may touch where the fold parts them, and no pattern is asked for.
    """
    plain = replace(fabric, gap=mm(0), repeat_along=mm(0), repeat_across=mm(0), width=mm(fabric.width + 2 * UNFOLDED))
    return pared(lay_mix(sets, plain, "open").to_prove, UNFOLDED)


def lay_settled(sets: Sets, rules: LayingRules, fabric: Fabric) -> Problem:
    """As `lay_mix`; of a nap by garment every second garment is turned, and that is all."""
    require_border((piece for pieces, _ in sets for piece in pieces), fabric, rules.spread)
    bands = spread_cloth(fabric, rules.spread, rules.depth, rules.plies)
    repeat = pattern(fabric, rules.spread) if any(piece.match for pieces, _ in sets for piece in pieces) else None
    laying = _Laying(bands, fabric, repeat, rules)
    before = 0
    for pieces, garments in sets:
        for heads, number in fabric.heads(garments, before):
            for piece in pieces:
                laying.add(piece, number, heads)
        before += garments
    return Problem(
        bands,
        tuple(laying.items),
        float(fabric.gap),
        name=fabric.name,
        choices=tuple(laying.choices),
        repeat=repeat,
        border=float(fabric.border) if any(piece.border for pieces, _ in sets for piece in pieces) else 0.0,
        lengths=lengths_of_cloth(rules.spread, rules.plies),
    )


class _Laying:
    """Items and choices of a problem while they are put together."""

    def __init__(self, bands: tuple[Band, ...], fabric: Fabric, repeat: Repeat | None, rules: LayingRules) -> None:
        self.items: list[Item] = []
        self.choices: list[Choice] = []
        self._bands, self._fabric = bands, fabric
        self._waste_twins, self._whole = rules.waste_twins, rules.whole or rules.waste_twins
        numbered = tuple(enumerate(bands))
        self._double = ClothBands(tuple((i, band) for i, band in numbered if band.mirrored), repeat, fabric.growth)
        self._single = ClothBands(tuple((i, band) for i, band in numbered if not band.mirrored), repeat, fabric.growth)
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
        if times and piece.on_fold and self._has_fold and self._whole and not singles:
            self._add_halves(piece, times, ways, heads)
        elif times:
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
        """One item for each hand of a piece in cloth with its right side up, none of them wanted yet.

        What is its own mirror image serves as either hand, but not where a point of it is matched, which may lie aside,
        or an edge of it lies on a border.
        """
        is_pinned = piece.match is not None or bool(self._fabric.border and piece.border)
        items, hands = [], piece.mirrored_pair and (is_pinned or not is_own_twin(piece, heads))
        for mirrored in (False, True) if hands else (False,):
            if self._fabric.border and piece.border:
                ways = border_ways(piece, self._single.bands, self._fabric, (mirrored,))
            else:
                ways = free_ways(piece, piece.unfolded, self._single, (mirrored,), heads)
            name = piece.name + (f" ({'right' if mirrored else 'left'})" if hands else "")
            yields = len(self._single.bands[0][1].plies) if ways else 1
            items += [Item(name, 0, ways, yields=yields, piece=piece)] if ways else []
        return items

    def _add_singles(self, piece: Piece, singles: list[Item], wanted: int) -> None:
        each = wanted // len(singles)
        times, left_over = divmod(each, singles[0].yields)
        if left_over and not self._waste_twins:
            raise SpreadError(
                f"'{piece.name}' is cut {_times(each)}, but this stack cuts {singles[0].yields} at once: change the"
                " number of plies or of garments, or allow waste_twins"
            )
        self.items += [replace(item, quantity=times) for item in singles if times]
        if left_over:
            self.items += [item.wasting(1, left_over) for item in singles]

    def _add_wasteful(
        self, piece: Piece, wanted: int, left_over: int, ways: tuple[Variant, ...], *, has_twins: bool
    ) -> None:
        """Add what is cut double although it is needed once."""
        if not self._waste_twins:
            if piece.on_fold:
                raise NoFoldError(piece.name)
            raise SpreadError(
                f"'{piece.name}' is cut {_times(wanted)}{'' if has_twins else ', all the same way up'}, but folded "
                "cloth cuts a left and a right at once: lay the cloth open, or allow waste_twins"
            )
        plies = self._double.bands[0][1].plies
        each = left_over if has_twins else sum(not ply.hand(ways[0].mirrored) for ply in plies)
        full, rest = divmod(left_over, each)
        item = Item(piece.name, 0, ways, piece=piece)
        self.items += [item.wasting(full, each)] if full else []
        self.items += [item.wasting(1, rest)] if rest else []

    def _add_halves(self, piece: Piece, wanted: int, ways: tuple[Variant, ...], heads: Sequence[float]) -> None:
        """Add halves on a fold; two of them may lie whole in both layers, and the last one with its twin wasted."""
        try:
            whole = free_ways(piece, piece.unfolded, self._double, (False,), heads)
        except SpreadError:  # off the pattern
            whole = ()
        pairs, last = divmod(wanted, 2) if whole else (0, wanted)
        half, first = Item(piece.name, 0, ways, piece=piece), len(self.items)
        if pairs:
            self.items += [Item(piece.name, pairs, whole, yields=2, piece=piece), half]
            self.choices.append(Choice(first, (first + 1, first + 1)))
        first = len(self.items)
        self.items += [replace(half, quantity=last)] if last else []
        if last and whole and self._waste_twins:
            self.items.append(Item(piece.name, 0, whole, piece=piece).wasting(0, 1))
            self.choices.append(Choice(first, (first + 1,)))

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


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"
