"""What the commands share that lay many markers: their options, and the laying itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from reports.asked import SpreadAsked, TubeAsked
from reports.shared import MOST

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import TracebackType

    from nesting.marker import Marker
    from nesting.problem import Problem
    from reports.study import Stint

DEFAULT_ITERATIONS = 300
"""Of the search for each marker."""

ManySeconds = Annotated[
    float | None, typer.Option("--seconds", min=0, max=86_400, help="Search by time for each marker, not by count.")
]
ManyIterations = Annotated[
    int, typer.Option("--iterations", min=0, max=MOST, help="Search for each marker, by count: a run repeats exactly.")
]
ManyWorkers = Annotated[
    int | None, typer.Option("--workers", min=1, max=64, help="Processes side by side; by default one a core.")
]
HowSpread = Annotated[
    SpreadAsked | None, typer.Option("--spread", help="How the cloth lies; by default as the job's first fabric.")
]
Tube = Annotated[
    TubeAsked | None,
    typer.Option("--tube", help="Of a tube: whether widths are as it lies flat, or as it is cut open."),
]
NoCache = Annotated[
    bool, typer.Option("--no-cache", help="Lay everything anew, and keep nothing (else in $XDG_CACHE_HOME/ellwand).")
]


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
        from reports.cache import MarkerCache
        from reports.study import cores

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

    def __call__(self, problems: Sequence[Problem], stint: Stint) -> list[Marker | None]:
        """Lay problems; None for those that were not done when an interrupt came.

        Raises
        ------
        NothingYetError
            If not one was done by then.
        """
        from reports.errors import NothingYetError
        from reports.progress import Interrupt
        from reports.study import study
        from reports.tally import Tally

        if self.signal:
            return [None] * len(problems)
        with Interrupt() as interrupt, Tally(len(problems), quiet=self._quiet) as tally:
            found = study(
                problems,
                stint,
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
