"""How often each bay is cut: prices lead to bays worth more than they cost, then whole numbers of them are chosen.

The linear program and its bays are column generation (Gilmore and Gomory, 1961). Most of its mix is cut as it is, in
whole numbers; of what is left CP-SAT chooses, first for the least rib, then for the fewest joins.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.rib.many.bays import Bay, BaySearch, simple_bays
from nesting.rib.many.program import ColumnProgram
from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray
    from ortools.sat.python import cp_model

    from nesting.rib.task import RibTask

JOIN_COST, GAIN = 1e-4, 1e-6
"""What a join costs, in rows, and what a bay must be worth more than it costs."""

MOST_ROUNDS, PATIENCE, GAIN_WORTH = 300, 6, 1e-4
"""Rounds of column generation at each fineness, rounds without a gain, and the share that is one."""

CLOSE = 5e-4
"""A mix within this share of the bound is near enough to it."""

NEAR_ENOUGH = {30_000: CLOSE, 300_000: 0.01, 1_000_000: 1.0}
"""Ways for rows to begin and end that are looked at for each depth, and within what share of the bound they will do."""

MOST_STRIPS = 300
"""Ways to fill a strip with rows that are listed."""

FAVOURS = (0.0, 0.3)
"""How much dearer wide bands are where bays are cut one after the other."""

NEAR = 0.02
"""Bays are offered to CP-SAT which cost this share more than they are worth, at the most."""

MOST_OFFERED = 400


@dataclass(frozen=True)
class BayChoice:
    """Bays and how often each is cut; strips, as the depths of the rows in each."""

    bays: tuple[tuple[Bay, int], ...]
    strips: tuple[tuple[int, ...], ...]


class BayProgram:
    """The mix of bays that takes least rib.

    Parameters
    ----------
    task
        What is wanted.
    depths
        Of the bays that may be cut, steps.
    most_work
        Cells looked at, at the most.
    """

    def __init__(self, task: RibTask, depths: Sequence[int], most_work: int) -> None:
        self.task, self.depths, self.most_work = task, list(depths), most_work
        self.kinds = len(task.kinds)
        self.whole = task.strip_depth or max(depths)
        self.searches: list[BaySearch] = []
        self.coarse: list[BaySearch] = []
        self.strips = list(strip_patterns(self.depths, task.strip_depth)) if task.strip_depth else []
        self.bays: dict[Bay, None] = {}
        self.amounts: NDArray[np.float64] = np.zeros(0)
        wanted = np.array([kind.count for kind in task.kinds] + [0.0] * len(self.depths), dtype=np.float64)
        self.program = ColumnProgram(wanted)
        for held in self.strips:
            self.program.add(
                1.0, {self.kinds + at: float(held.count(d)) for at, d in enumerate(self.depths) if d in held}
            )
        if not self.strips:
            for at, depth in enumerate(self.depths):
                self.program.add(depth / self.whole, {self.kinds + at: 1.0})
        self.first = self.program.number
        for bay in simple_bays(task, self.depths):
            self.add(bay)

    @property
    def work(self) -> int:
        """Cells looked at so far."""
        return sum(search.work for search in {*self.coarse, *self.searches})

    def add(self, bay: Bay) -> bool:
        """Offer a bay; whether it is new."""
        if bay in self.bays:
            return False
        self.bays[bay] = None
        gives: dict[int, float] = {k: float(n * bay.above(self.task, k)) for k, n in bay.columns().items()}
        gives[self.kinds + self.depths.index(bay.depth)] = -float(len(bay.rows))
        self.program.add(JOIN_COST * bay.joins(self.task), gives)
        return True

    def mix(self, least: float, shares: NDArray[np.float64]) -> NDArray[np.float64]:
        """How often each bay is cut in the best mix found.

        Parameters
        ----------
        least
            Rib that no plan undercuts, in strips or in rows of the deepest bay: near it the search ends.
        shares
            What a band of each kind takes of the width at least: first prices.
        """
        depths = [kind.depth / self.whole for kind in self.task.kinds]
        rows = [depth / self.whole for depth in self.depths]
        self.prices = np.array([a * d for a, d in zip(shares, depths, strict=True)] + rows)
        for ends in NEAR_ENOUGH:
            self.searches = [BaySearch(self.task, depth, ends) for depth in self.depths]
            self.coarse = self.coarse or self.searches
            self._offer(-1.0)
            cost = self._improve(least * (1 + CLOSE))
            if cost <= least * (1 + NEAR_ENOUGH[ends]) or self.work > self.most_work:
                break
        return self.amounts

    def _improve(self, enough: float) -> float:
        """Better mixes, as long as bays are found that gain and enough is not reached; what the best costs."""
        best, since = float("inf"), 0
        for _ in range(MOST_ROUNDS):
            solved = self.program.solve()
            if solved is None:
                break
            cost, mixed, self.prices = solved
            self.amounts = mixed[self.first :]
            since = 0 if cost < best * (1 - GAIN_WORTH) else since + 1
            best = min(best, cost)
            if cost <= enough or self.work > self.most_work or since > PATIENCE or not self._offer():
                break
        return best

    def _offer(self, least: float = GAIN) -> bool:
        """Add the bays that gain at these prices; whether there are any."""
        found = []
        for at, search in enumerate(self.searches):
            row = float(self.prices[self.kinds + at])
            found += search.best(self.prices[: self.kinds].tolist(), row, JOIN_COST)
        return any([self.add(bay) for value, bay in found if value > least])

    def choose(self, amounts: NDArray[np.float64], loose: int, effort: float) -> BayChoice | None:
        """Whole numbers of bays, and strips for their rows; None where no bay gives some band.

        Parameters
        ----------
        amounts
            How often each bay is cut in the mix.
        loose
            How many bays of each kind in the mix are chosen anew, beside what is no whole number.
        effort
            Work that CP-SAT may spend, twice.
        """
        bays = list(self.bays)
        amounts = np.append(amounts, np.zeros(len(bays) - len(amounts)))
        times = np.maximum(0, np.floor(amounts + 1e-6) - loose).astype(int)
        left = [kind.count for kind in self.task.kinds]
        for bay, number in zip(bays, times.tolist(), strict=True):
            for kind, n in bay.columns().items():
                left[kind] -= n * bay.above(self.task, kind) * number
        hint: list[Bay] = []
        for favour in FAVOURS:
            cut = list(self._greedy(left, favour))
            hint = min((one for one in (hint, cut) if one), key=self._cost, default=[])
        bays = list(self.bays)
        amounts = np.append(amounts, np.zeros(len(bays) - len(amounts)))
        times = np.append(times, np.zeros(len(bays) - len(times), dtype=int))
        order = sorted(range(len(bays)), key=lambda at: (-amounts[at], self._loss(bays[at])))
        offered = [at for at in order if amounts[at] > 0 or bays[at] in hint or self._loss(bays[at]) < NEAR][
            :MOST_OFFERED
        ]
        rows = {depth: 0 for depth in self.depths}
        for bay, number in zip(bays, times.tolist(), strict=True):
            rows[bay.depth] += number * len(bay.rows)
        chosen = _WholeChoice(
            self, [bays[at] for at in offered], left, rows, [hint.count(bays[at]) for at in offered]
        ).solve(effort)
        if chosen is None:
            return None
        more, strips = chosen
        for at, number in zip(offered, more, strict=True):
            times[at] += number
        return BayChoice(tuple((bay, int(n)) for bay, n in zip(bays, times, strict=True) if n), strips)

    def _greedy(self, left: Sequence[int], favour: float) -> Iterator[Bay]:
        """Bays for what is left, each worth most for its cost among those that can be filled.

        Parameters
        ----------
        favour
            By what share bands as wide as the rib are worth more than they cost: what fills rows is kept for the end.
        """
        task, still = self.task, [max(0, number) for number in left]
        dear = [
            float(price) * (1 + favour * min(1.0, kind.length / task.width))
            for price, kind in zip(self.prices, task.kinds, strict=False)
        ]
        while any(still) and self.work < 2 * self.most_work:
            prices = [price if number else 0.0 for price, number in zip(dear, still, strict=True)]
            found: tuple[float, Bay] | None = None
            for at, search in enumerate(self.coarse):
                row = float(self.prices[self.kinds + at])
                for _, bay in search.best(prices, row, JOIN_COST, still):
                    gives = {kind: min(still[kind], n * bay.above(task, kind)) for kind, n in bay.columns().items()}
                    worth = sum(dear[kind] * n for kind, n in gives.items()) / max(row * len(bay.rows), GAIN)
                    if found is None or worth > found[0]:
                        found = worth, bay
            if found is None:
                return
            self.add(found[1])
            yield found[1]
            for kind, n in found[1].columns().items():
                still[kind] = max(0, still[kind] - n * found[1].above(task, kind))

    def _cost(self, bays: Sequence[Bay]) -> float:
        """Rib of some bays, at the prices of their rows."""
        return sum(len(bay.rows) * float(self.prices[self.kinds + self.depths.index(bay.depth)]) for bay in bays)

    def _loss(self, bay: Bay) -> float:
        """What a bay costs more than it is worth, as a share."""
        cost = len(bay.rows) * float(self.prices[self.kinds + self.depths.index(bay.depth)])
        worth = sum(n * bay.above(self.task, k) * float(self.prices[k]) for k, n in bay.columns().items())
        return 1 - worth / cost if cost else 0.0


class _WholeChoice:
    """Whole numbers of the bays offered, for the bands that are left, beside rows that are cut already."""

    def __init__(self, of: BayProgram, bays: list[Bay], left: list[int], rows: dict[int, int], hint: list[int]) -> None:
        from ortools.sat.python import cp_model

        self.model, self.of, self.bays = cp_model.CpModel(), of, bays
        most = max(1, *left)
        self.times = [self.model.new_int_var(0, most, "") for _ in bays]
        for kind, wanted in enumerate(left):
            own = [
                (n * bay.above(of.task, kind), x)
                for bay, x in zip(bays, self.times, strict=True)
                if (n := bay.columns().get(kind, 0))
            ]
            if wanted > 0:
                self.model.add(sum(n * x for n, x in own) >= wanted)
        self.held: list[tuple[tuple[int, ...], cp_model.IntVar]] = []
        used = {
            depth: rows[depth] + sum(len(b.rows) * x for b, x in zip(bays, self.times, strict=True) if b.depth == depth)
            for depth in of.depths
        }
        self.stock: cp_model.LinearExprT = sum(depth * number for depth, number in used.items())
        if of.strips:
            most_strips = sum(rows.values()) + most * max(len(bay.rows) for bay in bays) * len(of.depths)
            self.held = [(held, self.model.new_int_var(0, most_strips, "")) for held in of.strips]
            for depth, number in used.items():
                self.model.add(number <= sum(held.count(depth) * x for held, x in self.held))
            self.stock = sum(x for _, x in self.held)
        self.joins = sum(bay.joins(of.task) * x for bay, x in zip(bays, self.times, strict=True))
        for x, number in zip(self.times, hint, strict=True):
            self.model.add_hint(x, number)

    def solve(self, effort: float) -> tuple[list[int], tuple[tuple[int, ...], ...]] | None:
        """How often each is cut: the least rib, then the fewest joins; and the strips."""
        from ortools.sat.python import cp_model

        found: list[int] = []
        strips: list[int] = []
        for goal in ("rib", "joins"):
            self.model.minimize(self.stock if goal == "rib" else self.joins)
            solver = repeatable_solver(effort)
            solver.parameters.linearization_level = 2
            if solver.solve(self.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                break
            found, strips = [solver.value(x) for x in self.times], [solver.value(x) for _, x in self.held]
            self.model.proto.solution_hint.vars.clear()
            self.model.proto.solution_hint.values.clear()
            for x, value in zip(self.times, found, strict=True):
                self.model.add_hint(x, value)
            for (_, x), value in zip(self.held, strips, strict=True):
                self.model.add_hint(x, value)
            self.model.add(self.stock <= solver.value(self.stock))
        if not found:
            return None
        return found, tuple(held for (held, _), n in zip(self.held, strips, strict=True) for _ in range(n))


def strip_patterns(depths: Sequence[int], whole: int) -> Iterator[tuple[int, ...]]:
    """Ways to fill a strip with rows that leave no room for another, the deepest first; some where there are many."""
    depths = sorted(depths, reverse=True)
    listed = 0

    def extend(at: int, held: tuple[int, ...], room: int) -> Iterator[tuple[int, ...]]:
        nonlocal listed
        if listed >= MOST_STRIPS:
            return
        if room < depths[-1]:
            listed += 1
            yield held
        for index in range(at, len(depths)):
            if depths[index] <= room:
                yield from extend(index, (*held, depths[index]), room - depths[index])

    yield from extend(0, (), whole)
    for depth in depths:  # each alone, so that every depth can be had
        yield (depth,) * (whole // depth)
