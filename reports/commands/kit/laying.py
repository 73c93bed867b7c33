"""What the commands share that lay many markers: their options, and the laying itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import TracebackType

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from reports.plan.effort import Effort


def connect(address: str) -> Any:
    """A Dask cluster's client.

    Raises
    ------
    StudyError
        If Dask is not installed, or there is no cluster at the address.
    """
    from reports.errors import StudyError

    try:
        from distributed import Client

        return Client(address, timeout="10s")  # type: ignore[no-untyped-call]
    except ImportError as error:
        raise StudyError("a cluster needs Dask: pip install 'ellwand[cluster]'") from error
    except (OSError, ValueError) as error:
        raise StudyError(f"no Dask cluster answers at {address}: start one, or leave --cluster out") from error


class LayMany:
    """Lays problems with progress on stderr, as often as it is called; after an interrupt no more.

    Attributes
    ----------
    signal
        The signal that cut it short, or 0.
    """

    def __init__(self, workers: int | None, *, no_cache: bool, quiet: bool, cluster: str | None = None) -> None:
        from reports.batch.cache import MarkerCache
        from reports.batch.study import cores

        self.signal = 0
        self._workers, self._quiet = workers or cores(), quiet
        self._cache = None if no_cache else MarkerCache.of_user()
        if self._cache:
            self._cache.prune()
        self._has_laid = False
        self._client = connect(cluster) if cluster else None

    def __enter__(self) -> LayMany:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._client:
            self._client.close()

    def __call__(self, problems: Sequence[Problem], effort: Effort) -> list[Marker | None]:
        """Lay problems; None for those that were not done when an interrupt came.

        Raises
        ------
        NothingYetError
            If not one was done by then.
        """
        from reports.batch.bar import Tally
        from reports.batch.progress import Interrupt
        from reports.batch.study import study
        from reports.errors import NothingYetError

        if self.signal:
            return [None] * len(problems)
        with Interrupt() as interrupt, Tally(len(problems), quiet=self._quiet) as tally:
            found = study(
                problems,
                effort,
                workers=self._workers,
                cache=self._cache,
                interrupt=interrupt,
                on_done=tally.step,
                executor=self._client.get_executor() if self._client else None,
            )
        self.signal = interrupt.signal
        self._has_laid = self._has_laid or any(found.markers)
        if self.signal and not self._has_laid:
            raise NothingYetError(self.signal)
        return found.markers
