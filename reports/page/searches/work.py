"""The searches behind the page, as a worker process runs them: the same answers as the commands give."""

from __future__ import annotations

import multiprocessing
import threading
import time
from contextlib import contextmanager
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol, get_args

from nesting.search import warm_up as prepare
from nesting.search.listener import Listener
from nesting.search.stop import AnyOf, Interrupted
from nesting.verify import verify_asked
from pieces.errors import unknown_key
from pieces.units import speaking
from reports.ask.draft import draft_job
from reports.ask.wanted import asked_of
from reports.batch.study import cores, study
from reports.page.answers.fields import job_of, order_of
from reports.page.answers.kept import kept_of_payload
from reports.page.answers.shown import many_shown, plan_shown
from reports.page.errors import FieldFault, FieldsError, StateError
from reports.page.work_folder import BEFORE, markers_of, uploads_of
from reports.plan.effort import Effort, SearchOptions
from reports.plan.one_cloth import cut_from
from reports.plan.plain import layout_to_plain
from reports.plan.plan import plan_job

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from nesting.verify import Asked
    from pieces import Piece
    from reports.ask.job import Job
    from reports.batch.cache import MarkerCache
    from reports.chart.chart import Chart
    from reports.plan.plan import Plan
    from reports.run.plan import RunPlan
    from reports.save.saves import Saving
    from reports.widths.widths import WidthCurve

    Emit = Callable[[dict[str, Any]], None]

EFFORTS = {"quick": 60, "good": 600, "long": 6000}
"""Iterations of the search for each marker of a job; the quick one is what ``ellwand buy`` does by default."""

MANY_EFFORTS = {"quick": 60, "good": 300, "long": 1000}
"""The same where many markers are laid; the good one is what ``ellwand widths`` and its like do by default."""

SHOW_EVERY = 0.2
"""Seconds at least between two layouts shown."""

LOOK_EVERY = 0.1
"""Seconds between two looks at whether the search is to stop."""


class Task(NamedTuple):
    """What was asked for, checked."""

    kind: str
    subject: Any
    effort: str
    options: dict[str, Any]

    @property
    def seed(self) -> int:
        """Start of all random choices."""
        return int(self.options.get("seed", 0))

    @property
    def stint(self) -> Effort:
        """The effort for each of many markers."""
        return Effort(MANY_EFFORTS[self.effort], seed=self.seed)


OPTIONS: dict[str, dict[str, type]] = {
    "buy": {},
    "widths": {"from": str, "to": str, "step": str, "spread": str, "tube": str},
    "saves": {"fabric": int},
    "chart": {"widths": str, "sizes": str, "nap": str, "spread": str, "tube": str},
    "run": {},
}
"""The options of each kind of search, and what each is written as; all may have a ``seed``."""


def task_of(kind: str, payload: dict[str, Any]) -> Task:
    """Check what was asked for.

    Raises
    ------
    FieldsError
        If anything is wrong with the job, the order or the options.
    """
    options = {key: value for key, value in (payload.get("options") or {}).items() if value is not None}
    known = OPTIONS[kind] | {"seed": int}
    for key, value in options.items():
        if key not in known:
            raise _fault(f"options.{key}", unknown_key(key, list(known)))
        if type(value) is not known[key] or (isinstance(value, int) and not 0 <= value < 2**31):
            said = "text" if known[key] is str else "a whole number, 0 or more"
            raise _fault(f"options.{key}", f"write {said}, not {value!r}")
    _check_choices(options)
    if kind == "run":
        return Task(kind, order_of(payload.get("order")), payload.get("effort") or "good", options)
    job = job_of(payload.get("job"), uploads_of(payload))
    if kind == "buy" and not job.fabric:
        raise _fault("fabric", "there is no cloth to lay the pieces on: add one, with at least its width")
    return Task(kind, job, payload.get("effort") or "good", options)


def _check_choices(options: dict[str, Any]) -> None:
    """Tables are those built in: no file on this machine is read. Spread and nap are those there are."""
    from pieces.body.sizes import TABLES
    from reports.ask.choices import NapAsked, SpreadAsked
    from reports.ask.tube import WAYS

    for key, known in (
        ("sizes", TABLES),
        ("nap", get_args(NapAsked)),
        ("spread", get_args(SpreadAsked)),
        ("tube", WAYS),
    ):
        if key in options and options[key] not in known:
            raise _fault(f"options.{key}", f"{options[key]!r} is not one of {', '.join(known)}")


def _fault(field: str, message: str) -> FieldsError:
    return FieldsError([FieldFault(field, message)])


def run_task(kind: str, payload: dict[str, Any], emit: Emit, told_to_stop: Callable[[], bool]) -> dict[str, Any]:
    """Do a search; what it found, or had found when it was told to stop.

    Parameters
    ----------
    kind
        ``"buy"``, ``"widths"``, ``"saves"``, ``"chart"`` or ``"run"``.
    payload
        ``job`` or ``order``, ``effort``, ``options``, and ``folder``, that of saved work.
    emit
        Hears of progress: of ``buy`` each better layout, at most five a second; of the others ``done`` of ``total``
        markers.
    told_to_stop
        Asked a few times a second.

    Raises
    ------
    PieceError, NestingError, ReportError
        If it cannot be done, or was stopped before there was anything to show.
    """
    task = task_of(kind, payload)
    prepare.begin()  # beside the drafting
    with watched(told_to_stop) as interrupt, speaking(task.subject.written_in):
        if kind == "buy":
            return _buy(task, emit, interrupt, _before(payload))
        try:
            markers = markers_of(payload)
            found = laid_of(task, LaysMany(task.stint, emit, interrupt, markers))
            used = sorted(markers.used) if markers else []
            return many_shown(kind, found, task.subject, task.options) | {"markers": used}
        except KeyboardInterrupt:
            raise StateError("stopped before there was anything to show") from None


