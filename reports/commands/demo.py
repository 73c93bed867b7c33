"""The command `demo`: a sample job, done."""

from __future__ import annotations

import json
from itertools import count
from pathlib import Path

import typer

from reports.commands.kit.answering import ALL, answer, show_answer
from reports.commands.kit.options import AsJson, Force, OutPath, Seconds, Seed, Workers
from reports.commands.kit.template import template
from reports.commands.kit.terminal import emit, leave, show_files
from reports.plan.effort import SearchOptions


def demo(
    out: OutPath = None,
    seconds: Seconds = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Do a whole job of our own: a zipped jacket, two widths of canvas, two kinds of ribbing."""
    from reports.ask.job import parse_job
    from reports.output import write_text
    from reports.plan.plain import plan_to_plain

    folder = out or _fresh_folder("ellwand-demo")
    file = folder / "jacket.toml"
    if not as_json:
        typer.echo("The demo: a zipped jacket with rib cuffs, hem and neck; two canvases, two kinds of ribbing.")
    job = parse_job(template(), file.name)
    plan, signalled, written = answer(
        job, SearchOptions(seconds, None, seed, workers, quiet=as_json), folder, ALL, force=force, also=[file]
    )
    write_text(file, template())
    if as_json:
        emit(json.dumps(plan_to_plain(plan)))
    else:
        show_answer(plan)
        show_files([file, *written])
        typer.echo(f"Change a measurement in {file}, then:  ellwand buy {file}")
    leave(signalled)


def _fresh_folder(name: str) -> Path:
    """A folder of that name that is not there yet: nothing is overwritten."""
    tries = (Path(name if number == 1 else f"{name}-{number}") for number in count(1))
    return next(folder for folder in tries if not folder.exists())
