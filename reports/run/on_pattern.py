"""Rolls of patterned cloth: plies begin whole repeats apart, and each stretch between flaws loses some at its start."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.errors import CheckError
from nesting.lays.roll_stock import RollStock, assign_stock, check_stock
from nesting.lays.rolls import EFFORT, RollCut, RollPlan, fewest_by_length
from nesting.steps import Stop, never
from reports.money.yardage import whole_repeats

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

NEAR = 1e-6
EXACT = 0.01
"""Millimetres that two sums of the same lengths may differ by."""


def lost_at_start(plies: Sequence[float], repeat: float) -> float:
    """What each stretch loses beyond whole repeats: up to a repeat before its first ply.

    What its last ply leaves of a repeat no stretch needs to hold: the least of that is given back.
    """
    return repeat - min(whole_repeats(ply, repeat) - ply for ply in plies)


@dataclass(frozen=True)
class PatternPlies:
    """Plies on a pattern along the cloth.

    Parameters
    ----------
    lengths, repeat
        Of each ply, and of the pattern, mm.
    lots, needs
        The shade lot that each ply comes from, and how wide a roll it takes, mm.
    splice
        What is laid double where a ply is pieced, mm; 0: plies are cut whole.
    """

    lengths: Sequence[float]
    repeat: float
    lots: Sequence[str]
    needs: Sequence[float]
    splice: float = 0.0


def shortened(stock: Sequence[RollStock], lost: float) -> list[RollStock]:
    """Rolls whose stretches without a flaw begin so much later, mm."""
    return [replace(roll, flaws=tuple(_lost(roll, lost))) for roll in stock]


def _lost(roll: RollStock, lost: float) -> Iterator[tuple[float, float]]:
    """What cannot be cut of a roll: each flaw, and what is lost behind it."""
    before, flaws = 0.0, [(0.0, 0.0), *sorted(roll.flaws)]
    for at, length in flaws:
        end = min(roll.length, at + length + lost)
        begins = max(at, before)
        if end - begins > NEAR:
            yield begins, end - begins
        before = max(before, end)


def rolls_on_pattern(
    plies: PatternPlies, stock: Sequence[RollStock], *, effort: float = EFFORT, stop: Stop = never
) -> RollPlan:
    """Which ply is cut from which roll of patterned cloth, and where on it.

    What is lost before the first ply of a stretch counts as cut with it, and a splice takes a repeat more.

    Parameters
    ----------
    effort, stop
        As of `assign_stock`.
    """
    repeat, lost = plies.repeat, lost_at_start(plies.lengths, plies.repeat)
    laid, rolls = [whole_repeats(ply, repeat) for ply in plies.lengths], shortened(stock, lost)
    splice = plies.splice + repeat if plies.splice else None
    found = assign_stock(laid, rolls, lots=plies.lots, needs=plies.needs, splice=splice, effort=effort, stop=stop)
    cuts, ends = list[RollCut](), list[tuple[int, float, float]]()
    for roll, one in enumerate(stock):
        for start, length in one.sections():
            own = [cut for cut in found.cuts if cut.roll == roll and start - NEAR <= cut.at < start + length]
            end = start
            for cut in sorted(own, key=lambda cut: cut.at):
                first = replace(cut, length=cut.length + cut.at - start, at=start)
                cuts.append(first if end == start else cut)
                end = cut.at + cut.length
            if start + length - end > NEAR:
                ends.append((roll, end, start + length - end))
    flawed = tuple(sum(length for _, length in one.flaws) for one in stock)
    lengths = [one.length for one in stock]
    there = sum(lengths) - sum(flawed)
    return replace(
        found,
        cuts=tuple(cuts),
        bound=min(found.bound, fewest_by_length(plies.lengths, lengths)),
        longest=False,
        impossible=found.impossible and sum(plies.lengths) > there,
        flawed=flawed,
        ends=tuple(ends),
    )


def check_on_pattern(plan: RollPlan, plies: PatternPlies, stock: Sequence[RollStock]) -> None:
    """Make sure that every ply can begin on the pattern, wherever on a repeat a stretch begins.

    Raises
    ------
    CheckError
        At the first thing that is wrong.
    """
    check_stock(plan, stock, plies.lots, plies.needs)
    repeat, spliced = plies.repeat, plies.splice + plies.repeat
    parts: dict[int, list[RollCut]] = defaultdict(list)
    for cut in plan.cuts:
        parts[cut.ply].append(cut)
    for ply, length in enumerate(plies.lengths):
        own = parts.get(ply, [])
        if bool(own) == (ply in plan.missing):
            raise CheckError(f"ply {ply + 1} is cut, and is missing as well, or neither")
        if own and sum(cut.length for cut in own) < length + (len(own) - 1) * spliced - EXACT:
            raise CheckError(f"ply {ply + 1} of {length:.1f} mm is given less, in {len(own)} parts")
    for roll, one in enumerate(stock):
        for start, length in one.sections():
            there = sorted((c for c in plan.cuts if c.roll == roll and start - EXACT <= c.at < start + length), key=_at)
            whole = [plies.lengths[cut.ply] for cut in there if len(parts[cut.ply]) == 1]
            if whole and len(whole) == len(there):
                taken = repeat + sum(whole_repeats(ply, repeat) for ply in whole[:-1]) + whole[-1]
                if taken > length + EXACT:
                    raise CheckError(
                        f"roll {roll + 1} gives {length:.1f} mm, and plies on its pattern take {taken:.1f}"
                    )


def _at(cut: RollCut) -> float:
    return cut.at
