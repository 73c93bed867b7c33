"""The command `convert`: how much cloth at another width, without pieces."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from reports.ask.choices import UnitsAsked
from reports.asking.options import AsJson
from reports.commands.kit.terminal import emit, show

FromWidth = Annotated[str, typer.Option("--from", metavar="WIDTH", help="Width of the cloth that the length is of.")]
ToWidth = Annotated[str, typer.Option("--to", metavar="WIDTH", help="Width of the other cloth.")]


def convert(
    length: Annotated[str, typer.Argument(metavar="LENGTH", help='What is needed, such as "2 1/2 yd" or "2.3 m".')],
    width: FromWidth,
    other: ToWidth,
    units: Annotated[UnitsAsked | None, typer.Option(help="Units of the answer; by default those of LENGTH.")] = None,
    as_json: AsJson = False,
) -> None:
    """Tell how much cloth of another width is needed, without pieces: a range from published tables, no proof."""
    from pieces.units import Units, unit_written
    from reports.convert.conversion import convert_length
    from reports.convert.words import conversion_lines, conversion_to_plain

    found = convert_length(length, width, other)
    is_metric = unit_written(length) in ("mm", "cm", "m")
    written_in = Units(units) if units else Units.METRIC if is_metric else Units.INCHES
    if as_json:
        emit(json.dumps(conversion_to_plain(found, written_in)))
    else:
        show(*conversion_lines(found, written_in))
