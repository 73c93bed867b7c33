"""Sizes of a chart: the job's own body graded up and down, or a table of measurements in a file."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from typing import TYPE_CHECKING, get_type_hints

from pieces.body import Body
from pieces.errors import PieceError
from pieces.units import INCH, format_size
from reports.errors import JobError, ReportError
from reports.faults import unknown_key

if TYPE_CHECKING:
    from pathlib import Path

    from reports.job import Job

GRADE = {
    "bust": 1.5 * INCH,
    "hip": 1.5 * INCH,
    "across_shoulder": 0.375 * INCH,
    "neck": 0.375 * INCH,
    "upper_arm": 0.5 * INCH,
    "wrist": 0.1875 * INCH,
    "arm_length": 0.125 * INCH,
    "armhole_depth": 0.1875 * INCH,
}
"""From one size to the next, mm. Bust: about the 4 cm of EN 13402-3; the rest: common practice, no source."""

CHILDREN = 2 / 3
"""Share of the grade for children: common practice, no source."""

SMALLER, LARGER = 3, 4
"""Sizes below and above the job's own."""

MOST_SIZES = 40
MOST_BYTES = 1_000_000
LONGEST_NAME = 20

GRADE_WORDS = (
    "Sizes: the job's own measurements graded by 1 1/2 in (3.8 cm) of bust and hip a size, about the 4 cm of EN"
    " 13402-3; across the shoulder and neck by 3/8 in, upper arm 1/2 in, wrist and armhole depth 3/16 in, arm length"
    " 1/8 in (two thirds of all that for children): common practice, no source. Finished lengths stay as the style"
    " has them."
)


@dataclass(frozen=True)
class Size:
    """One size: what it is called, and the job with its measurements; `is_own` marks the job's own."""

    name: str
    job: Job
    is_own: bool = False


def graded_sizes(job: Job) -> list[Size]:
    """Eight sizes round the job's own, each called by its bust."""
    body = job.measured()
    by = CHILDREN if body.wearer == "children" else 1.0
    sizes = []
    for step in range(-SMALLER, LARGER + 1):
        graded = {name: mm + step * by * GRADE[name] for name, mm in body.measurements().items()}
        measures = {name: f"{mm!r} mm" for name, mm in graded.items()} if step else job.body
        name = format_size(graded["bust"], job.written_in)
        sizes.append(Size(name, job.model_copy(update={"body": job.body | measures}), step == 0))
    return sizes


def read_sizes(path: Path, job: Job) -> list[Size]:
    """Sizes from a CSV file: a column `size`, and one for each measurement or finished length that varies.

    Lengths are written with their units; what has no column is as in the job.

    Raises
    ------
    JobError
        If the file cannot be read, has no sizes, or holds a column or a length that makes no sense.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise JobError(f"{path} is larger than {MOST_BYTES // 1_000_000} MB: that is no table of sizes")
        rows = list(csv.reader(path.read_text(encoding="utf-8-sig").splitlines(), skipinitialspace=True))
    except OSError as error:
        raise JobError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    except (UnicodeDecodeError, csv.Error) as error:
        raise JobError(f"cannot read {path}: it is no table in UTF-8 with commas between ({error})") from error
    rows = [[cell.strip() for cell in row] for row in rows if any(cell.strip() for cell in row)]
    if len(rows) < 2:
        raise JobError(f'{path} holds no sizes: write a line "size, bust, hip", and below it a line for each size')
    head, *lines = rows
    lengths = [option.name for option in job.model().options() if option.metadata["kind"] == "length"]
    _check_head(head, [name for name in get_type_hints(Body) if name != "wearer"], lengths, path)
    if len(lines) > MOST_SIZES:
        raise JobError(f"{path} holds {len(lines)} sizes: a chart takes {MOST_SIZES} at most")
    sizes = [_size(dict(zip(head, line, strict=False)), len(line), head, job, lengths, path) for line in lines]
    names = [size.name for size in sizes]
    for name in names:
        if names.count(name) > 1:
            raise JobError(f"{path}: two sizes are called '{name}': each needs a name of its own")
    return sizes


def _check_head(head: list[str], measures: list[str], lengths: list[str], path: Path) -> None:
    for name in head:
        if name != "size" and name not in measures and name not in lengths:
            raise JobError(f"{path}, first line: {unknown_key(name, ['size', *measures, *lengths])}")
        if head.count(name) > 1:
            raise JobError(f"{path}, first line: '{name}' is there twice")
    if "size" not in head:
        raise JobError(f"{path}, first line: a column 'size' is missing: it says what each size is called")


def _size(cells: dict[str, str], given: int, head: list[str], job: Job, lengths: list[str], path: Path) -> Size:
    name = cells.get("size", "")
    if given != len(head):
        raise JobError(f"{path}, size '{name}': {given} cells under {len(head)} headings: check the commas")
    if not (0 < len(name) <= LONGEST_NAME and name.isprintable()):
        raise JobError(f"{path}: a size is called by 1 to {LONGEST_NAME} signs, not '{name[:LONGEST_NAME]}'")
    varied = {key: text for key, text in cells.items() if key != "size" and text}
    body = job.body | {key: text for key, text in varied.items() if key not in lengths}
    style = job.style | {key: text for key, text in varied.items() if key in lengths}
    sized = job.model_copy(update={"body": body, "style": style})
    try:
        sized.measured()
        sized.styled()
    except (PieceError, ReportError) as error:
        raise JobError(f"{path}, size '{name}': {error}") from error
    return Size(name, sized)
