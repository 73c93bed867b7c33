"""Clusters of rows chosen: the least stock and the fewest joins for any number of garments, with a bound on both.

Listed clusters are chosen by CP-SAT; all larger ones are added up into one, of which only that much is asked that any
of them must meet. What no such choice reaches, no plan does: the bound. That it can be cut as chosen is for
`nesting.rib.joined.chain` to find out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.rib.joined.clusters import Cluster
from nesting.steps import repeatable_solver

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from ortools.sat.python import cp_model

    from nesting.rib.task import RibTask


@dataclass(frozen=True)
class ClusterPlan:
    """Clusters that give every band, each as often as it is cut, and the strips that hold their rows.

    Parameters
    ----------
    clusters
        Chosen clusters; the first `listed` are small, one more may add up larger ones.
    joins
        Of each cluster, the most joins it may take.
    strips
        Depths of the rows in each strip, as indices; none for stock sold by length.
    stock, stock_bound, joins_bound
        Stock taken, what no plan can undercut, and the fewest joins any plan with this much stock has.
    """

    clusters: tuple[Cluster, ...]
    joins: tuple[int, ...]
    strips: tuple[tuple[int, ...], ...]
    stock: int
    stock_bound: int
    joins_bound: int


class ClusterModel:
    """How often each cluster is cut, as variables.

    Parameters
    ----------
    task
        What is wanted.
    clusters, most_rows
        Listed clusters, all there are of up to so many rows.
    """

    def __init__(self, task: RibTask, clusters: Sequence[Cluster], most_rows: int) -> None:
        from ortools.sat.python import cp_model

        self.task, self.clusters, self.model = task, clusters, cp_model.CpModel()
        wanted = sum(kind.count * task.fewest_parts(kind) for kind in task.kinds)
        self.times = [self.model.new_int_var(0, wanted, "") for _ in clusters]
        self.rows = [self.model.new_int_var(0, wanted, "") for _ in task.depths]
        self.large = [self.model.new_int_var(0, kind.count, "") for kind in task.kinds]
        self.number = self.model.new_int_var(0, wanted, "")
        self._give_bands(most_rows)
        self._count_stock(wanted)
        small = sum((len(c.rows) - 1) * x for c, x in zip(clusters, self.times, strict=True))
        self.joins = small + sum(self.rows) - self.number

    def _give_bands(self, most_rows: int) -> None:
        """Every band is given; the larger clusters together hold no more than they could by length."""
        task, model = self.task, self.model
        for kind in range(len(task.kinds)):
            given = sum(c.counts[kind] * x for c, x in zip(self.clusters, self.times, strict=True) if c.counts[kind])
            model.add(given + self.large[kind] >= task.kinds[kind].count)
        for level, depth in enumerate(task.depths):
            own = [(kind, x) for kind, x in zip(task.kinds, self.large, strict=True) if kind.depth >= depth]
            rows = sum(self.rows[: level + 1])
            forced = sum((task.fewest_parts(kind) - 1) * x for kind, x in own)
            length = sum(kind.length * x for kind, x in own)
            for joins in (forced, rows - self.number):
                self.surplus = length + task.join * joins - task.width * rows
                model.add(self.surplus <= 0)
        model.add((most_rows + 1) * self.number <= sum(self.rows))

    def restrict(self, margin: int | None) -> None:
        """No larger clusters, or one alone, which leaves a margin of each row unused. Its choice is no bound."""
        self.model.add(self.number <= int(margin is not None))
        self.model.add(sum(self.rows) <= 0 if margin is None else self.surplus <= -margin * sum(self.rows))

    def _count_stock(self, most: int) -> None:
        task = self.task
        levels = [
            self.rows[level]
            + sum(c.rows.count(level) * x for c, x in zip(self.clusters, self.times, strict=True) if level in c.rows)
            for level in range(len(task.depths))
        ]
        self.strips: dict[tuple[int, ...], cp_model.IntVar] = {}
        if task.strip_depth is None:
            self.stock: cp_model.LinearExprT = sum(d * rows for d, rows in zip(task.depths, levels, strict=True))
        else:
            self.strips = {held: self.model.new_int_var(0, most, "") for held in _strip_patterns(task)}
            for level, rows in enumerate(levels):
                self.model.add(rows <= sum(held.count(level) * x for held, x in self.strips.items()))
            self.stock = sum(self.strips.values())
        self.model.add(self.stock >= task.least_stock())

    def choose(self, most: int, effort: float) -> ClusterPlan | None:
        """The least stock, no more than `most`, and the fewest joins with it; None if no choice was found."""
        self.model.add(self.stock <= most)
        self.model.minimize(self.stock)
        solver = self._solve(effort)
        if solver is None:
            return None
        stock_bound, stock = math.ceil(solver.best_objective_bound - 1e-6), round(solver.objective_value)
        self.model.add(self.stock <= stock)
        self._hint(solver)
        self.model.minimize(self.joins)
        fewer = self._solve(effort)
        joins_bound = math.ceil(fewer.best_objective_bound - 1e-6) if fewer else 0
        return self._write(fewer or solver, stock, stock_bound, joins_bound)

    def _solve(self, effort: float) -> cp_model.CpSolver | None:
        from ortools.sat.python import cp_model

        solver = repeatable_solver(effort)
        solver.parameters.linearization_level = 2  # 50 times faster here: the model is all sums
        return solver if solver.solve(self.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None

    def _hint(self, solver: cp_model.CpSolver) -> None:
        for variable in (*self.times, *self.rows, *self.large, self.number, *self.strips.values()):
            self.model.add_hint(variable, solver.value(variable))

    def _write(self, solver: cp_model.CpSolver, stock: int, stock_bound: int, joins_bound: int) -> ClusterPlan:
        """Clusters one by one; bands given more often than wanted are left out, of the larger clusters first."""
        chosen = [c for c, x in zip(self.clusters, self.times, strict=True) for _ in range(solver.value(x))]
        joins = [len(cluster.rows) - 1 for cluster in chosen]
        rows = tuple(level for level, x in enumerate(self.rows) for _ in range(solver.value(x)))
        if rows:
            chosen.insert(0, Cluster(rows, tuple(solver.value(x) for x in self.large)))
            joins.insert(0, len(rows) - solver.value(self.number))
        given = [sum(c.counts[kind] for c in chosen) for kind in range(len(self.task.kinds))]
        spare = [number - kind.count for number, kind in zip(given, self.task.kinds, strict=True)]
        kept = []
        for cluster in chosen:
            less = [min(extra, number) for extra, number in zip(spare, cluster.counts, strict=True)]
            spare = [extra - n for extra, n in zip(spare, less, strict=True)]
            kept.append(Cluster(cluster.rows, tuple(n - m for n, m in zip(cluster.counts, less, strict=True))))
        strips = tuple(held for held, x in self.strips.items() for _ in range(solver.value(x)))
        return ClusterPlan(tuple(kept), tuple(joins), strips, stock, stock_bound, joins_bound)


def _strip_patterns(task: RibTask) -> Iterable[tuple[int, ...]]:
    """All ways to fill a strip with rows, as indices of their depths, that leave no room for another."""
    assert task.strip_depth is not None
    depth, depths = task.strip_depth, task.depths

    def extend(least: int, held: tuple[int, ...], room: int) -> Iterator[tuple[int, ...]]:
        if room < depths[-1]:
            yield held
        for level in range(least, len(depths)):
            if depths[level] <= room:
                yield from extend(level, (*held, level), room - depths[level])

    return extend(0, (), depth)
