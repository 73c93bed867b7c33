"""The files of an answer: those the commands write, each made when it is first asked for."""

from __future__ import annotations

import json
import tempfile
import threading
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from pieces.units import speaking
from reports.asking.question import Ended
from reports.errors import MissingError, StateError
from reports.page.searches.laying import GONE, KeptLaying
from reports.page.searches.work import task_of
from reports.page.work_folder import markers_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.asking.download import Download
    from reports.batch.cache import MarkerCache
    from reports.page.searches.work import Task

GROUPS_KEPT = 24
"""Groups of files that are kept in memory."""

KINDS = {
    "csv": ("table", "text/csv; charset=utf-8"),
    "dxf": ("outlines for other programs", "image/vnd.dxf"),
    "html": ("page to read or print", "text/html; charset=utf-8"),
    "json": ("figures for other programs", "application/json"),
    "pdf": ("to print", "application/pdf"),
    "png": ("picture", "image/png"),
    "svg": ("drawing", "image/svg+xml"),
    "txt": ("in words", "text/plain; charset=utf-8"),
    "xlsx": ("workbook", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
}
"""What a file is for, and its type, by its ending."""

_drawing = threading.Lock()
"""Pictures are drawn one at a time: their settings hold for the whole process."""


class Answered(NamedTuple):
    """A search that has ended: its kind, and payload and result as text, so that they can be told apart fast."""

    kind: str
    payload: str
    result: str

    @classmethod
    def of(cls, kind: str, payload: dict[str, Any], result: dict[str, Any] | None) -> Answered:
        """A search; StateError if it has no result."""
        if result is None:
            raise StateError("this search has no result yet: wait for it, or stop it")
        return cls(kind, json.dumps(payload), json.dumps(result))


def downloads(answered: Answered) -> list[dict[str, Any]]:
    """The files of an answer; ``bytes`` is None as long as a file has not been made."""
    return [
        {
            "name": one.name,
            "subject": one.title,
            "what": KINDS[_ending(one.name)][0],
            "type": KINDS[_ending(one.name)][1],
            "bytes": None,
        }
        for one in _listed(answered)
    ]


def download(answered: Answered, name: str) -> tuple[bytes, str]:
    """A file and its type; MissingError if the answer has no file of that name."""
    group = next((one.group for one in _listed(answered) if one.name == name), None)
    if group is None:
        raise MissingError(f"this answer has no file {name!r}")
    task, ended = _ended(answered)
    text = task.question.text(ended, name)
    return _made(answered, group)[name] if text is None else text.encode(), KINDS[_ending(name)][1]


def _ending(name: str) -> str:
    return name.rsplit(".", 1)[-1]


def _ended(answered: Answered) -> tuple[Task, Ended]:
    task = task_of(answered.kind, json.loads(answered.payload))
    return task, Ended(task.posed, json.loads(answered.result))


@lru_cache(maxsize=GROUPS_KEPT)
def _listed(answered: Answered) -> tuple[Download, ...]:
    task, ended = _ended(answered)
    return tuple(task.question.downloads(ended))


@lru_cache(maxsize=GROUPS_KEPT)
def _made(answered: Answered, group: str) -> dict[str, bytes]:
    """The files of a group, by name."""
    task, ended = _ended(answered)
    with tempfile.TemporaryDirectory() as name, _drawing, speaking(task.subject.written_in):
        folder = Path(name)
        found = laid_again(task, ended.result, markers_of(json.loads(answered.payload)))
        task.question.write_group(found, group, folder)
        return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def laid_again(task: Task, result: Mapping[str, Any], markers: MarkerCache | None) -> Any:
    """What a search came to, out of what is kept of it; StateError if that is not there any more."""
    try:
        laying = KeptLaying(task.effort, markers, stopped=bool(result.get("cut_short")))
        found = task.question.again(task.posed, result, laying)
    except KeyboardInterrupt:
        found = None
    if found is None:
        raise StateError(GONE)
    return found
