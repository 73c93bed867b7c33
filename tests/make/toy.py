"""A question of its own, for the test that one folder and one row are all that a question takes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple

import typer

from reports.asking.question import PageQuestion
from reports.questions import QUESTIONS
from reports.schema.sealed import Sealed
from reports.schema.written_answer import WrittenAnswer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from reports.ask.job import Job
    from reports.asking.laying import LaysMarkers


class ToyAnswer(Sealed):
    """How many cloths a job offers, times a number, and the seed that was told."""

    job: str
    cloths: int
    seed: int


class ToyOptions(NamedTuple):
    """By what the cloths are multiplied."""

    times: Annotated[int, typer.Option("--by-how-many", min=1, help="A number to multiply by.")] = 1
    how: Annotated[Literal["loud", "soft"], typer.Option("--how", help="How it is told.")] = "soft"


class ToyFound(NamedTuple):
    """A count of cloths."""

    job: str
    cloths: int
    seed: int
    how: str


class Toy(PageQuestion[ToyFound, ToyFound]):
    """Count the cloths of a job, which is of no use."""

    name = "toy"
    example = "ellwand toy jacket.toml"
    Options = ToyOptions
    titles = {"toy": "The count"}  # noqa: RUF012 - as the other questions have it

    def read(self, subject: Job, options: ToyOptions) -> ToyFound:
        """Count."""
        return ToyFound(subject.name, options.times * len(subject.fabric), 0, options.how)

    def lay(self, posed: ToyFound, laying: LaysMarkers) -> ToyFound:
        """Lay nothing; take the seed."""
        return posed._replace(seed=laying.effort.seed)

    def plain(self, found: ToyFound) -> dict[str, Any]:
        """Tell the count."""
        return {"job": found.job, "cloths": found.cloths, "seed": found.seed}

    def words(self, found: ToyFound) -> Iterator[str]:
        """Tell the count."""
        line = f"{found.cloths} cloths."
        yield line.upper() if found.how == "loud" else line

    def files(self, posed: ToyFound) -> list[str]:
        """A text."""
        return ["toy.txt"]

    def write(self, found: ToyFound, folder: Path) -> list[Path]:
        """Write it."""
        folder.mkdir(exist_ok=True)
        (folder / "toy.txt").write_text("\n".join(self.words(found)) + "\n", encoding="utf-8")
        return [folder / "toy.txt"]

    def schema(self) -> WrittenAnswer:
        """A count."""
        return WrittenAnswer("a count of cloths", ToyAnswer, 3)


def task(
    kind: str, payload: dict[str, Any], emit: Callable[[dict[str, Any]], None], told_to_stop: Callable[[], bool]
) -> dict[str, Any]:
    """Do a search as the page's own process does it, where the toy is a row of the table as well."""
    from reports.page.searches.work import run_task

    if not any(question.name == Toy.name for question in QUESTIONS):
        QUESTIONS.append(Toy())
    return run_task(kind, payload, emit, told_to_stop)
