"""The searches behind the page, as a worker process runs them: the same answers as the commands give."""

from __future__ import annotations

import threading
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from nesting.search import warm_up as prepare
from nesting.search.stop import Interrupted
from pieces.units import speaking
from reports.errors import StateError
from reports.page.answers.catalogue import catalogue
from reports.page.answers.fields import sent_subject
from reports.page.errors import FieldFault, FieldsError
from reports.page.search import FIRST
from reports.page.searches.laying import PageLaying
from reports.page.searches.options import options_of
from reports.page.work_folder import BEFORE, FOLDER, markers_of
from reports.plan.effort import USUAL, Effort
from reports.questions import page_questions

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from reports.asking.question import PageQuestion
    from reports.page.searches.laying import Emit

EFFORTS = {FIRST: Effort(0), "quick": Effort(0.2 * USUAL), "good": Effort(), "long": Effort(prove=True)}
"""Effort for each marker: the first only lays, the good one is every command's default, the long one proves."""

NOTHING_YET = (
    "stopped before there was anything to show: start it again and let it run a little longer, or choose Quick; what"
    " was laid is kept, and it goes on from there"
)

LOOK_EVERY = 0.1
"""Seconds between two looks at whether the search is to stop."""


class Task(NamedTuple):
    """What was asked for, checked."""

    question: PageQuestion[Any, Any]
    subject: Any
    posed: Any
    effort: Effort


def task_of(kind: str, payload: dict[str, Any]) -> Task:
    """Check what was asked for.

    Raises
    ------
    FieldsError
        If anything is wrong with the job, the order or the options.
    """
    question = page_questions()[kind]
    sent = {key: value for key, value in (payload.get("options") or {}).items() if value is not None}
    options, seed = options_of(question, sent)
    subject = sent_subject(question.subject.name, payload)
    if question.needs_cloth and not subject.fabric:
        said = "there is no cloth to lay the pieces on: add one, with at least its width"
        raise FieldsError([FieldFault("fabric", said)])
    if question.asks_ledger and payload.get(FOLDER):
        subject = subject.model_copy(update={"ledger": Path(payload[FOLDER])})
    effort = replace(EFFORTS[payload.get("effort") or "good"], seed=seed)
    if getattr(options, "on_hand", False) and payload.get(FOLDER):
        options = options._replace(folder=Path(payload[FOLDER]))
    with speaking(subject.written_in):
        return Task(question, subject, question.read(subject, options), effort)


def run_task(kind: str, payload: dict[str, Any], emit: Emit, told_to_stop: Callable[[], bool]) -> dict[str, Any]:
    """Do a search; what it found, or had found when it was told to stop.

    Parameters
    ----------
    kind
        The name of a question that the page asks.
    payload
        ``job`` or ``order``, ``effort``, ``options``, and ``folder``, that of saved work.
    emit
        Hears of progress: of ``buy`` each better layout, at most five a second; of the others ``done`` of ``total``
        markers, or cloths.
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
        markers = markers_of(payload)
        laying = PageLaying(task.subject, task.effort, emit, interrupt, markers, payload.get(BEFORE))
        try:
            shown = task.question.shown(task.question.lay(task.posed, laying))
        except KeyboardInterrupt:
            raise StateError(NOTHING_YET) from None
        if not laying.has_many:
            return shown
        return shown | {"markers": sorted(markers.used) if markers else []}


def rehearse(told_to_stop: Callable[[], bool]) -> None:
    """Lay the template's job once, for nobody."""
    with suppress(StateError):
        run_task("buy", {"job": catalogue()["template_job"], "effort": FIRST}, lambda _: None, told_to_stop)


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
