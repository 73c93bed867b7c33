"""A run on a cluster: a local Dask cluster of two workers (https://distributed.dask.org)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from distributed import Client, LocalCluster

from reports.batch.study import study
from reports.plan.effort import Effort
from reports.run.plain import run_to_plain
from reports.run.plan import plan_run
from tests.make.orders import ordered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem


def test_a_cluster_gives_the_same_plan() -> None:
    """The same order, its markers laid on a cluster and in this process: the same lays, purchases and cost."""
    order, effort = ordered(), Effort(0)

    def here(problems: Sequence[Problem]) -> Sequence[Marker | None]:
        return study(problems, effort).markers

    settings = {"n_workers": 2, "threads_per_worker": 1, "processes": True, "dashboard_address": "127.0.0.1:0"}
    with LocalCluster(**settings, host="127.0.0.1", silence_logs=50) as cluster, Client(cluster) as client:  # type: ignore[no-untyped-call]
        executor = client.get_executor(pure=False)

        def there(problems: Sequence[Problem]) -> Sequence[Marker | None]:
            return study(problems, effort, workers=2, executor=executor).markers

        assert run_to_plain(plan_run(order, there, 1.0)) == run_to_plain(plan_run(order, here, 1.0))
