"""``ellwand saves``: which changes save cloth."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated

import typer

from reports.commands.many import DEFAULT_ITERATIONS, LayMany, ManyIterations, ManyWorkers, NoCache
from reports.shared import AsJson, Force, JobPath, OutPath, Seed, emit, leave, show, show_files

if TYPE_CHECKING:
    from pathlib import Path

    from reports.job import Job
    from reports.saves import Saving


def saves(
    job: JobPath,
    fabric: Annotated[int, typer.Option(min=1, help="Which cloth of the job, by number.")] = 1,
    out: OutPath = None,
    iterations: ManyIterations = DEFAULT_ITERATIONS,
    seed: Seed = 0,
    workers: ManyWorkers = None,
    no_cache: NoCache = False,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say which change of style or spread saves cloth, and how much: each one is drafted and laid."""
    from reports.job import read_job
    from reports.output import refuse_overwriting
    from reports.saves import savings, savings_lines, savings_table, savings_to_plain
    from reports.study import Stint

    asked = read_job(job)
    if out:
        refuse_overwriting(_paths(out), force=force)
    lay = LayMany(workers, no_cache=no_cache, quiet=as_json)
    found = savings(asked, fabric, lambda problems: lay(problems, Stint(iterations, seed=seed)))
    if as_json:
        emit(json.dumps(savings_to_plain(found, asked, fabric)))
    else:
        show(savings_table(found, asked, fabric), *savings_lines(found, asked))
    if out:
        _write(found, asked, fabric, out)
        if not as_json:
            show_files(_paths(out))
    leave(lay.signal)


def _paths(folder: Path) -> list[Path]:
    return [folder / f"saves.{ending}" for ending in ("json", "svg", "png", "pdf")]


def _write(found: list[Saving], job: Job, fabric: int, folder: Path) -> None:
    from reports.draw.files import save
    from reports.draw.saves import savings_page
    from reports.output import write_text
    from reports.saves import SCATTER, savings_to_plain

    plain, *pictures = _paths(folder)
    write_text(plain, json.dumps(savings_to_plain(found, job, fabric), indent=2) + "\n")
    now, *changed = found
    bars = [(row.name, row.saved) for row in changed if row.marker]
    scatter = SCATTER * now.marker.length if now.marker else 0.0
    figure = savings_page(f"What each change saves, on {job.fabric[fabric - 1].name}", bars, scatter, job.written_in)
    for path in pictures:
        save(figure, path)
