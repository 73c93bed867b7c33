"""Actions of `ledger` that look at it, or take an entry back: show, history, export, strike."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.ask.choices import UnitsAsked
from reports.asking.options import AsJson, Force
from reports.commands.kit.terminal import show as show_parts
from reports.commands.kit.terminal import show_files
from reports.commands.ledger.entering import Entering, emit_ledger, enter
from reports.ledger.asked import LedgerFolder, journal_in

if TYPE_CHECKING:
    from pieces.units import Units
    from reports.ledger.entry import Entry
    from reports.ledger.standing import LedgerStanding

ShownIn = Annotated[
    UnitsAsked | None, typer.Option("--units", help="Units of planned cloth; by default those of the first roll.")
]


def show(units: ShownIn = None, folder: LedgerFolder = None, as_json: AsJson = False) -> None:
    """Show what is on hand, how far each order is, and rates by what was done."""
    from reports.ledger.standing import standing_of
    from reports.ledger.words import standing_parts

    journal = journal_in(folder)
    if as_json:
        emit_ledger(journal)
        return
    standing = standing_of(journal.entries())
    show_parts(*standing_parts(standing, _units(standing, units)))


def history(
    item: Annotated[
        str | None, typer.Option("--item", metavar="ITEM", help='Only entries about one thing, such as "roll 7".')
    ] = None,
    order: Annotated[str | None, typer.Option("--order", metavar="ORDER", help="Only entries about one order.")] = None,
    folder: LedgerFolder = None,
    as_json: AsJson = False,
) -> None:
    """Show every entry, in the order of entering; what was corrected or struck is still there."""
    from reports.ledger.record import item_called, order_called
    from reports.ledger.standing import standing_of
    from reports.ledger.words import NOTHING, history_table

    journal = journal_in(folder)
    entries = journal.entries()
    standing = standing_of(entries)
    asked = {item_called(standing, item).id} if item else set()
    asked |= {order_called(standing, order).id} if order else set()
    shown = [entry for entry in entries if not asked or _about(entry, asked, standing)]
    if as_json:
        emit_ledger(journal, shown)
    else:
        show_parts(history_table(standing, shown) if entries else NOTHING)


def _about(entry: Entry, asked: set[str], standing: LedgerStanding) -> bool:
    """Whether an entry made a thing or an order, changed it, or names it."""
    first = standing.first_of(entry)
    named = [first.id, *first.told.values(), *entry.told.values()]
    return any(value in asked for value in named if isinstance(value, str))


def strike(
    number: Annotated[int, typer.Argument(metavar="N", min=1, help="The entry that no longer counts.")],
    entering: Entering,
) -> None:
    """Take an entry back: it stays in the history, and no longer counts."""
    from reports.errors import LedgerError

    if entering.corrects is not None:
        raise LedgerError("strike names the entry itself: leave --corrects out")
    enter("struck", {}, entering._replace(corrects=number))


def export(
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="Folder to write to.")] = Path("ledger"),
    units: ShownIn = None,
    folder: LedgerFolder = None,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Write the whole ledger as a workbook (XLSX), and each of its tables as CSV."""
    from reports.ledger.sheets.files import ledger_files, write_ledger
    from reports.ledger.sheets.report import ledger_report
    from reports.ledger.standing import standing_of
    from reports.output import refuse_overwriting

    refuse_overwriting([out / name for name in ledger_files()], force=force)
    journal = journal_in(folder)
    standing = standing_of(journal.entries())
    written = write_ledger(ledger_report(standing, _units(standing, units)), out)
    if as_json:
        emit_ledger(journal, files=[str(path) for path in written])
    else:
        show_files(written)


def _units(standing: LedgerStanding, asked: UnitsAsked | None) -> Units:
    from pieces.units import Units

    first = next((item for item in standing.items.values() if item.by_length), None)
    return Units(asked) if asked else first.units if first else Units.INCHES
