"""The command `new`: a job file or an order file to start from."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from reports.asking.options import AsJson, Force
from reports.commands.kit.terminal import emit


def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where to write the file.")],
    garment: Annotated[
        str, typer.Option("--garment", metavar="NAME", help="What to make; 'ellwand garments' lists all.")
    ] = "rib-jacket",
    for_run: Annotated[bool, typer.Option("--run", help="An order file, for a production run.")] = False,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Write a commented job file to start from, or an order file."""
    from pieces.garments.known import find_garment
    from reports.ask.template import starting_job, starting_order
    from reports.output import refuse_overwriting, write_text

    made = find_garment(garment)
    refuse_overwriting([file], force=force)
    write_text(file, starting_order(made) if for_run else starting_job(made))
    if as_json:
        emit(json.dumps({"schema": 2, "file": str(file)}))
    elif for_run:
        typer.echo(f"Wrote {file}. Fill in the order, the cloths and the prices, then:  ellwand run {file}")
    elif made.measurements:
        typer.echo(f"Wrote {file}. Fill in the measurements, then:  ellwand buy {file}")
    else:
        typer.echo(f"Wrote {file}. Fill in the cloths, then:  ellwand buy {file}")
