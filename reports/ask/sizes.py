"""A job in several sizes: its own body graded up and down, or the sizes of a table."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from pieces.body.rules import lacking
from pieces.body.sizes import find_table
from pieces.errors import PieceError
from pieces.units import INCH, Units, format_size
from reports.ask.imported import IMPORTED
from reports.ask.job import Job
from reports.ask.shape import SHAPES
from reports.errors import JobError, ReportError

if TYPE_CHECKING:
    from pieces.body.sizes import SizeTable
    from reports.ask.recipe import Recipe

GRADE = {
    "bust": 1.5 * INCH,
    "hip": 1.5 * INCH,
    "across_shoulder": 0.375 * INCH,
    "neck": 0.375 * INCH,
    "upper_arm": 0.5 * INCH,
    "wrist": 0.1875 * INCH,
    "arm_length": 0.125 * INCH,
    "armhole_depth": 0.1875 * INCH,
    "nape_to_armhole": 0.25 * INCH,
    "waist": 1.5 * INCH,
    "nape_to_waist": 0.125 * INCH,
    "front_length": 0.1875 * INCH,
    "back_width": 0.25 * INCH,
    "chest_width": 0.25 * INCH,
    "shoulder_slope": 0.0625 * INCH,
    "crotch_depth": 0.25 * INCH,
    "hip_depth": 0.25 * INCH,
    "inside_leg": 0.25 * INCH,
    "thigh": 0.875 * INCH,
    "head": 0.125 * INCH,
}
"""From one size to the next, mm. Bust: about the 4 cm of EN 13402-3; the rest: common practice, no source."""

NAMING = ("bust", "waist", "hip")
"""Measurements that sizes are called by, where they are taken; else by the first."""

ONE_SIZE = "one size"
"""What the size of a garment is called for which nothing is measured."""

CHILDREN = 2 / 3
"""Share of the grade for children: common practice, no source."""

SMALLER, LARGER = 3, 4
"""Sizes below and above the job's own."""


def grade_words(job: Job) -> str:
    """How sizes are graded from a job's own measurements."""
    by: dict[float, list[str]] = {}
    for name in job.measured().measurements():
        by.setdefault(GRADE[name], []).append(name.replace("_", " "))
    steps = [f"{' and '.join(names)} by {_step(mm, job.written_in)}" for mm, names in by.items()]
    sourced = "bust" in job.measured().measurements()
    source = "Of the bust that is about the 4 cm of EN 13402-3; the rest is c" if sourced else "That is c"
    return (
        f"Sizes: the job's own measurements graded: {', '.join(steps)} a size (two thirds of that for children)."
        f" {source}ommon practice, no source. Finished lengths stay as the style has them."
    )


def _step(mm: float, units: Units) -> str:
    return format_size(mm, units, 16) if units is Units.INCHES else f"{mm / 10:.1f} cm"


def called_by(job: Job) -> str:
    """The measurement that graded sizes are called by; empty where nothing is measured."""
    given = job.measured().measurements()
    return next((name for name in (*NAMING, *given) if name in given), "")


@dataclass(frozen=True)
class Size:
    """One size: what it is called, and the job with its measurements; `is_own` marks the job's own."""

    name: str
    job: Job
    is_own: bool = False


def graded_sizes(job: Job) -> list[Size]:
    """Eight sizes round the job's own, each called by its bust, waist or hip; one where nothing is measured."""
    body, name_of = job.measured(), called_by(job)
    if job.garment in (IMPORTED, SHAPES):
        fixed = SHAPES if job.garment == SHAPES else "imported pieces"
        raise JobError(f"{job.name}: {fixed} have one size: they cannot be graded")
    if not name_of:
        return [Size(ONE_SIZE, job)]
    by = CHILDREN if body.wearer == "children" else 1.0
    sizes = []
    for step in range(-SMALLER, LARGER + 1):
        graded = {name: mm + step * by * GRADE[name] for name, mm in body.measurements().items()}
        measures = {name: f"{mm!r} mm" for name, mm in graded.items()} if step else job.body
        name = format_size(graded[name_of], job.written_in)
        sizes.append(Size(name, job.model_copy(update={"body": job.body | measures}), step == 0))
    return sizes


def read_sizes(table: str | Path, job: Job) -> list[Size]:
    """The sizes of a table, built in or in a file; it may give finished lengths of the job's garment as well.

    A table that gives all measurements the garment needs is taken by itself; what another leaves out is as in the job.

    Raises
    ------
    JobError
        If there is no such table, it makes no sense, or the job has no body with one of its sizes.
    """
    try:
        found = table_for(job, table)
        return [sized(job, found, size) for size in found.sizes]
    except PieceError as error:
        raise JobError(str(error)) from error


def table_for(made: Recipe, table: str | Path, folder: Path = Path()) -> SizeTable:
    """A table of sizes, built in or in a file, that may give finished lengths of what is made; its errors."""
    lengths = [option.name for option in made.model().options() if option.metadata["kind"] == "length"]
    return find_table(table, folder, lengths)


def sized(made: Recipe, table: SizeTable, size: str) -> Size:
    """What is made, in one size of a table.

    Raises
    ------
    SizeError, JobError
        If the table has no such size, or there is no body with it.
    """
    body, style = (
        {name: f"{mm!r} mm" for name, mm in row.items()} for row in (table.measures(size), table.finished(size))
    )
    whole, own = not lacking(made.model().measurements, body), made.own_body
    body = (own if not whole else {"wearer": own.get("wearer", "women")}) | body
    if table.wearer is not None:
        body["wearer"] = table.wearer
    changed = Job.for_body(made, body, made.style | style)
    try:
        changed.measured()
        changed.styled()
    except (PieceError, ReportError) as error:
        raise JobError(f"{table.name}, size '{size}': {error}") from error
    return Size(size, changed)
