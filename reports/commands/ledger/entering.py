"""What all actions of `ledger` share: where the ledger is, and how an entry is made and told."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from reports.asking.options import AsJson
from reports.commands.kit.terminal import emit, show
from reports.ledger.asked import LedgerFolder, journal_in

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from reports.ledger.entry import Entry, LedgerKind
    from reports.ledger.journal import Journal

ItemName = Annotated[str, typer.Argument(metavar="ITEM", help='What is on hand, such as "roll 7", or its number.')]
OrderName = Annotated[str, typer.Argument(metavar="ORDER", help="What the order is called in the ledger.")]


class Entering(NamedTuple):
    """What may be said of every entry."""

    day: Annotated[
        str | None, typer.Option("--date", metavar="DAY", help="The day that it is about; by default today.")
    ] = None
    corrects: Annotated[
        int | None,
        typer.Option("--corrects", metavar="N", min=1, help="The entry whose place this one takes; both are kept."),
    ] = None
    note: Annotated[str, typer.Option("--note", metavar="TEXT", help="A remark that is kept with the entry.")] = ""
    folder: LedgerFolder = None
    as_json: AsJson = False


def enter(kind: LedgerKind, told: dict[str, Any], entering: Entering, words: str = "") -> None:
    """Make an entry, and tell of it; `words` are said with it."""
    from reports.ledger.record import record
    from reports.ledger.standing import standing_of
    from reports.ledger.words import entry_words

    journal = journal_in(entering.folder)
    said = told | {"note": entering.note}
    entry = record(journal, kind, said, day=day_of(entering.day), corrects=entering.corrects)
    standing = standing_of(journal.entries())
    if entering.as_json:
        emit_ledger(journal, [entry])
        return
    show(f"Entry {entry.number}, {entry.day.isoformat()}: {entry_words(entry, standing)}.", *([words] if words else []))
    first = standing.first_of(entry)
    named = (first.id, *first.told.values(), *entry.told.values())
    touched = {told for told in named if isinstance(told, str)}
    for item in standing.items.values():
        if item.id in touched:
            show(f"  {item.label}: {item.write(item.left)} left.")


def emit_ledger(journal: Journal, entries: Sequence[Entry] = (), files: Sequence[str] = ()) -> None:
    """The ledger for machines."""
    from reports.ledger.plain import ledger_to_plain
    from reports.ledger.standing import standing_of

    emit(json.dumps(ledger_to_plain(standing_of(journal.entries()), entries, files)))


def day_of(text: str | None) -> date | None:
    """A day as it is typed; LedgerError if it is none."""
    from datetime import date

    from reports.errors import LedgerError

    if text is None:
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        such = "such as 2026-11-29"
        raise LedgerError(f"--date: write a day as year, month, day, {such}, not '{text[:40]}'") from None


def by_size(counts: Sequence[str]) -> dict[str, int]:
    """Garments by size, each typed as ``M=8``; LedgerError if one cannot be read."""
    from reports.errors import LedgerError

    found: dict[str, int] = {}
    for text in counts:
        size, equals, number = text.rpartition("=")
        size = " ".join(size.split())
        if not equals or not size or not (number.strip().isascii() and number.strip().isdigit()):
            raise LedgerError(f"cannot read '{text[:40]}': write each size with its number, such as M=8 L=6")
        if size in found:
            raise LedgerError(f"size {size} stands twice: write it once, with the sum")
        found[size] = int(number)
    return found
