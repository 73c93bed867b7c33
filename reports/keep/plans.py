"""Plans kept from run to run, as markers are: found again by all that they follow from, and checked where used.

A plan is as exact as what it was made from: one number changed, and it is made anew. A plan that an interrupt cut
short is never taken for one that was made to its end.
"""

from __future__ import annotations

import hashlib
import json
from contextlib import suppress
from dataclasses import fields
from typing import TYPE_CHECKING, Any, TypeVar

from reports.keep.digest import key_of
from reports.output import write_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

FORMAT = 4
"""Of the files, and of what their names stand for: raised when plans are made in another way."""

MOST_KEPT = 2_000
"""Plans kept: some 40 MB. Beyond that, those written longest ago go, half of them at a time."""

T = TypeVar("T")


class KeptPlans:
    """Plans of one way to lay markers, in a folder; one that cannot be used is as good as an empty one.

    Parameters
    ----------
    folder
        None: nothing is kept.
    parts
        How markers are laid: plans follow from their lengths.
    stopped
        Whether a plan that was cut short is kept as well, apart from the others: so an answer can be made again.
    """

    def __init__(self, folder: Path | None = None, parts: tuple[Any, ...] = (), *, stopped: bool = False) -> None:
        self._folder, self._parts, self.stopped = folder, parts, stopped

    def get(self, kind: str, asked: Any, read: Callable[[Any], T | None]) -> T | None:
        """A plan that is kept; None if there is none, or `read` finds that it is not what it must be.

        Parameters
        ----------
        asked
            All that the plan follows from.
        read
            Makes the plan of plain data and checks it; any error of a value or a check says that it does not hold.
        """
        from nesting.errors import NestingError
        from reports.errors import ReportError

        if self._folder is None:
            return None
        try:
            held = json.loads(self._path(kind, asked).read_text(encoding="utf-8"))
            return read(held["plan"]) if held["sum"] == _sum(held["plan"]) else None
        except (OSError, ValueError, TypeError, LookupError, RecursionError, ArithmeticError):
            return None
        except (NestingError, ReportError):
            return None

    def keep(self, kind: str, asked: Any, plan: Any) -> None:
        """Keep a plan as plain data."""
        if self._folder is None:
            return
        path = self._path(kind, asked)
        with suppress(OSError):
            write_text(path, json.dumps({"format": FORMAT, "sum": _sum(plan), "plan": plan}))
            self._prune()

    def _path(self, kind: str, asked: Any) -> Path:
        assert self._folder is not None
        return self._folder / f"plan-{kind}-{key_of((FORMAT, kind, asked), *self._parts)}.json"

    def _prune(self) -> None:
        assert self._folder is not None
        held = list(self._folder.glob("plan-*.json"))
        if len(held) > MOST_KEPT:
            for path in sorted(held, key=lambda path: path.stat().st_mtime)[: len(held) - MOST_KEPT // 2]:
                path.unlink(missing_ok=True)


def rows_of(records: Iterable[Any]) -> list[list[Any]]:
    """The fields of records of one class, as plain rows that the class takes again."""
    return [[getattr(one, field.name) for field in fields(one)] for one in records]


def _sum(plain: Any) -> str:
    return hashlib.sha256(json.dumps(plain, sort_keys=True).encode()).hexdigest()
