"""The question which changes save cloth."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, NamedTuple

import typer

from reports.asking.question import PageQuestion

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from rich.table import Table

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from reports.ask.job import Job
    from reports.asking.laying import LaysMarkers
    from reports.save.saves import Savings
    from reports.schema.written_answer import WrittenAnswer


class SavesOptions(NamedTuple):
    """Of which cloth."""

    fabric: Annotated[int, typer.Option(min=1, help="Number of the cloth in the job.")] = 1


class SavesAsked(NamedTuple):
    """A job and one of its cloths, by its number from 1."""

    job: Job
    fabric: int


class Saves(PageQuestion[SavesAsked, "Savings"]):
    """Say which changes of style or spread save cloth, and how much. Each one is drafted and laid."""

    name = "saves"
    example = "ellwand saves jacket.toml --out jacket-saves"
    Options = SavesOptions
    titles: ClassVar[dict[str, str]] = {"saves": "What saves cloth"}

    def read(self, subject: Job, options: SavesOptions) -> SavesAsked:
        """Find the cloth."""
        from reports.errors import JobError

        if not 1 <= options.fabric <= len(subject.fabric):
            raise JobError(f"{subject.name} offers {len(subject.fabric)} cloths: there is no number {options.fabric}")
        return SavesAsked(subject, options.fabric)

    def lay(self, posed: SavesAsked, laying: LaysMarkers) -> Savings:
        """Lay the job as it is and under each change."""
        from reports.save.saves import savings

        effort = replace(laying.effort, sold=posed.job.fabric[posed.fabric - 1])

        def lay_from(seed: int) -> Callable[[Sequence[Problem]], Sequence[Marker | None]]:
            return lambda problems: laying.many(problems, replace(effort, seed=seed))

        again = lay_from if effort.total else None
        return savings(posed.job, posed.fabric, lay_from(effort.seed), effort.seed, again=again)

    def plain(self, found: Savings) -> dict[str, Any]:
        """All changes."""
        from reports.save.saves import savings_to_plain

        return savings_to_plain(found)

    def words(self, found: Savings) -> Iterator[Table | str]:
        """A table of the changes, and which save most."""
        from reports.save.words import savings_lines, savings_table

        yield savings_table(found)
        yield from savings_lines(found)

    def files(self, posed: SavesAsked) -> list[str]:
        """The changes as data and as a picture."""
        from reports.save.files import saving_files

        return [path.name for path in saving_files(Path())]

    def write(self, found: Savings, folder: Path) -> list[Path]:
        """Write them."""
        from reports.save.files import write_savings

        return write_savings(found, folder)

    def schema(self) -> WrittenAnswer:
        """What would save cloth."""
        from reports.save.schema import SavesAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("what would save cloth", SavesAnswer, 4)

    def shown(self, found: Savings) -> dict[str, Any]:
        """All changes, and apart what saves most."""
        from reports.save.words import gain_lines

        return {**super().shown(found), "said": list(gain_lines(found))}
