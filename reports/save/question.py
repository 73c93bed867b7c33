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
    from reports.plan.effort import Effort
    from reports.save.saves import Savings
    from reports.schema.written_answer import WrittenAnswer


SHARE = 0.25
"""Of the effort of other changes, for each way out: so that all take about as long as without."""


class SavesOptions(NamedTuple):
    """Of which cloth."""

    fabric: Annotated[int, typer.Option(min=1, help="Number of the cloth in the job.")] = 1
    least_seam: Annotated[
        str | None,
        typer.Option(
            "--least-seam",
            metavar="WIDTH",
            help="Try ways out as well, such as pieced parts; seam allowances are trimmed to no less than this.",
        ),
    ] = None


class SavesAsked(NamedTuple):
    """A job and one of its cloths, by its number from 1; and the least seam allowance of ways out, mm, if asked for."""

    job: Job
    fabric: int
    least_seam: float | None


class Saves(PageQuestion[SavesAsked, "Savings"]):
    """Say which changes of style or spread save cloth, and how much. Each one is drafted and laid."""

    name = "saves"
    example = "ellwand saves jacket.toml --out jacket-saves"
    Options = SavesOptions
    titles: ClassVar[dict[str, str]] = {"saves": "What saves cloth"}

    def read(self, subject: Job, options: SavesOptions) -> SavesAsked:
        """Find the cloth."""
        from reports.change.ways_out import least_of
        from reports.errors import JobError

        if not 1 <= options.fabric <= len(subject.fabric):
            raise JobError(f"{subject.name} offers {len(subject.fabric)} cloths: there is no number {options.fabric}")
        least = None if options.least_seam is None else least_of(options.least_seam)
        return SavesAsked(subject, options.fabric, least)

    def lay(self, posed: SavesAsked, laying: LaysMarkers) -> Savings:
        """Lay the job as it is and under each change."""
        from reports.save.saves import savings

        effort = replace(laying.effort, sold=posed.job.fabric[posed.fabric - 1])

        def lay_from(seed: int, effort: Effort = effort) -> Callable[[Sequence[Problem]], Sequence[Marker | None]]:
            return lambda problems: laying.many(problems, replace(effort, seed=seed))

        again = lay_from if effort.total else None
        brief = replace(effort, amount=effort.amount * SHARE, seconds=effort.seconds and effort.seconds * SHARE)
        briefly, least = lay_from(effort.seed, brief), posed.least_seam
        lay = lay_from(effort.seed)
        return savings(posed.job, posed.fabric, lay, effort.seed, again=again, briefly=briefly, least_seam=least)

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