@contextmanager
def watched(told_to_stop: Callable[[], bool]) -> Iterator[Interrupted]:
    """A flag that is set once someone has said stop."""
    interrupt, ended = Interrupted(), threading.Event()

    def watch() -> None:
        while not ended.wait(LOOK_EVERY):
            if told_to_stop():
                interrupt.set()
                return

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield interrupt
    finally:
        ended.set()
        watcher.join()


def _before(payload: dict[str, Any]) -> Plan | None:
    """The answer to go on from; None if there is none, or this version can not make it again."""
    if payload.get(BEFORE) is None:
        return None
    try:
        return kept_of_payload(payload).plan(payload[BEFORE])
    except StateError:
        return None


def _buy(task: Task, emit: Emit, interrupt: Interrupted, before: Plan | None = None) -> dict[str, Any]:
    # From another seed: the same would take the same way again, as far as it leads.
    seed = task.seed if before is None or "seed" in task.options else before.seed + 1
    search = SearchOptions(None, EFFORTS[task.effort], seed, 1)
    matched: set[tuple[str, str]] = set()
    effort = Effort(
        lambda: AnyOf(interrupt, search.limit()),
        search.seed,
        search.workers,
        lambda name, spread: _Shows(task.subject, name, spread, emit, matched),
        search.proof,
    )
    return plan_shown(plan_job(task.subject, effort, before=before))


class _Shows(Listener):
    """Shows each better layout; of several within a moment the last. Each gives what was asked for.

    Parameters
    ----------
    matched
        Cloths, each with its spread, that are searched on the lines of their pattern. What is laid of the same
        without the pattern, to see what matching takes, is not shown.
    """

    def __init__(self, job: Job, cloth: str, spread: Spread, emit: Emit, matched: set[tuple[str, str]]) -> None:
        self._fabric = next(i for i, offer in enumerate(job.fabric) if offer.name == cloth)
        self._spread, self._name, self._job = spread, (cloth, spread), job
        self._emit, self._shown, self._matched = emit, 0.0, matched
        self._waiting: Marker | None = None

    def on_best(self, marker: Marker) -> None:
        """Show it, or let it wait."""
        if marker.problem.repeat is not None:
            self._matched.add(self._name)
        elif self._name in self._matched:
            return
        self._waiting = marker
        self._show()

    def on_step(self, iterations: int, seconds: float) -> None:
        """Show what waits."""
        self._show()

    def _show(self) -> None:
        marker, now = self._waiting, time.monotonic()
        if marker is None or now - self._shown < SHOW_EVERY:
            return
        self._waiting, self._shown = None, now
        verify_asked(marker, self._asked(marker))
        self._emit(
            {
                "fabric": self._fabric,
                "spread": self._spread,
                "length_mm": marker.length,
                "density": marker.density,
                "layout": layout_to_plain(marker),
            }
        )

    def _asked(self, marker: Marker) -> Asked:
        """What a layout has to give; how far the cloth is folded over is what is being tried."""
        offer = self._job.fabric[self._fabric]
        depth = marker.problem.bands[1].low if self._spread == "part-folded" else None
        return asked_of(offer, self._spread, self._pieces, self._job.garments, depth)

    @cached_property
    def _pieces(self) -> tuple[Piece, ...]:
        return cut_from(self._job.fabric[self._fabric], self._job, draft_job(self._job))


class Lays(Protocol):
    """Lays problems, by default with the effort of the search; None for those that could not be laid."""

    def __call__(self, problems: Sequence[Problem], stint: Effort | None = None, /) -> list[Marker | None]:
        """Lay them."""
        ...


class LaysMany:
    """Lays many markers, those of earlier searches taken from where they are kept.

    Raises
    ------
    KeyboardInterrupt
        If it was told to stop before one was done.
    """

    def __init__(self, stint: Effort, emit: Emit, interrupt: Interrupted, cache: MarkerCache | None) -> None:
        self._stint, self._emit, self._interrupt, self._cache = stint, emit, interrupt, cache
        self._done, self._total = 0, 0
        self._has_laid = False

    def __call__(self, problems: Sequence[Problem], stint: Effort | None = None) -> list[Marker | None]:
        """Lay problems; None for those that were not done when it was told to stop."""
        self._total += len(problems)
        workers = 1 if multiprocessing.current_process().daemon else cores()
        found = study(
            problems,
            stint or self._stint,
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


def laid_of(task: Task, lay: Lays) -> WidthCurve | Chart | list[Saving] | RunPlan:
    """What a search that lays many markers comes to."""
    if task.kind == "widths":
        return _curve(task, lay)
    if task.kind == "saves":
        from reports.save.saves import savings

        return savings(task.subject, task.options.get("fabric", 1), lay)
    if task.kind == "chart":
        from reports.chart.chart import laid_chart

        asked = {key: task.options.get(key) for key in ("widths", "sizes", "spread", "tube")}
        nap = task.options.get("nap", "both")
        return laid_chart(task.subject, lay, task.stint, nap=nap, **asked)
    from reports.run.plan import plan_run

    return plan_run(task.subject, lay)


def _curve(task: Task, lay: Lays) -> WidthCurve:
    from reports.ask.opened import opened_widths
    from reports.batch.series import cloth_of, width_range
    from reports.widths.widths import plan_curve

    asked, cloth = task.options, cloth_of(task.subject)
    every = width_range(asked.get("from"), asked.get("to"), asked.get("step"), task.subject.written_in)
    every = opened_widths(every, cloth, asked.get("tube"))
    curve = plan_curve(task.subject, cloth, every, spread=asked.get("spread"), stint=task.stint)
    curve.lay(lay)
    return curve
