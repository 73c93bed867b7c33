"""The command `demo`: a sample job, done."""

from __future__ import annotations

import json
from itertools import count
from pathlib import Path

import typer

from reports.asking.options import OneSearch, Output
from reports.buy.question import ALL, Buy
from reports.commands.kit.answering import answer
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show, show_files

BUY = Buy()


def demo(search: OneSearch, output: Output) -> None:
    """Run a sample job: a zipped jacket, two widths of canvas, two kinds of ribbing."""
    from reports.ask.job import parse_job
    from reports.ask.template import template
    from reports.output import write_text

    folder = output.out or _fresh_folder("ellwand-demo")
    file = folder / "jacket.toml"
    if not output.as_json:
        typer.echo("The demo: a zipped jacket with rib cuffs, hem and neck; two canvases, two kinds of ribbing.")
    job = parse_job(template(), file.name)
    laying = TerminalLaying(search.effort(BUY.usual), quiet=output.as_json)
    plan, written = answer(job, laying, folder, ALL, force=output.force, rib=True, also=[file])
    write_text(file, template())
    if output.as_json:
        emit(json.dumps(BUY.plain(plan)))
    else:
        show(*BUY.words(plan))
        show_files([file, *written])
        typer.echo(f"Change a measurement in {file}, then:  ellwand buy {file}")
    leave(laying.signal)


def _fresh_folder(name: str) -> Path:
    """A new folder of that name: nothing is overwritten."""
    tries = (Path(name if number == 1 else f"{name}-{number}") for number in count(1))
    return next(folder for folder in tries if not folder.exists())
