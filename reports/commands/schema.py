"""The command `schema`: what the answers for machines look like."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from reports.commands.kit.terminal import emit, show


def schema(
    name: Annotated[
        str | None,
        typer.Argument(metavar="NAME", help="A command with --json, or 'marker'; by default all are listed."),
    ] = None,
) -> None:
    """Print the JSON Schema of what a command prints with --json, or list all of them with their versions."""
    from reports.commands.answers import all_answers
    from reports.errors import JobError

    answers = all_answers()
    if name is None:
        widest = max(map(len, answers))
        show(*(f"{each:<{widest}}  {answer.version}  {answer.what}" for each, answer in answers.items()))
        return
    if name not in answers:
        raise JobError(f"there is no schema {name!r}: choose {', '.join(answers)}")
    emit(json.dumps(answers[name].json_schema(name), indent=2))
