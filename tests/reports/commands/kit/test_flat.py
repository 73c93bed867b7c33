"""Groups of options are spread out for the command line, and put together again for the command."""

from __future__ import annotations

from typing import Annotated, NamedTuple

import typer
from typer.testing import CliRunner

from reports.commands.kit.flat import flat


class Group(NamedTuple):
    """Two options, one of which must be given."""

    must: Annotated[int, typer.Option("--must", help="A number.")]
    may: Annotated[str, typer.Option("--may", help="A word.")] = "none"


def test_a_group_is_spread_out() -> None:
    """A command with a group takes each of its options by its own name, and hands on the group."""
    seen = []

    def command(word: Annotated[str, typer.Argument()], group: Group, loud: bool = False) -> None:
        """Say it."""
        seen.append((word, group, loud))

    app = typer.Typer()
    app.command()(flat(command))
    assert CliRunner().invoke(app, ["so", "--must", "3", "--loud"]).exit_code == 0
    assert CliRunner().invoke(app, ["so", "--may", "x"]).exit_code == 2
    assert CliRunner().invoke(app, ["--may", "x", "--must", "4", "thus"]).exit_code == 0
    assert seen == [("so", Group(3), True), ("thus", Group(4, "x"), False)]
    assert "Say it." in CliRunner().invoke(app, ["--help"]).output
