"""A garment in all sizes of a table: drafted, or why it cannot be."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from pieces.errors import PieceError
from pieces.exchange.own.plain import to_plain
from pieces.units import INCH, Units
from reports.ask.one_draft import draft_one
from reports.ask.sizes import sized
from reports.draw.kit.files import PICTURES
from reports.output import write_text

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from pieces import PieceSet
    from pieces.body.sizes import SizeTable
    from reports.ask.job import Job


@dataclass(frozen=True)
class Graded:
    """A table, and a garment drafted in its sizes, if there is one.

    Attributes
    ----------
    drafted
        The pieces by size, in the table's order.
    refused
        Why the garment cannot be drafted, by size.
    """

    table: SizeTable
    job: Job | None = None
    drafted: Mapping[str, PieceSet] = field(default_factory=dict)
    refused: Mapping[str, str] = field(default_factory=dict)


def draft_sizes(job: Job, table: SizeTable) -> Graded:
    """Draft the job's garment in every size; one that cannot be drafted is left out with its reason.

    Raises
    ------
    JobError
        If a size's measurements are no body's, or with the job's style no garment's.
    PieceError
        If not one size can be drafted: the first reason.
    """
    drafted, errors = {}, {}
    for size in table.sizes:
        try:
            drafted[size] = draft_one(sized(job, table, size).job)
        except PieceError as error:
            errors[size] = error
    if not drafted:
        raise next(iter(errors.values()))
    return Graded(table, job, drafted, {size: str(error) for size, error in errors.items()})


def graded_to_plain(graded: Graded) -> dict[str, Any]:
    """The sizes for machines, every length in mm."""
    table = graded.table
    sizes = []
    for size in table.sizes:
        plain: dict[str, Any] = {"name": size, "measures_mm": table.measures(size), "finished_mm": table.finished(size)}
        if size in graded.drafted:
            plain["garment"] = to_plain(graded.drafted[size])
        if size in graded.refused:
            plain["refused"] = graded.refused[size]
        sizes.append(plain)
    return {
        "schema": 3,
        "job": graded.job.name if graded.job else None,
        "table": table.name,
        "title": table.title,
        "source": table.source,
        "notes": dict(table.notes),
        "wearer": table.wearer,
        "sizes": sizes,
    }


def table_csv(table: SizeTable, units: Units) -> str:
    """The table with commas between, as it can be read again: a line for each size."""
    unit = INCH if units is Units.INCHES else 10.0
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(["size", *(f"{name} ({units})" for name in table.columns)])
    for size, row in table.rows.items():
        writer.writerow([size, *(f"{row[name] / unit:.3f}" if name in row else "" for name in table.columns)])
    return stream.getvalue()


def graded_files(folder: Path, *, nest: bool) -> list[Path]:
    """The files that are written: the table, and the nest if a garment is drafted."""
    return [folder / f"sizes.{kind}" for kind in ("json", "csv")] + [
        folder / f"nest.{kind}" for kind in PICTURES if nest
    ]


def write_graded(graded: Graded, folder: Path, units: Units, align: str) -> list[Path]:
    """Write the table as JSON and with commas, and the nest as a picture; the files written."""
    plain, text, *pictures = paths = graded_files(folder, nest=graded.job is not None)
    figure = None
    if graded.job is not None:
        from reports.draw.kit.files import save
        from reports.draw.nest import nest_page

        title = f"{graded.job.title}: {graded.table.title}"
        figure = nest_page(graded.drafted, title=title, units=units, align=align)
    write_text(plain, json.dumps(graded_to_plain(graded)) + "\n")
    write_text(text, table_csv(graded.table, units))
    if figure is not None:
        for path in pictures:
            save(figure, path)
    return paths
