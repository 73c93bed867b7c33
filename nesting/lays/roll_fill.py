"""Plies dealt out so that each roll is cut as far as can be: after subset sums, then by exchange among a few rolls.

Each roll in turn takes the longest ply that is left, and of the others those that fill it best (after the minimum bin
slack of Gupta and Ho, 1999). What then has no roll is worked in by filling two to four rolls anew. A plan that is not
found here may exist.
"""

from __future__ import annotations

import random
from collections import Counter
from typing import TYPE_CHECKING

from nesting.steps import Stop, never

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

WORK = 40_000
"""Plies looked at in one unit of effort: a fraction of a second."""
WIDE = 20_000
"""Looking at a ply costs once more for so many steps of its roll."""

Plies = Counter[int]
"""How many plies of each length, in whole steps."""


class Filling:
    """Rolls that are being filled, in whole steps: what each gives, and the plies that have none."""

    def __init__(self, plies: Iterable[int], rolls: Sequence[int]) -> None:
        self.rolls, self.given, self.left, self.work = rolls, list[Plies](), Counter(plies), 0
        for roll in rolls:
            first = max((ply for ply in self.left if ply <= roll), default=0)
            given: Plies = Counter([first] if first else [])
            self.left -= given
            given += self._fullest(self.left, roll - first, sorted(self.left, reverse=True))
            self.left -= given - Counter([first] if first else [])
            self.given.append(given)

    def exchange(self, effort: float, stop: Stop = never) -> None:
        """Fill some rolls anew, together with what has no roll, until all has one, or the effort is spent."""
        chance, most = random.Random(1), self.work + effort * WORK
        while self.left and self.rolls and self.work < most and not stop():
            chosen = chance.sample(range(len(self.rolls)), min(len(self.rolls), chance.choice((2, 3, 4))))
            pool = sum((self.given[at] for at in chosen), self.left)
            found = []
            for at in chosen:
                order = sorted(pool, reverse=True)
                if chance.random() < 0.5:
                    chance.shuffle(order)
                found.append(self._fullest(pool, self.rolls[at], order))
                pool -= found[-1]
            if self._rating(chosen, found, pool) <= self._rating(chosen, [self.given[at] for at in chosen], self.left):
                self.left = pool
                for at, given in zip(chosen, found, strict=True):
                    self.given[at] = given

    def _rating(self, chosen: Sequence[int], given: Sequence[Plies], left: Plies) -> tuple[int, int]:
        """The less the better: what has no roll, then remnants that are small and many."""
        ends = (self.rolls[at] - _length(own) for at, own in zip(chosen, given, strict=True))
        return _length(left), -sum(end * end for end in ends)

    def _fullest(self, plies: Plies, room: int, order: Sequence[int]) -> Plies:
        """Plies that fill a room best, as many as can be of those that come first.

        Bit n of a number says whether some of the plies looked at so far fill n steps.
        """
        inside, reached, looked_at = (1 << (room + 1)) - 1, 1, list[tuple[int, int, int]]()
        for ply in reversed(order):
            number, times = min(plies[ply], room // ply), 1
            while number > 0:
                taken = min(times, number)
                looked_at.append((ply, taken, reached))
                reached |= (reached << (ply * taken)) & inside
                number, times = number - taken, 2 * times
        self.work += (1 + len(looked_at)) * (1 + room // WIDE)
        at, found = reached.bit_length() - 1, Counter[int]()
        for ply, taken, before in reversed(looked_at):
            if at >= ply * taken and before >> (at - ply * taken) & 1:
                found[ply] += taken
                at -= ply * taken
        return found


def _length(plies: Plies) -> int:
    return sum(ply * number for ply, number in plies.items())
