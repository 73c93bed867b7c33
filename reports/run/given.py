"""Rolls that the order gives: they are there already, so that only plies without a roll are still to be bought."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.money.lengths import write_left

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.units import Units
    from reports.run.buying import ToBuy
    from reports.run.plan import RunPlan


@dataclass(frozen=True)
class GivenRolls:
    """Rolls of a cloth: how many, their length, mm, and how many of the plies they give.

    Parameters
    ----------
    rest
        What is still to buy; None: nothing.
    """

    what: str
    part: str
    rolls: int
    length: float
    plies: int
    held: int
    rest: ToBuy | None

    def words(self, units: Units) -> str:
        """What there is, and what is short."""
        told = f"{self.rolls} {'roll' if self.rolls == 1 else 'rolls'}, {write_left(self.length, units)}"
        if self.rest is None:
            return f"You have {self.what}: {told}. Nothing to buy of it."
        cost = "" if self.rest.cost is None else f" for {self.rest.cost:.2f}"
        buy = f"Still to buy: {self.rest.quantity}{cost}"
        if not self.held:
            return f"You have {self.what}: {told}, but no ply was found to go on them. {buy}."
        return f"You have part of {self.what}: {told}; {self.held} of {self.plies} plies have a roll. {buy}."


def given_rolls(run: RunPlan) -> Iterator[GivenRolls]:
    """The rolls that the order gives, cloth by cloth."""
    rest = iter(run.rest)
    for plan in run.lots:
        for key, cloth in plan.lot.cloths.items():
            own = next(rest)
            if key in plan.rolls:
                rolls, plies = plan.rolls[key], len(plan.plies(key))
                length, held = sum(rolls.rolls), plies - len(rolls.missing)
                yield GivenRolls(cloth.name, cloth.part, len(rolls.rolls), length, plies, held, own)


def given_lines(run: RunPlan) -> Iterator[str]:
    """What is said of them."""
    yield from (one.words(run.order.written_in) for one in given_rolls(run))
