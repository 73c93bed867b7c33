"""Markers laid behind the page: each better layout is shown, and earlier ones are found where they are kept."""

from __future__ import annotations

import multiprocessing
import time
from contextlib import contextmanager
from dataclasses import replace
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any, NoReturn

from nesting.search.listener import Listener
from nesting.verify import verify_asked
from reports.ask.draft import draft_job
from reports.ask.wanted import asked_of
from reports.batch.study import cores, study
from reports.errors import StateError
from reports.keep.digest import key_of
from reports.keep.plans import KeptPlans
from reports.page.searches.pace import Pace
from reports.plan.plain import layout_to_plain
from reports.plan.problems import cut_from

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from nesting.search.stop import Interrupted
    from nesting.steps import Stop
    from nesting.verify import Asked
    from pieces import Piece, PieceSet
    from pieces.units import Units
    from reports.ask.job import Job
    from reports.batch.cache import MarkerCache
    from reports.plan.effort import Effort

    Emit = Callable[[dict[str, Any]], None]

GONE = "the markers of this answer are no longer kept: search again, then download"

SHOW_EVERY = 0.2
"""Seconds at least between two layouts shown."""


TELL_EVERY = 1.0
"""Seconds at least between two times that it is told how far a search is, where no layout is."""


class PageLaying:
    """Lays what a search asks for, and shows how far it is.

    Attributes
    ----------
    before
        The answer to go on from, as it was shown.
    has_many
        Whether many markers were laid.
    """

    def __init__(
        self,
        subject: Any,
        effort: Effort,
        emit: Emit,
        interrupt: Interrupted,
        cache: MarkerCache | None,
        before: dict[str, Any] | None = None,
    ) -> None:
        self.effort, self.before = effort, before
        self.has_many = False
        self._subject, self._emit, self._interrupt, self._cache = subject, emit, interrupt, cache
        self._done, self._total = 0, 0
        self._has_laid = False

    @property
    def plans(self) -> KeptPlans:
        """Those kept beside the markers."""
        return KeptPlans(self._cache.folder if self._cache else None, self.effort.parts, stopped=True)

    @contextmanager
    def listening(self) -> Iterator[Stop]:
        """Once it is told to stop, the answer is shown as far as it is."""
        yield lambda: self._interrupt.asked

    @contextmanager
    def watched(self, units: Units) -> Iterator[Effort]:
        """The effort with listeners that show each better layout."""
        matched: set[tuple[str, str]] = set()
        pace = Pace(len(self._subject.fabric), self.effort.total)

        @cache
        def drafted() -> PieceSet:  # what layouts have to give is drafted apart from what is laid, once for all cloths
            return draft_job(self._subject)

        def listener(cloth: str, spread: Spread, share: float | None) -> Listener:
            pace.begin(next(i for i, offer in enumerate(self._subject.fabric) if offer.name == cloth), share)
            return _Shows(self._subject, drafted, (cloth, spread), self._emit, matched, pace)

        yield replace(self.effort, interrupt=self._interrupt, listener=listener, ahead=pace.follow)

    def told(self, done: int, total: int, /) -> None:
        """Show how many are done."""
        self._emit({"done": done, "total": total})

    def many(self, problems: Sequence[Problem], effort: Effort | None = None, /) -> list[Marker | None]:
        """Lay problems; None for those that were not done when it was told to stop.

        Raises
        ------
        KeyboardInterrupt
            If it was told to stop before one was done.
        """
        self.has_many = True
        self._total += len(problems)
        workers = 1 if multiprocessing.current_process().daemon else cores()
        found = study(
            problems,
            effort or self.effort,
            workers=workers,
            cache=self._cache,
            interrupt=self._interrupt,
            on_done=self._step,
        ).markers
        self._has_laid = self._has_laid or any(found)
        if self._interrupt.asked and not self._has_laid:
            raise KeyboardInterrupt
        return found

    def _step(self) -> None:
        self._done += 1
        self._emit({"done": self._done, "total": self._total})


class KeptLaying:
    """Lays nothing, but finds what was laid before.

    Parameters
    ----------
    stopped
        Whether the answer was cut short.
    """

    before = None

    def __init__(self, effort: Effort, cache: MarkerCache | None, *, stopped: bool = False) -> None:
        self.effort, self._cache, self._stopped = effort, cache, stopped

    @property
    def plans(self) -> KeptPlans:
        """Those kept beside the markers."""
        return KeptPlans(self._cache.folder if self._cache else None, self.effort.parts, stopped=True)

    @contextmanager
    def listening(self) -> Iterator[Stop]:
        """An answer that was cut short is made again as it was."""
        yield lambda: self._stopped

    def watched(self, units: Units) -> NoReturn:
        """Refuse to search: StateError."""
        raise StateError(GONE)

    def told(self, done: int, total: int, /) -> None:
        """Nothing is told."""

    def many(self, problems: Sequence[Problem], effort: Effort | None = None, /) -> list[Marker | None]:
        """The markers that are kept."""
        parts = (effort or self.effort).parts
        if self._cache is None:
            return [None] * len(problems)
        return [self._cache.read(key_of(problem, *parts), problem) for problem in problems]


class _Shows(Listener):
    """Shows each better layout; of several within a moment the last. Each gives what was asked for.

    Parameters
    ----------
    drafted
        Drafts the pieces of the job.
    name
        The cloth, and its spread.
    matched
        Cloths, each with its spread, that are searched on the lines of their pattern. What is laid of the same
        without the pattern, to see what matching takes, is not shown.
    pace
        Of the whole search.
    """

    def __init__(
        self,
        job: Job,
        drafted: Callable[[], PieceSet],
        name: tuple[str, Spread],
        emit: Emit,
        matched: set[tuple[str, str]],
        pace: Pace,
    ) -> None:
        cloth, self._spread = self._name = name
        self._fabric = next(i for i, offer in enumerate(job.fabric) if offer.name == cloth)
        self._job = job
        self._drafted, self._emit, self._shown, self._matched = drafted, emit, 0.0, matched
        self._waiting: Marker | None = None
        self._pace, self._told = pace, 0.0

    def on_best(self, marker: Marker) -> None:
        """Show it, or let it wait."""
        if marker.problem.repeat is not None:
            self._matched.add(self._name)
        elif self._name in self._matched:
            return
        self._waiting = marker
        self._show()

    def on_step(self, work: float, seconds: float) -> None:
        """Show what waits; else, now and then, how far it is."""
        self._pace.step(work)
        self._show()
        if time.monotonic() - self._told > TELL_EVERY:
            self._tell({})

    def _show(self) -> None:
        marker, now = self._waiting, time.monotonic()
        if marker is None or now - self._shown < SHOW_EVERY:
            return
        self._waiting, self._shown = None, now
        verify_asked(marker, self._asked(marker))
        self._tell(
            {
                "fabric": self._fabric,
                "spread": self._spread,
                "length_mm": marker.length,
                "density": marker.density,
                "layout": layout_to_plain(marker),
            }
        )

    def _tell(self, found: dict[str, Any]) -> None:
        self._told = time.monotonic()
        self._emit(found | {"pace": self._pace.plain()})

    def _asked(self, marker: Marker) -> Asked:
        """What a layout has to give; how far the cloth is folded over is what is being tried."""
        offer = self._job.fabric[self._fabric]
        depth = marker.problem.bands[1].low if self._spread == "part-folded" else None
        return asked_of(offer, self._spread, self._pieces, self._job.garments, depth)

    @cached_property
    def _pieces(self) -> tuple[Piece, ...]:
        return cut_from(self._job.fabric[self._fabric], self._job, self._drafted())
