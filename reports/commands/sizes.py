"""The command `sizes`: tables of what each size measures, and a garment in all of them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from reports.ask.choices import UnitsAsked
from reports.asking.options import Output
from reports.commands.kit.terminal import emit, show, show_files


def sizes(
    output: Output,
    table: Annotated[
        str | None,
        typer.Argument(
            metavar="TABLE", help="A built-in table, or a file (CSV or TOML); by default all tables are listed."
        ),
    ] = None,
    job: Annotated[
        Path | None, typer.Option(metavar="JOB", help="A job file: its garment is drafted in every size.")
    ] = None,
    align: Annotated[
        str,
        typer.Option(
            metavar="POINT", help="Where the sizes of the nest are aligned: origin, centre, or a notch by name."
        ),
    ] = "origin",
    units: Annotated[UnitsAsked | None, typer.Option(help="Units of lengths; by default those of the job.")] = None,
) -> None:
    """List tables of sizes with their sources, show one, or draft a garment in all sizes and draw its nest."""
    if table is None:
        _list(job, output)
        return
    from pieces.body.sizes import find_table
    from pieces.units import Units
    from reports.ask.job import read_job
    from reports.ask.sizes import table_for
    from reports.output import refuse_overwriting
    from reports.sizes.sizes import Graded, draft_sizes, graded_files, graded_to_plain, write_graded

    asked = read_job(job) if job else None
    found = table_for(asked, table) if asked else find_table(table)
    written_in = Units(units) if units else asked.written_in if asked else Units.METRIC
    if output.out:
        refuse_overwriting(graded_files(output.out, nest=asked is not None), force=output.force)
    graded = draft_sizes(asked, found) if asked else Graded(found)
    written = write_graded(graded, output.out, written_in, align) if output.out else []
    if output.as_json:
        emit(json.dumps(graded_to_plain(graded)))
        return
    from reports.sizes.words import drafted_lines, note_lines, pieces_by_size, size_table

    show(size_table(found, written_in), *note_lines(found))
    if asked:
        show("", pieces_by_size(graded, written_in), *drafted_lines(graded))
    show_files(written)


def _list(job: Path | None, output: Output) -> None:
    from pieces.body.sizes import TABLES, find_table
    from reports.errors import JobError

    if job or output.out:
        raise JobError(f"choose the sizes: name a table ({', '.join(TABLES)}), or a file, before the options")
    tables = [find_table(name) for name in TABLES]
    if output.as_json:
        keys = ("name", "title", "source", "wearer", "sizes")
        emit(json.dumps({"schema": 3, "tables": [{key: getattr(each, key) for key in keys} for each in tables]}))
        return
    from reports.sizes.words import source_lines, tables_table

    show(tables_table(tables), *source_lines(tables), "")
    show("A table of your own is a CSV or TOML file; 'ellwand sizes TABLE' shows one, 'chart --sizes TABLE' lays it.")
