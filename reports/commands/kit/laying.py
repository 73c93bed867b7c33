"""Markers laid from a terminal: with progress on stderr, and an interrupt that keeps the best found so far."""

from __future__ import annotations

import sys
from contextlib import contextmanager, nullcontext
from dataclasses import replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from types import TracebackType

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from nesting.steps import Stop
    from pieces.units import Units
    from reports.batch.progress import Interrupt
    from reports.keep.plans import KeptPlans
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


class TerminalLaying:
    """Lays markers as often as it is asked to; after an interrupt no more.

    Parameters
    ----------
    workers
        Processes side by side for many markers; by default one per core.
    no_cache
        Whether markers are neither taken from the user's cache nor kept there.
    cluster
        Address of a Dask cluster that lays many markers.
    quiet
        Whether no progress is shown.

    Attributes
    ----------
    signal
        The signal that cut it short, or 0.
    """

    before = None

    def __init__(
        self,
        effort: Effort,
        *,
        workers: int | None = None,
        no_cache: bool = False,
        cluster: str | None = None,
        quiet: bool = False,
    ) -> None:
        self.signal = 0
        self.effort, self.no_cache = effort, no_cache
        self._workers, self._quiet = workers, quiet
        self._has_laid = False
        self._interrupt: Interrupt | None = None
        self._client = connect(cluster) if cluster else None

    def __enter__(self) -> TerminalLaying:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._client:
            self._client.close()

    @property
    def plans(self) -> KeptPlans:
        """Those in the user's cache."""
        from reports.batch.cache import MarkerCache
        from reports.keep.plans import KeptPlans

        cache = None if self.no_cache else MarkerCache.of_user()
        return KeptPlans(cache.folder if cache else None, self.effort.parts)

    @contextmanager
    def listening(self) -> Iterator[Stop]:
        """An interrupt that is told of, once; the next one ends the program."""
        from reports.batch.progress import Interrupt

        with Interrupt() as interrupt:
            self._interrupt = interrupt
            try:
                yield lambda: interrupt.asked
            finally:
                self._interrupt, self.signal = None, self.signal or interrupt.signal

    @contextmanager
    def watched(self, units: Units) -> Iterator[Effort]:
        """The effort with a bar for each search, and an interrupt that ends them all."""
        from nesting.search import warm_up as prepare
        from reports.batch.progress import Bars, Interrupt

        effort = self.effort
        if effort.total:
            prepare.begin()  # beside the drafting
        is_timed = effort.seconds is not None
        with Interrupt() as interrupt, Bars(effort.total, is_timed, units, quiet=self._quiet) as bars:
            yield replace(effort, interrupt=interrupt, listener=bars.listener)
        self.signal = interrupt.signal

    def told(self, done: int, total: int, /) -> None:
        """Say on stderr how many are done, where that is a terminal."""
        if not self._quiet and sys.stderr.isatty() and done < total:
            sys.stderr.write(f"{done + 1} of {total} …\n")

    def many(self, problems: Sequence[Problem], effort: Effort | None = None, /) -> list[Marker | None]:
        """Lay problems; None for those that were not done when an interrupt came.

        Raises
        ------
        NothingYetError
            If not one was done by then.
        """
        from reports.batch.bar import Tally
        from reports.batch.cache import MarkerCache
        from reports.batch.progress import Interrupt
        from reports.batch.study import cores, study
        from reports.errors import NothingYetError

        if self.signal:
            return [None] * len(problems)
        cache = None if self.no_cache else MarkerCache.of_user()
        if cache and not self._has_laid:
            cache.prune()
        heard = nullcontext(self._interrupt) if self._interrupt else Interrupt()
        with heard as interrupt, Tally(len(problems), quiet=self._quiet) as tally:
            found = study(
                problems,
                effort or self.effort,
                workers=self._workers or cores(),
                cache=cache,
                interrupt=interrupt,
                on_done=tally.step,
                executor=self._client.get_executor() if self._client else None,
            )
        self.signal = interrupt.signal
        self._has_laid = self._has_laid or any(found.markers)
        if self.signal and not self._has_laid:
            raise NothingYetError(self.signal)
        return found.markers
