"""Plans with joined bands for any number of garments: clusters are chosen, then each is laid as a chain."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nesting.rib.joined.chain import MOST_LOOKED, Chain
from nesting.rib.joined.choice import ClusterModel, ClusterPlan
from nesting.rib.joined.clusters import Cluster, list_clusters, smaller
from nesting.rib.work import RibWork

if TYPE_CHECKING:
    from nesting.rib.task import RibTask, StripRow

MOST_CHOICES = 12
"""How often clusters are chosen anew because some could not be laid."""

MARGINS = (1 / 1000, 1 / 300, 1 / 100)
"""Shares of the width left unused in a larger cluster, one alone, after such could not be laid; then there is none."""


@dataclass(frozen=True)
class JoinedRows:
    """Rows, None if none were found, and what no plan undercuts: stock, and joins where that stock is `stock`."""

    rows: list[StripRow] | None
    stock: int
    stock_bound: int
    joins_bound: int


def joined_rows(task: RibTask, most: int, effort: float) -> JoinedRows:
    """The least stock, no more than `most`, then the fewest joins.

    Clusters that could not be laid are left out for those with a band less. Only the first choice is a bound.
    """
    clusters, most_rows = list_clusters(task)
    first, failures, work = None, 0, RibWork(MOST_LOOKED)
    for _ in range(MOST_CHOICES):
        model = ClusterModel(task, clusters, most_rows)
        if failures:
            model.restrict(round(MARGINS[failures - 1] * task.width) if failures <= len(MARGINS) else None)
        choice = model.choose(most, effort if first is None else effort / 4)
        if choice is None:
            break
        first = first or choice
        rows, failed = _lay(task, choice, effort, work)
        if work.is_spent and rows is None:
            break
        if rows is not None:
            return JoinedRows(rows, first.stock, first.stock_bound, first.joins_bound)
        failures += any(len(cluster.rows) > most_rows for cluster in failed)
        refused = [c for c in clusters if any(_holds(c, cluster) for cluster in failed)]
        less = [one for cluster in refused for one in smaller(cluster)]
        clusters = list(dict.fromkeys([*(c for c in clusters if c not in refused), *less]))
    return (
        JoinedRows(None, first.stock, first.stock_bound, first.joins_bound) if first else JoinedRows(None, most, 0, 0)
    )


def _holds(cluster: Cluster, other: Cluster) -> bool:
    """Whether a cluster is another or has more bands in the same rows."""
    return cluster.rows == other.rows and all(n >= m for n, m in zip(cluster.counts, other.counts, strict=True))


def _lay(
    task: RibTask, choice: ClusterPlan, effort: float, work: RibWork
) -> tuple[list[StripRow] | None, list[Cluster]]:
    """Rows for all clusters, in their strips; or the clusters that could not be laid."""
    laid: dict[Cluster, list[StripRow] | None] = {}
    rows: list[tuple[int, StripRow]] = []
    copy = 0
    for cluster, joins in zip(choice.clusters, choice.joins, strict=True):
        if cluster not in laid:
            laid[cluster] = Chain(task, cluster, joins, effort, work).rows()
        for level, row in zip(cluster.rows, laid[cluster] or [], strict=False):
            parts = tuple(p if p.joined is None else replace(p, joined=p.joined + copy) for p in row.parts)
            rows.append((level, replace(row, parts=parts)))
        copy += len(cluster.rows)
    failed = [cluster for cluster, own in laid.items() if own is None]
    return (None, failed) if failed else (_into_strips(rows, choice), [])


def _into_strips(rows: list[tuple[int, StripRow]], choice: ClusterPlan) -> list[StripRow]:
    free: dict[int, list[int]] = defaultdict(list)
    for strip, held in enumerate(choice.strips):
        for level in held:
            free[level].append(strip)
    placed = [replace(row, strip=free[level].pop(0) if choice.strips else 0) for level, row in rows]
    return sorted((row for row in placed if row.parts), key=lambda row: row.strip)
