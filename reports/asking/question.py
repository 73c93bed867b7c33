"""A question: what is asked about, how it is laid, and how its answer is told. `reports.questions` lists them all."""

from __future__ import annotations

import inspect
import json
from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Generic, NamedTuple, TypeVar

from reports.asking.download import Download
from reports.asking.options import ManySearch, OneSearch
from reports.asking.subject import JOB
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping
    from pathlib import Path

    from rich.table import Table

    from reports.asking.laying import LaysMarkers
    from reports.asking.subject import SubjectFile
    from reports.schema.written_answer import WrittenAnswer

Posed = TypeVar("Posed")
Found = TypeVar("Found")


KEPT_BESIDE = ("markers", "by_hand")
"""What is kept of a search of the page beside what was shown: the keys of the markers, and what was laid by hand."""

SHOWN_ONLY = ("words", "said", "text", *KEPT_BESIDE)
"""What a search of the page has beside the answer for machines."""


class NoOptions(NamedTuple):
    """No options of its own."""


class Question(ABC, Generic[Posed, Found]):
    """A question; its docstring's first line is what the command line says of it.

    Attributes
    ----------
    name
        What it is called on the command line and by the page.
    example
        A use of it on the command line.
    Options
        A named tuple of options of its own, annotated for typer; the page sends them under the options' names.
    subject
        What it is asked about.
    search
        The options that say how hard to search.
    usual
        The effort where none is asked for.
    command_only
        Options that the page does not have, as they name a place on this machine.
    has_folder
        Whether files are written unless JSON is asked for, into a folder named after the subject and the question.
    """

    name: ClassVar[str]
    example: ClassVar[str]
    Options: ClassVar[Any] = NoOptions
    subject: ClassVar[SubjectFile] = JOB
    search: ClassVar[type[OneSearch | ManySearch]] = ManySearch
    usual: ClassVar[Effort] = Effort()
    command_only: ClassVar[tuple[str, ...]] = ()
    has_folder: ClassVar[bool] = False

    @property
    def what(self) -> str:
        """What it says, for the command line's help."""
        return inspect.cleandoc(self.__doc__ or "").splitlines()[0]

    def subject_of(self, options: Any) -> SubjectFile:
        """What is asked about with some options: what the question is always asked about, unless it says otherwise."""
        return self.subject

    @abstractmethod
    def read(self, subject: Any, options: Any) -> Posed:
        """Check what is asked of a job or an order; what is to be laid."""

    @abstractmethod
    def lay(self, posed: Posed, laying: LaysMarkers) -> Found:
        """Search for the answer."""

    @abstractmethod
    def plain(self, found: Found) -> dict[str, Any]:
        """The answer for machines: what `--json` prints."""

    @abstractmethod
    def words(self, found: Found) -> Iterable[Table | str]:
        """The answer for people: tables and lines."""

    @abstractmethod
    def files(self, posed: Posed) -> list[str]:
        """Names of all files that may be written, known before any work."""

    @abstractmethod
    def write(self, found: Found, folder: Path) -> list[Path]:
        """Write the files; those that were written."""

    @abstractmethod
    def schema(self) -> WrittenAnswer:
        """What the answer for machines is."""

    def leftovers(self, folder: Path) -> list[Path]:
        """Files of an earlier answer in a folder that writing removes."""
        return []

    def code(self, found: Found) -> int:
        """The command's exit code."""
        return 0

    def why(self, found: Found) -> str:
        """Why the exit code is not 0, in a line for whoever reads what went wrong."""
        return ""

    def is_settled(self, found: Found) -> bool:
        """Whether more search would change nothing, so that an interrupt took nothing from it."""
        return False


@dataclass(frozen=True)
class Ended:
    """A search of the page that has ended: what was asked, and what was shown of the answer."""

    posed: Any
    result: Mapping[str, Any]


class PageQuestion(Question[Posed, Found]):
    """A question that the page asks as well: its answer can be made again from what was shown and the markers kept.

    Attributes
    ----------
    titles
        What each file shows, by its name without its ending.
    needs_cloth
        Whether the job must offer a cloth.
    goes_on
        Whether a search may go on from an answer before.
    asks_ledger
        Whether it looks in the ledger: the page tells it the folder of saved work as the job's.
    """

    titles: ClassVar[Mapping[str, str]] = {}
    needs_cloth: ClassVar[bool] = False
    goes_on: ClassVar[bool] = False
    asks_ledger: ClassVar[bool] = False

    def shown(self, found: Found) -> dict[str, Any]:
        """What the page shows: the answer for machines, and its lines in words."""
        return {**self.plain(found), "words": [part for part in self.words(found) if isinstance(part, str)]}

    def as_now(self, posed: Callable[[], Posed], result: dict[str, Any]) -> dict[str, Any]:
        """What was shown, as this version shows it; `posed` gives what was asked."""
        return result

    def again(self, posed: Posed, result: Mapping[str, Any], laying: LaysMarkers) -> Found | None:
        """The answer made again out of markers that are kept; None if it is not the same any more."""
        found = self.lay(posed, laying)
        before = {key: value for key, value in result.items() if key not in KEPT_BESIDE}
        return found if json.dumps(self.shown(found)) == json.dumps(before) else None

    def downloads(self, ended: Ended) -> Iterator[Download]:
        """The files to be had of an answer, what is wanted most first."""
        for name in self.files(ended.posed):
            yield Download(name, self.titles[name.rsplit(".", 1)[0]], self.name)

    def write_group(self, found: Found, group: str, folder: Path) -> None:
        """Write the files that are made together."""
        self.write(found, folder)

    def text(self, ended: Ended, name: str) -> str | None:
        """A file that stands in what was shown; None if it has to be made."""
        if name.endswith(".txt"):
            return "\n".join(ended.result["words"]) + "\n"
        if not name.endswith(".json"):
            return None
        return json.dumps({key: value for key, value in ended.result.items() if key not in SHOWN_ONLY}, indent=2) + "\n"
