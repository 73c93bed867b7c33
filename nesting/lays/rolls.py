"""Which ply is cut from which roll, so that none is cut short: the fewest rolls opened, then the longest remnant.

Without splices that is cutting stock; with them, plies are cut one after another, from the longest roll on.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.errors import LayPlanError
from nesting.lays.roll_fit import count_opened, deal
from nesting.lays.roll_model import Assigned, RollTask
from nesting.steps import ceil_steps, common_step, floor_steps
from pieces.units import YARD

if TYPE_CHECKING:
    from collections.abc import Sequence

EFFORT = 5.0
"""How long to look, in units of 1 to 4 seconds on a common machine."""
FINEST = 0.1
"""What lengths are rounded to at the finest, mm: plies up, rolls down."""


@dataclass(frozen=True)
class RollCut:
    """A length cut from a roll: a whole ply, or a part of one that is spliced. Rolls and plies are counted from 0."""

    roll: int
    ply: int
    length: float


@dataclass(frozen=True)
class RollPlan:
    """Plies cut from rolls.

    Parameters
    ----------
    rolls
        Lengths of all rolls, mm.
    cuts
        What is cut, roll by roll in the order of cutting.
    bound
        Rolls that are opened at the least.
    longest
        Whether, with so many rolls opened, no other plan leaves a longer remnant in one piece.
    missing
        Plies for which no roll was found, though it is not proved that there is none.
    """

    rolls: tuple[float, ...]
    cuts: tuple[RollCut, ...]
    bound: int
    longest: bool
    missing: tuple[int, ...] = ()

    @property
    def remnants(self) -> dict[int, float]:
        """What is left of each roll that is opened, mm."""
        used: dict[int, float] = defaultdict(float)
        for cut in self.cuts:
            used[cut.roll] += cut.length
        return {roll: max(0.0, self.rolls[roll] - length) for roll, length in sorted(used.items())}

    @property
    def opened(self) -> int:
        """Rolls that are cut from."""
        return len({cut.roll for cut in self.cuts})

    @property
    def splices(self) -> int:
        """Places where a ply is pieced from two rolls."""
        return len(self.cuts) - len({cut.ply for cut in self.cuts})

    @property
    def optimal(self) -> bool:
        """Whether fewer rolls cannot do."""
        return not self.missing and self.opened == self.bound


def assign_rolls(
    plies: Sequence[float], rolls: Sequence[float], *, splice: float | None = None, effort: float = EFFORT
) -> RollPlan:
    """Say which ply is cut from which roll.

    Parameters
    ----------
    plies
        Length of each ply, its ends included, mm.
    rolls
        Length of each roll, mm.
    splice
        What is laid double where a ply is pieced from two rolls, mm: up to the next place of the marker where that may
        be. None: plies are cut whole.
    effort
        How long to look, in units of 1 to 4 seconds.

    Raises
    ------
    LayPlanError
        If it is proved that the rolls do not suffice; it says what is missing. What is only not found is no error: the
        plan then names the plies that are missing.
    """
    _require(plies, rolls, splice)
    step = max(FINEST, common_step([*plies, *rolls], least=FINEST))
    task = RollTask([ceil_steps(ply, step) for ply in plies], [floor_steps(roll, step) for roll in rolls])
    dealt = deal(plies, rolls)
    whole = _proved(task.assign(effort, dealt), plies, rolls, step, effort)
    lacking = tuple(ply for ply, roll in enumerate(whole.dealt) if roll is None)
    joined = None if splice is None else _pieced(plies, rolls, splice)
    fewest = fewest_by_length(plies, rolls)
    if joined is not None and (lacking or len({cut.roll for cut in joined}) < count_opened(whole.dealt)):
        return RollPlan(tuple(rolls), tuple(joined), fewest, longest=False)
    if whole.impossible and splice is None:
        raise LayPlanError(_why_not(plies, rolls, lacking))
    cuts = (RollCut(roll, ply, plies[ply]) for ply, roll in enumerate(whole.dealt) if roll is not None)
    bound = whole.fewest if splice is None else fewest
    return RollPlan(tuple(rolls), tuple(sorted(cuts, key=lambda c: (c.roll, c.ply))), bound, whole.longest, lacking)


def _proved(whole: Assigned, plies: Sequence[float], rolls: Sequence[float], step: float, effort: float) -> Assigned:
    """What holds of the true lengths too: a proof needs plies that are rounded down to steps, and rolls up."""
    fewest = fewest_by_length(plies, rolls)
    if not whole.impossible and whole.fewest <= fewest:
        return whole
    low = [floor_steps(ply, step) for ply in plies], [ceil_steps(roll, step) for roll in rolls]
    if low == ([ceil_steps(ply, step) for ply in plies], [floor_steps(roll, step) for roll in rolls]):
        return whole
    other = RollTask(*low).assign(effort, deal(*low))
    return whole._replace(fewest=min(whole.fewest, other.fewest), impossible=other.impossible)


def fewest_by_length(plies: Sequence[float], rolls: Sequence[float]) -> int:
    """Rolls that hold enough cloth, whatever is cut from which."""
    need, held = sum(plies), 0.0
    for number, roll in enumerate(sorted(rolls, reverse=True), 1):
        held += roll
        if held >= need - 1e-6:
            return number
    return len(rolls)


def _require(plies: Sequence[float], rolls: Sequence[float], splice: float | None) -> None:
    for name, lengths in (("ply", plies), ("roll", rolls)):
        if not all(length > 0 for length in lengths):
            raise LayPlanError(f"a {name} needs a length of more than 0, got {min(lengths):g} mm: measure it")
    if not plies:
        raise LayPlanError("there are no plies to cut: give the length of each")
    if splice is not None and not splice >= 0:
        raise LayPlanError(f"a splice is laid double over 0 mm or more, got {splice:g}")
    missing = sum(plies) - sum(rolls)
    if missing > 1e-6:
        raise LayPlanError(
            f"the plies take {_cloth(sum(plies))}, but the rolls hold {_cloth(sum(rolls))}: {_cloth(missing)} is "
            "missing; get more cloth, or cut fewer plies"
        )


def _pieced(plies: Sequence[float], rolls: Sequence[float], splice: float) -> list[RollCut] | None:
    """Plies cut one after another from the longest rolls, pieced where a roll ends; None where they do not suffice."""
    cuts: list[RollCut] = []
    order = sorted(range(len(rolls)), key=lambda roll: -rolls[roll])
    at, left = 0, rolls[order[0]]
    for ply, length in enumerate(plies):
        missing = length
        while missing > left + 1e-6:
            if left > splice:
                cuts.append(RollCut(order[at], ply, left))
                missing += splice - left
            at += 1
            if at == len(order):
                return None
            left = rolls[order[at]]
        cuts.append(RollCut(order[at], ply, missing))
        left -= missing
    return cuts


def _why_not(plies: Sequence[float], rolls: Sequence[float], lacking: Sequence[int]) -> str:
    """That whole plies cannot all be cut, which is proved, and what the best plan found leaves without a roll."""
    left = sum(plies[ply] for ply in lacking)
    return (
        f"the rolls hold {_cloth(sum(rolls))}, but the plies, {_cloth(sum(plies))} together, cannot all be cut whole "
        f"(proved): in the best way found, {_cloth(left)} has no roll; get another roll, or allow splices"
    )


def _cloth(mm: float) -> str:
    """A length of cloth on rolls: ``12.50 m (13.67 yd)``."""
    return f"{mm / 1000:.2f} m ({mm / YARD:.2f} yd)"
