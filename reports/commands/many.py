"""What the commands share that lay many markers: their options, and the laying itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from reports.asked import SpreadAsked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.marker import Marker
    from nesting.problem import Problem
    from reports.study import Stint

DEFAULT_ITERATIONS = 300
"""Of the search for each marker."""

ManySeconds = Annotated[
    float | None, typer.Option("--seconds", min=0, max=86_400, help="Search by time for each marker, not by count.")
]
ManyIterations = Annotated[
    int, typer.Option("--iterations", min=0, help="Search for each marker, by count: a run repeats exactly.")
]
ManyWorkers = Annotated[
    int | None, typer.Option("--workers", min=1, max=64, help="Processes side by side; by default one a core.")
]
HowSpread = Annotated[
    SpreadAsked | None, typer.Option("--spread", help="How the cloth lies; by default as the job's first fabric.")
]
NoCache = Annotated[
    bool, typer.Option("--no-cache", help="Lay everything anew, and keep nothing (else in $XDG_CACHE_HOME/ellwand).")
]


class LayMany:
    """Lays problems with progress on stderr, as often as it is called; after an interrupt no more.

    Attributes
    ----------
    signal
        The signal that cut it short, or 0.
    """

    def __init__(self, workers: int | None, *, no_cache: bool, quiet: bool) -> None:
        from reports.cache import MarkerCache
        from reports.study import cores

        self.signal = 0
        self._workers, self._quiet = workers or cores(), quiet
        self._cache = None if no_cache else MarkerCache.of_user()
        if self._cache:
            self._cache.prune()
        self._has_laid = False

    def __call__(self, problems: Sequence[Problem], stint: Stint) -> list[Marker | None]:
        """Lay problems; None for those that were not done when an interrupt came.

        Raises
        ------
        KeyboardInterrupt
            If not one was done by then.
        """
        from reports.progress import Interrupt
        from reports.study import study
        from reports.tally import Tally

        if self.signal:
            return [None] * len(problems)
        with Interrupt() as interrupt, Tally(len(problems), quiet=self._quiet) as tally:
            found = study(
                problems, stint, workers=self._workers, cache=self._cache, interrupt=interrupt, on_done=tally.step
            )
        self.signal = interrupt.signal
        self._has_laid = self._has_laid or any(found.markers)
        if self.signal and not self._has_laid:
            raise KeyboardInterrupt
        return found.markers
