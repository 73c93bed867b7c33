"""The question what is left of the cloth bought."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from reports.asking.options import OneSearch
from reports.asking.question import Question
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.table import Table

    from reports.ask.job import Job
    from reports.asking.laying import LaysMarkers
    from reports.left.left import Left, LeftAsked
    from reports.schema.written_answer import WrittenAnswer

NO_PLACE = 1
"""Exit code where no place was found for another job's pieces."""

MOST = 20
"""Rectangles that may be asked for."""


class LeftOptions(NamedTuple):
    """Of which cloth, and what is to be cut of the rest."""

    fabric: Annotated[
        int, typer.Option("--fabric", metavar="N", help="The job's N-th cloth; by default the first.")
    ] = 1
    number: Annotated[
        int, typer.Option("--number", metavar="N", min=1, max=MOST, help="How many rectangles, or strips, to list.")
    ] = 5
    strip: Annotated[
        str | None, typer.Option("--strip", metavar="WIDTH", help="List the longest strips of this width as well.")
    ] = None
    bias: Annotated[
        str | None,
        typer.Option("--bias", metavar="WIDTH", help="How much bias strip of this width the largest rectangle gives."),
    ] = None
    job: Annotated[
        Path | None,
        typer.Option("--job", metavar="OTHER", help="Another job: do its pieces fit on what is left? Exit code 1: no."),
    ] = None


class WhatIsLeft(Question["LeftAsked", "Left"]):
    """Say what is left of the cloth bought: free rectangles, strips, bias strips; whether another job's pieces fit."""

    name = "left"
    example = 'ellwand left jacket.toml --strip "2 in" --bias "1 1/2 in" --out jacket-left'
    Options = LeftOptions
    search = OneSearch
    usual = Effort()

    def read(self, subject: Job, options: LeftOptions) -> LeftAsked:
        """Find the cloth, and read widths and the other job."""
        from reports.ask.job import read_job
        from reports.left.left import LeftAsked, width_of

        widths = width_of(options.strip, "--strip"), width_of(options.bias, "--bias")
        other = read_job(options.job) if options.job else None
        return LeftAsked(subject.with_cloth(options.fabric), options.number, *widths, other)

    def lay(self, posed: LeftAsked, laying: LaysMarkers) -> Left:
        """Lay the pieces as `buy` does, and look at the rest."""
        from reports.left.left import what_is_left

        with laying.watched(posed.job.written_in) as effort:
            return what_is_left(posed, effort)

    def plain(self, found: Left) -> dict[str, Any]:
        """Rectangles, strips, and the layout with the other job's pieces."""
        from reports.left.plain import left_to_plain

        return left_to_plain(found)

    def words(self, found: Left) -> Iterator[Table | str]:
        """The table of what can be cut, and the answer."""
        from reports.left.words import left_lines, left_table

        yield left_table(found)
        yield from left_lines(found)

    def files(self, posed: LeftAsked) -> list[str]:
        """The answer as data, in words and as a picture."""
        from reports.left.files import FILES

        return list(FILES)

    def write(self, found: Left, folder: Path) -> list[Path]:
        """Write them."""
        from reports.left.files import write_left

        return write_left(found, folder)

    def schema(self) -> WrittenAnswer:
        """What is left of the cloth."""
        from reports.left.schema import LeftAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("what is left of the cloth bought", LeftAnswer)

    def code(self, found: Left) -> int:
        """1 where no place was found for the other job's pieces."""
        return NO_PLACE if found.beside and not found.beside.spread else 0
