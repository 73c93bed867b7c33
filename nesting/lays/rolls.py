"""Which ply is cut from which roll, so that none is cut short: the fewest rolls opened, then the longest remnant.

Without splices that is cutting stock. With them, plies that find no roll are pieced of what is left of the rolls, or
all plies are cut one after another, from the longest roll on.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.errors import CheckError, LayPlanError
from nesting.lays.roll_fit import deal
from nesting.lays.roll_model import Assigned, RollTask
from nesting.steps import Stop, ceil_steps, common_step, floor_steps, never

if TYPE_CHECKING:
    from collections.abc import Sequence

EFFORT = 5.0
"""How long to look, in units of 1 to 4 seconds on a common machine."""
FINEST = 0.1
"""What lengths are rounded to at the finest, mm: plies up, rolls down."""


@dataclass(frozen=True)
class RollCut:
    """A length cut from a roll: a whole ply, or a part of one that is spliced. Rolls and plies are counted from 0.

    `at` is where it begins on the roll, mm, once that is settled.
    """

    roll: int
    ply: int
    length: float
    at: float = 0.0


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
        Plies for which no roll was found.
    impossible
        Whether it is proved that these rolls cannot give all plies.
    flawed
        What is cut out of each roll, mm; none: nothing.
    ends
        What is left in one piece: the roll, where it begins, and its length, mm. Rolls not opened are among them.
    """

    rolls: tuple[float, ...]
    cuts: tuple[RollCut, ...]
    bound: int
    longest: bool
    missing: tuple[int, ...] = ()
    impossible: bool = False
    flawed: tuple[float, ...] = ()
    ends: tuple[tuple[int, float, float], ...] = ()

    @property
    def remnants(self) -> dict[int, float]:
        """What is left of each roll that is opened, mm."""
        used: dict[int, float] = defaultdict(float)
        for cut in self.cuts:
            used[cut.roll] += cut.length
        lost = self.flawed or (0.0,) * len(self.rolls)
        return {roll: max(0.0, self.rolls[roll] - lost[roll] - length) for roll, length in sorted(used.items())}

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
    plies: Sequence[float],
    rolls: Sequence[float],
    *,
    splice: float | None = None,
    effort: float = EFFORT,
    stop: Stop = never,
) -> RollPlan:
    """Say which ply is cut from which roll.

    Plies for which there is no roll are named in the plan: that they are missing is no error. What is not found may yet
    be possible, unless the plan says that it is proved impossible.

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
    stop
        Asked now and then whether to end early: then plies lie as they are dealt out by then.

    Raises
    ------
    LayPlanError
        If there are no plies, or lengths make no sense.
    """
    _require(plies, rolls, splice)
    step = max(FINEST, common_step([*plies, *rolls], least=FINEST))
    task = RollTask([ceil_steps(ply, step) for ply in plies], [floor_steps(roll, step) for roll in rolls], stop)
    dealt = deal(plies, rolls)
    whole = _proved(task.assign(effort, dealt), plies, rolls, step, effort, stop)
    lacking = tuple(ply for ply, roll in enumerate(whole.dealt) if roll is None)
    fewest, short = fewest_by_length(plies, rolls), sum(plies) - sum(rolls) > 1e-6
    cuts = [RollCut(roll, ply, plies[ply]) for ply, roll in enumerate(whole.dealt) if roll is not None]
    if splice is None:
        return RollPlan(tuple(rolls), _in_order(cuts), whole.fewest, whole.longest, lacking, short or whole.impossible)
    longest = sorted(range(len(rolls)), key=lambda roll: -rolls[roll])
    opened = sorted(longest, key=lambda roll: roll not in whole.dealt)
    ways = [(cuts, lacking), _pieced(plies, rolls, longest, splice), _pieced(plies, rolls, opened, splice, cuts)]
    plans = [
        RollPlan(tuple(rolls), _in_order(own), fewest, whole.longest and own is cuts, left, short and bool(left))
        for own, left in ways
    ]
    return min(plans, key=lambda plan: (sum(plies[ply] for ply in plan.missing), plan.opened, plan.splices))


def check_rolls(plan: RollPlan, plies: Sequence[float], *, splice: float | None = None) -> None:
    """Make sure that each ply is cut whole, or pieced with a splice at each place, and no roll gives more than it has.

    Raises
    ------
    CheckError
        At the first thing that is wrong.
    """
    given: dict[int, list[float]] = defaultdict(list)
    cut: dict[int, float] = defaultdict(float)
    for one in plan.cuts:
        given[one.ply].append(one.length)
        cut[one.roll] += one.length
    for roll, length in cut.items():
        if not 0 <= roll < len(plan.rolls) or length > plan.rolls[roll] + 0.01:
            raise CheckError(f"roll {roll + 1} does not give {length:.1f} mm")
    for ply, length in enumerate(plies):
        parts = given.get(ply, [])
        if bool(parts) == (ply in plan.missing):
            raise CheckError(f"ply {ply + 1} is cut, and is missing as well, or neither")
        if parts and abs(sum(parts) - length - (len(parts) - 1) * (splice or 0.0)) > 0.01:
            raise CheckError(f"ply {ply + 1} of {length:.1f} mm is given {sum(parts):.1f} mm in {len(parts)} parts")


def _in_order(cuts: Sequence[RollCut]) -> tuple[RollCut, ...]:
    return tuple(sorted(cuts, key=lambda cut: (cut.roll, cut.ply)))


def _proved(
    whole: Assigned, plies: Sequence[float], rolls: Sequence[float], step: float, effort: float, stop: Stop
) -> Assigned:
    """What holds of the true lengths too: a proof needs plies that are rounded down to steps, and rolls up."""
    fewest = fewest_by_length(plies, rolls)
    if not whole.impossible and whole.fewest <= fewest:
        return whole
    low = [floor_steps(ply, step) for ply in plies], [ceil_steps(roll, step) for roll in rolls]
    if low == ([ceil_steps(ply, step) for ply in plies], [floor_steps(roll, step) for roll in rolls]):
        return whole
    other = RollTask(*low, stop).assign(effort, deal(*low))
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


def _pieced(
    plies: Sequence[float],
    rolls: Sequence[float],
    order: Sequence[int],
    splice: float,
    cuts: Sequence[RollCut] = (),
) -> tuple[list[RollCut], tuple[int, ...]]:
    """Plies that are not cut yet, cut one after another, pieced where a roll ends; and those with no cloth left.

    Parameters
    ----------
    order
        In which the rolls are cut.
    cuts
        What is cut already.
    """
    cuts, missing, done = list(cuts), list[int](), {cut.ply for cut in cuts}
    left = {roll: rolls[roll] - sum(cut.length for cut in cuts if cut.roll == roll) for roll in order}
    for ply, length in enumerate(plies):
        if ply in done:
            continue
        parts, needed = list[RollCut](), length
        for roll in order:
            if left[roll] >= needed - 1e-6:
                parts.append(RollCut(roll, ply, needed))
                break
            if left[roll] > splice:
                parts.append(RollCut(roll, ply, left[roll]))
                needed += splice - left[roll]
        else:
            missing.append(ply)
            continue
        for part in parts:
            left[part.roll] -= part.length
        cuts += parts
    return cuts, tuple(missing)
