"""The command `schema`: what the answers for machines look like."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from reports.commands.kit.terminal import emit, show


def schema(
    name: Annotated[
        str | None,
        typer.Argument(metavar="NAME", help="A command with --json, or 'marker'; without it, all are listed."),
    ] = None,
) -> None:
    """Print the JSON Schema of what a command prints with --json, or list all of them with their versions."""
    from reports.errors import JobError
    from reports.schema.answers import ANSWERS

    if name is None:
        widest = max(map(len, ANSWERS))
        show(*(f"{each:<{widest}}  {answer.version}  {answer.what}" for each, answer in ANSWERS.items()))
        return
    if name not in ANSWERS:
        raise JobError(f"there is no schema {name!r}: choose {', '.join(ANSWERS)}")
    emit(json.dumps(ANSWERS[name].json_schema(name), indent=2))
