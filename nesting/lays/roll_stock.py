"""Rolls as they lie on the shelf: their shade lots, widths and flaws; and which lot each lay is cut from.

All plies of a lay that are of one cloth come from one lot, so that every garment does; where no lot holds them, the
lay is parted into lays of the same marker. A flaw is cut out: no ply lies over it, so that a roll is as good as the
sections between its flaws.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.errors import CheckError, LayPlanError
from nesting.lays.roll_fit import deal
from nesting.lays.rolls import EFFORT, RollCut, RollPlan, assign_rolls
from nesting.steps import Stop, never
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

TRIES = 30
"""Orders in which lays are given to lots."""


@dataclass(frozen=True)
class RollStock:
    """A roll.

    Parameters
    ----------
    length
        Of all of it, mm.
    lot
        Its shade lot: rolls of one lot may be cut for one garment.
    width
        Selvedges included, mm.
    flaws
        Where each begins, and how long it is, mm.
    """

    length: float
    lot: str = ""
    width: float = math.inf
    flaws: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        before = 0.0
        for at, length in sorted(self.flaws):
            if at < before or length <= 0 or at + length > self.length + 1e-6:
                raise LayPlanError(
                    f"a flaw of {format_both(length)} at {format_both(at)} is not on a roll of"
                    f" {format_both(self.length)}, or lies over another: say where it begins, and how long it is"
                )
            before = at + length

    def sections(self) -> Iterator[tuple[float, float]]:
        """Where each stretch without a flaw begins, and how long it is, mm."""
        before = 0.0
        for at, length in sorted(self.flaws):
            if at > before:
                yield before, at - before
            before = at + length
        if self.length - before > 1e-6:
            yield before, self.length - before


@dataclass(frozen=True)
class PlyGroup:
    """Plies of one cloth in one lay: how many, how long each is, and how wide a roll it takes, mm."""

    number: int
    length: float
    need: float = 0.0


Parts = list[tuple[str, int]]
"""The lots of a group, and how many plies come from each."""


def parts_of(groups: Sequence[PlyGroup], stock: Sequence[RollStock]) -> list[Parts]:
    """The lot of each group of plies; of several lots only where none was found to hold all of it.

    Plies for which no roll was found count to the lot that they are named with last.
    """
    lots = list(dict.fromkeys(roll.lot for roll in stock))
    if len(lots) == 1:
        return [[(lots[0], group.number)] for group in groups]
    chance, order = random.Random(1), sorted(range(len(groups)), key=lambda at: -groups[at].number * groups[at].length)
    found, best = [], (math.inf, math.inf)
    for _ in range(TRIES):
        parts, lacking = _given(groups, stock, lots, order)
        rating = lacking, float(sum(map(len, parts)))
        if rating < best:
            found, best = parts, rating
        if best == (0.0, float(len(groups))):
            break
        chance.shuffle(order)
    return found


def _given(
    groups: Sequence[PlyGroup], stock: Sequence[RollStock], lots: Sequence[str], order: Sequence[int]
) -> tuple[list[Parts], float]:
    """Groups given to lots one after another, and the length of plies that found no roll."""
    held: dict[str, list[PlyGroup]] = {lot: [] for lot in lots}
    cloth = {lot: sum(roll.length for roll in stock if roll.lot == lot) for lot in lots}
    parts: list[Parts] = [[] for _ in groups]
    lacking = 0.0
    for at in order:
        group, left = groups[at], groups[at].number
        while left:
            used = {lot: sum(own.number * own.length for own in held[lot]) for lot in lots}
            most = {lot: _most(held[lot], replace(group, number=left), stock, lot) for lot in lots}
            whole = [lot for lot in lots if most[lot] == left]
            lot = min(whole or lots, key=lambda lot: (-most[lot], cloth[lot] - used[lot]))
            number = most[lot]
            if not number:  # it has no roll anywhere
                lot, number = parts[at][-1][0] if parts[at] else lot, left
                lacking += left * group.length
            else:
                held[lot].append(replace(group, number=number))
            parts[at] = _added(parts[at], lot, number)
            left -= number
    return parts, lacking


def _added(parts: Parts, lot: str, number: int) -> Parts:
    if parts and parts[-1][0] == lot:
        return [*parts[:-1], (lot, parts[-1][1] + number)]
    return [*parts, (lot, number)]


def _most(held: Sequence[PlyGroup], group: PlyGroup, stock: Sequence[RollStock], lot: str) -> int:
    """Most plies of a group that a lot takes besides what it holds."""
    low, high = 0, group.number
    while low < high:
        middle = (low + high + 1) // 2
        if _holds([*held, replace(group, number=middle)], stock, lot):
            low = middle
        else:
            high = middle - 1
    return low


def _holds(groups: Sequence[PlyGroup], stock: Sequence[RollStock], lot: str) -> bool:
    """Whether plain rules find a roll of a lot for every ply, those that need the widest roll first."""
    sections = [[roll.width, length] for roll in stock if roll.lot == lot for _, length in roll.sections()]
    for need in sorted({group.need for group in groups}, reverse=True):
        plies = [group.length for group in groups if group.need == need for _ in range(group.number)]
        wide = [section for section in sections if section[0] >= need - 1e-6]
        dealt = deal(plies, [section[1] for section in wide])
        for ply, at in zip(plies, dealt, strict=True):
            if at is None:
                return False
            wide[at][1] -= ply
    return True


def assign_stock(
    plies: Sequence[float],
    stock: Sequence[RollStock],
    *,
    lots: Sequence[str] | None = None,
    needs: Sequence[float] | None = None,
    splice: float | None = None,
    effort: float = EFFORT,
    stop: Stop = never,
) -> RollPlan:
    """Which ply is cut from which roll, and where on it, when rolls have shade lots, widths and flaws.

    Parameters
    ----------
    plies, splice, effort, stop
        As of `assign_rolls`.
    lots, needs
        The lot that each ply comes from, and how wide a roll it takes, mm; none: any.
    """
    lots = lots or [stock[0].lot if len({roll.lot for roll in stock}) == 1 else ""] * len(plies)
    needs = [_least_width(stock, need) for need in needs or [0.0] * len(plies)]
    sections = [(at, start, length) for at, roll in enumerate(stock) for start, length in roll.sections()]
    left, cuts, missing = [length for _, _, length in sections], list[RollCut](), list[int]()
    longest, impossible, bound = True, False, 0
    for lot, need in sorted(set(zip(lots, needs, strict=True)), key=lambda one: (one[0], -one[1])):
        own = [at for at, one in enumerate(zip(lots, needs, strict=True)) if one == (lot, need)]
        there = [
            at
            for at, (roll, _, _) in enumerate(sections)
            if stock[roll].lot == lot and stock[roll].width >= need - 1e-6 and left[at] > 1e-6
        ]
        if not there:
            missing += own
            continue
        some, rolls = [plies[at] for at in own], [left[at] for at in there]
        found = assign_rolls(some, rolls, splice=splice, effort=effort, stop=stop)
        longest, impossible, bound = found.longest, found.impossible, max(bound, found.bound)
        missing += [own[ply] for ply in found.missing]
        for cut in found.cuts:
            at = there[cut.roll]
            roll, start, length = sections[at]
            cuts.append(RollCut(roll, own[cut.ply], cut.length, start + length - left[at]))
            left[at] -= cut.length
    ends = tuple((roll, start + length - left[at], left[at]) for at, (roll, start, length) in enumerate(sections))
    # What is proved of one lot is not of all rolls: another division of the plies among lots may do.
    is_one = len(set(zip(lots, needs, strict=True))) == 1 and len({roll.lot for roll in stock}) == 1
    is_plain = is_one and len(sections) == len(stock)
    every = sum(plies) - sum(length for _, _, length in sections) > 1e-6
    return RollPlan(
        tuple(roll.length for roll in stock),
        tuple(sorted(cuts, key=lambda cut: (cut.roll, cut.at))),
        bound if is_plain else 1,
        longest and is_plain,
        tuple(sorted(missing)),
        bool(missing) and (every or (impossible and is_one)),
        tuple(sum(length for _, length in roll.flaws) for roll in stock),
        tuple(end for end in ends if end[2] > 1e-6),
    )


def _least_width(stock: Sequence[RollStock], need: float) -> float:
    """The narrowest width of a roll that will do: needs that the same rolls answer are one."""
    return min((roll.width for roll in stock if roll.width >= need - 1e-6), default=math.inf)


def check_stock(plan: RollPlan, stock: Sequence[RollStock], lots: Sequence[str], needs: Sequence[float]) -> None:
    """Make sure that no cut lies over a flaw or another cut, and each ply is of its lot and on a roll wide enough.

    Raises
    ------
    CheckError
        At the first thing that is wrong.
    """
    taken: dict[int, list[tuple[float, float, str]]] = {
        roll: [(at, at + length, "a flaw") for at, length in one.flaws] for roll, one in enumerate(stock)
    }
    for cut in plan.cuts:
        own = stock[cut.roll]
        if own.lot != lots[cut.ply] or own.width < needs[cut.ply] - 0.01:
            raise CheckError(f"ply {cut.ply + 1} is cut of roll {cut.roll + 1}: another lot, or too narrow")
        taken[cut.roll].append((cut.at, cut.at + cut.length, f"ply {cut.ply + 1}"))
    for roll, places in taken.items():
        end, before = 0.0, "its start"
        for low, high, name in sorted(places):
            if low < end - 0.01 or high > stock[roll].length + 0.01:
                raise CheckError(f"on roll {roll + 1} {name} lies over {before}, or past its end")
            end, before = high, name
