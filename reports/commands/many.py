"""What the commands share that lay many markers: their options, and the laying itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

import typer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.marker import Marker
    from nesting.problem import Problem
    from reports.study import Stint

SpreadAsked = Literal["best", "open", "folded", "double-folded"]

NapAsked = Literal["both", "with", "without"]

DEFAULT_ITERATIONS = 400
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


def lay_many(
    problems: Sequence[Problem], stint: Stint, workers: int | None, *, no_cache: bool, quiet: bool
) -> tuple[list[Marker | None], int]:
    """Lay problems with progress on stderr; the markers, and the signal that cut it short (or 0).

    Raises
    ------
    KeyboardInterrupt
        If not one marker was done by then.
    """
    from reports.cache import MarkerCache
    from reports.progress import Interrupt
    from reports.study import cores, study
    from reports.tally import Tally

    cache = None if no_cache else MarkerCache.of_user()
    with Interrupt() as interrupt, Tally(len(problems), quiet=quiet) as tally:
        found = study(
            problems,
            stint,
            workers=workers or cores(),
            cache=cache,
            interrupt=interrupt,
            on_done=tally.step,
        )
    if interrupt.signal and not any(found.markers):
        raise KeyboardInterrupt
    return found.markers, interrupt.signal
