"""What is asked about: a job, or an order for a run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from reports.asking.options import JobPath, OrderPath

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.ask.job import Job
    from reports.ask.order.order import Order


@dataclass(frozen=True)
class SubjectFile:
    """A kind of file that questions are asked about.

    Parameters
    ----------
    name
        What it is called.
    argument
        The file on the command line, as typer reads it.
    read
        Reads and checks the file.
    """

    name: Literal["job", "order"]
    argument: Any
    read: Callable[[Path], Job | Order]


def _job(path: Path) -> Job:
    from reports.ask.job import read_job

    return read_job(path)


def _order(path: Path) -> Order:
    from reports.ask.order.order import read_order

    return read_order(path)


JOB = SubjectFile("job", JobPath, _job)
ORDER = SubjectFile("order", OrderPath, _order)
