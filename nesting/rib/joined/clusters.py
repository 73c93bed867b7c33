"""Clusters: rows that hang together by joined bands, and what bands so many rows can hold.

A cluster of so many rows needs at least one join fewer, and its bands with those joins must fit its rows; so the
fewest joins are the most clusters. Of some rows, only those bands are listed that leave no room for a band more.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations_with_replacement, islice
from typing import TYPE_CHECKING

from nesting.rib.work import RibWork

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.rib.task import RibTask

MOST_ROWS, MOST_CLUSTERS, MOST_FILLINGS = 5, 1_500, 5_000
"""Rows of a listed cluster, how many clusters are listed, and counts of bands looked at for given rows, at the most."""

MOST_LOOKED = 100_000
"""Counts of bands looked at in all, those that do not fit included."""


@dataclass(frozen=True)
class Cluster:
    """Rows, as indices into the task's depths (deepest first), and how many bands of each kind they hold."""

    rows: tuple[int, ...]
    counts: tuple[int, ...]


def list_clusters(task: RibTask) -> tuple[list[Cluster], int]:
    """Clusters of up to so many rows, and that number: all that hold as much as they can."""
    found: list[Cluster] = []
    work = RibWork(MOST_LOOKED)
    for rows in range(1, MOST_ROWS + 1):
        for levels in combinations_with_replacement(range(len(task.depths)), rows):
            fillings = _fillings(task, levels, work)
            if fillings is None or len(found) + len(fillings) > MOST_CLUSTERS:
                return [cluster for cluster in found if len(cluster.rows) < rows], rows - 1
            found += [Cluster(levels, counts) for counts in fillings]
    return found, MOST_ROWS


def _fillings(task: RibTask, levels: tuple[int, ...], work: RibWork) -> list[tuple[int, ...]] | None:
    """Counts of bands that these rows can hold, and no band more; None if there are too many to look at."""
    kinds = range(len(task.kinds))

    def extend(at: int, counts: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if at == len(kinds):
            yield counts
            return
        for number in range(task.kinds[at].count + 1):
            if not work.spend() or not fits(task, levels, (*counts, number, *[0] * (len(kinds) - at - 1))):
                break
            yield from extend(at + 1, (*counts, number))

    found = list(islice(extend(0, ()), MOST_FILLINGS + 1))
    if len(found) > MOST_FILLINGS or work.is_spent:
        return None
    tied = {counts for counts in found if len(levels) == 1 or has_ends(task, len(levels), counts)}
    return sorted(tied - {tuple(n - (i == kind) for i, n in enumerate(c)) for c in tied for kind in kinds})


def fits(task: RibTask, levels: Sequence[int], counts: Sequence[int]) -> bool:
    """Whether bands might be cut of these rows as a cluster, by length alone.

    So many deep rows are tied together by one join fewer, and to the others by a part of a less deep band. A part is
    longer than a join, so that tying them together by way of the others would take no less.
    """
    if len(levels) == 1 and any(n and kind.length > task.width for n, kind in zip(counts, task.kinds, strict=True)):
        return False
    for level, depth in enumerate(task.depths):
        rows, own = sum(row <= level for row in levels), [kind.depth >= depth for kind in task.kinds]
        bands = [(n, kind) for n, kind, deep in zip(counts, task.kinds, own, strict=True) if deep]
        forced = sum(n * (task.fewest_parts(kind) - 1) for n, kind in bands)
        tied = task.least if 0 < rows < len(levels) else 0
        joins = max(forced, rows - 1)
        if sum(n * kind.length for n, kind in bands) + joins * task.join + tied > task.width * rows:
            return False
    return True


def has_ends(task: RibTask, rows: int, counts: Sequence[int]) -> bool:
    """Whether two of a cluster's rows can be ends: tied to the others by one joined band alone."""
    if task.least > task.width:
        return False  # no row holds a part
    length = sum(n * kind.length for n, kind in zip(counts, task.kinds, strict=True))
    most = tuple(min(n, task.width // kind.length) for n, kind in zip(counts, task.kinds, strict=True))
    longest = max((kind.length for n, kind in zip(counts, task.kinds, strict=True) if n), default=0)
    waste = _end_waste(task, most, longest + task.join - task.least)
    return length + (rows - 1) * task.join + 2 * waste <= task.width * rows


@lru_cache(maxsize=100_000)
def _end_waste(task: RibTask, counts: tuple[int, ...], most: int) -> int:
    """What is wasted at least of a row with some of these bands whole and a part of another, `most` long."""
    filled = {0}
    for number, kind in zip(counts, task.kinds, strict=True):
        lengths = [n * kind.length for n in range(number + 1)]
        filled = {at + more for at in filled for more in lengths if at + more <= task.width - task.least}
    return min(max(0, task.width - at - most) for at in filled)


def smaller(cluster: Cluster) -> list[Cluster]:
    """The same rows with a band less of each kind in turn."""
    return [
        Cluster(cluster.rows, tuple(n - (i == kind) for i, n in enumerate(cluster.counts)))
        for kind, number in enumerate(cluster.counts)
        if number
    ]
