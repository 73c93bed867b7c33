"""Questions asked from a terminal: each row of the table of questions becomes a command."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from reports.asking.options import Output
from reports.commands.kit.laying import TerminalLaying
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.signals import say

if TYPE_CHECKING:
    from collections.abc import Callable

    from reports.asking.options import ManySearch, OneSearch
    from reports.asking.question import Question


def command_of(question: Question[Any, Any]) -> Callable[..., None]:
    """The command that asks a question."""

    def command(file: Path, options: Any, search: OneSearch | ManySearch, output: Output) -> None:
        ask(question, file, options, search, output)

    command.__doc__ = question.what
    command.__annotations__ = {
        "file": question.subject.argument,
        "options": question.Options,
        "search": question.search,
        "output": Output,
    }
    return command


def ask(question: Question[Any, Any], file: Path, options: Any, search: OneSearch | ManySearch, output: Output) -> None:
    """Ask a question of a file: search, write the files, and print the answer."""
    from reports.output import refuse_overwriting

    posed = question.read(question.subject_of(options).read(file), options)
    own = Path(f"{file.stem}-{question.name}") if question.has_folder and not output.as_json else None
    folder = output.out or own
    if folder:
        names = [folder / name for name in question.files(posed)]
        refuse_overwriting([*names, *question.leftovers(folder)], force=output.force)
    with TerminalLaying(search.effort(question.usual), **search.where, quiet=output.as_json) as laying:
        found = laid(question, posed, laying)
    written = question.write(found, folder) if folder else []
    if output.as_json:
        emit(json.dumps(question.plain(found)))
    else:
        show(*question.words(found))
        show_files(written)
    if not question.is_settled(found):
        leave(laying.signal)
    if code := question.code(found):
        if said := question.why(found):
            say(f"ellwand: {said}")
        raise typer.Exit(code)


def laid(question: Question[Any, Any], posed: Any, laying: TerminalLaying) -> Any:
    """The answer; NothingYetError if an interrupt came before there was one."""
    from reports.errors import NothingYetError

    try:
        return question.lay(posed, laying)
    except KeyboardInterrupt:
        if not laying.signal:
            raise
        kept = "" if laying.no_cache else "; the markers laid are kept: run the same command to continue"
        raise NothingYetError(laying.signal, f"interrupted before the plan was complete{kept}") from None
