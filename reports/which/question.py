"""The question which of the cloths on hand will do."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, NamedTuple

import typer

from reports.asking.options import OneSearch
from reports.asking.question import PageQuestion
from reports.ledger.asked import LedgerFolder, folder_asked
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from rich.table import Table

    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.asking.laying import LaysMarkers
    from reports.schema.written_answer import WrittenAnswer
    from reports.which.which import WhichFound

FILES = ("which.json", "which.txt")

NONE = 1
"""Exit code where for none a layout was found."""


class WhichOptions(NamedTuple):
    """Whose pieces are laid, and where the ledger is."""

    cloth: Annotated[
        str | None,
        typer.Option("--cloth", metavar="NAME", help="Lay the pieces of this cloth of the job; by default the first."),
    ] = None
    folder: LedgerFolder = None


class WhichAsked(NamedTuple):
    """A job, its cloth whose pieces are laid, and the folder of the ledger; None where nobody says."""

    job: Job
    cloth: FabricOffer | None
    folder: Path | None


class Which(PageQuestion[WhichAsked, "WhichFound"]):
    """Say which of the cloths on hand will do, the smallest first: yes, no with a proof, or not found."""

    name = "which"
    example = "ellwand which jacket.toml"
    Options = WhichOptions
    command_only = ("folder",)
    search = OneSearch
    usual = Effort()
    asks_ledger = True
    titles: ClassVar[dict[str, str]] = {"which": "Which of the cloths on hand will do"}

    def read(self, subject: Job, options: WhichOptions) -> WhichAsked:
        """Find the cloth."""
        from reports.fit.remnant import cloth_named

        folder = subject.ledger or folder_asked(True, options.folder)
        return WhichAsked(subject, cloth_named(subject, options.cloth), folder)

    def lay(self, posed: WhichAsked, laying: LaysMarkers) -> WhichFound:
        """Lay the pieces on each cloth on hand."""
        from reports.errors import StateError
        from reports.ledger.asked import journal_in
        from reports.ledger.standing import stock_in
        from reports.which.which import cloths_on_hand, which_will_do

        items = cloths_on_hand(stock_in(journal_in(posed.folder)))
        if not items:
            raise StateError("no cloth is on hand by the ledger: enter what you have, with its width and length")
        with laying.watched(posed.job.written_in) as effort:
            return which_will_do(posed.job, posed.cloth, items, effort, laying.told)

    def plain(self, found: WhichFound) -> dict[str, Any]:
        """Each cloth with its answer."""
        from reports.which.plain import which_to_plain

        return which_to_plain(found)

    def words(self, found: WhichFound) -> Iterator[Table | str]:
        """A line for each cloth, and what to do."""
        from reports.which.words import which_lines

        yield from which_lines(found)

    def files(self, posed: WhichAsked) -> list[str]:
        """The answer as data and in words."""
        return list(FILES)

    def write(self, found: WhichFound, folder: Path) -> list[Path]:
        """Write them."""
        from reports.output import write_text
        from reports.which.words import which_lines

        plain, text = (folder / name for name in FILES)
        write_text(plain, json.dumps(self.plain(found)))
        write_text(text, "\n".join(which_lines(found)) + "\n")
        return [plain, text]

    def schema(self) -> WrittenAnswer:
        """Yes with a layout that was checked, no with a proof, or not found, of each cloth."""
        from reports.schema.written_answer import WrittenAnswer
        from reports.which.schema import WhichAnswer

        return WrittenAnswer("which of the cloths on hand will do", WhichAnswer)

    def code(self, found: WhichFound) -> int:
        """0 where one will do."""
        return 0 if found.best else NONE

    def is_settled(self, found: WhichFound) -> bool:
        """Whether each is yes or no."""
        return all(one.answer in ("yes", "no", "refused") for one in found.tried)
