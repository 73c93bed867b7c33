"""The same searches on a cluster: a local Dask cluster of two workers (https://distributed.dask.org)."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from distributed import Client, LocalCluster

from nesting.marker.opinion import check
from nesting.search.fill import fill, orders
from nesting.search.solver import solve
from nesting.search.stop import MaxRuntime
from nesting.search.workers import advance
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from tests.make.jigsaw import jigsaw

if TYPE_CHECKING:
    from collections.abc import Iterator
    from concurrent.futures import Executor


@pytest.fixture(scope="module")
def executor() -> Iterator[Executor]:
    """The executor of a cluster of two worker processes on this machine, listening nowhere else."""
    settings = {"n_workers": 2, "threads_per_worker": 1, "processes": True, "dashboard_address": "127.0.0.1:0"}
    with LocalCluster(**settings, host="127.0.0.1", silence_logs=50) as cluster, Client(cluster) as client:  # type: ignore[no-untyped-call]
        yield client.get_executor(pure=False)


def test_search_runs_elsewhere(executor: Executor) -> None:
    """Two spells of searching, sent to the cluster, come back with sound markers no longer than they began with."""
    problem = jigsaw(100.0, 140.0, 14, seed=3)
    shapes = Shapes(problem)
    start = fill(shapes, NoFit(shapes), next(iter(orders(shapes, 0))))
    spells = [executor.submit(advance, "test", problem, start, seed, 0.5, 1.0) for seed in (1, 2)]
    for found in (spell.result(timeout=120) for spell in spells):
        check(found.to_marker(shapes))
        assert found.length <= start.length
    assert executor.submit(os.getpid).result(timeout=60) != os.getpid()


def test_solve_with_a_cluster(executor: Executor) -> None:
    """The front door takes the cluster's executor as it takes a pool, and leaves it open."""
    result = solve(jigsaw(100.0, 140.0, 14, seed=3), MaxRuntime(3.0), workers=3, executor=executor)
    check(result.marker)
    assert executor.submit(sum, [2, 3]).result(timeout=60) == 5
