"""The command `garments`: what can be made, and what each garment needs."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from reports.ask.choices import UnitsAsked
from reports.asking.options import Output
from reports.commands.kit.terminal import emit, show, show_files


def garments(
    output: Output,
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="One garment; by default all of them are listed.")
    ] = None,
    units: Annotated[UnitsAsked | None, typer.Option(help="Units of lengths; by default inches.")] = None,
) -> None:
    """List the garments, or show one: measurements, options, finished sizes; with --out, draw sketches."""
    from pieces.garments.known import known_garments
    from pieces.units import Units
    from reports.garments.garments import (
        GarmentShown,
        garment_files,
        garments_to_plain,
        not_loaded_lines,
        shown_to_plain,
        write_garments,
    )
    from reports.output import refuse_overwriting

    shown = GarmentShown.called(name) if name else None
    known, not_loaded = ([shown.garment], []) if shown else known_garments()
    written = garment_files(output.out, name or "garments") if output.out else []
    refuse_overwriting(written, force=output.force)
    if written:
        write_garments(known, written)
    if output.as_json:
        emit(json.dumps(shown_to_plain(shown) if shown else garments_to_plain()))
        return
    from reports.garments.words import garment_lines, garment_tables, garments_table

    if shown:
        show(*garment_tables(shown, Units(units) if units else Units.INCHES), *garment_lines(shown))
    else:
        show(garments_table(known), *not_loaded_lines(not_loaded))
        show("'ellwand garments NAME' shows one; 'ellwand new FILE --garment NAME' writes a job for it.")
    show_files(written)
