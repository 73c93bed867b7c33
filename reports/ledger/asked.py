"""The options by which a question looks in the ledger for what is on hand."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from reports.ledger.journal import Journal

AskLedger = Annotated[
    bool, typer.Option("--on-hand", help="Look in the ledger: what is on hand, and what is still to buy.")
]

LedgerFolder = Annotated[
    Path | None,
    typer.Option("--folder", metavar="DIR", help="Folder of the ledger; by default where the page saves its work."),
]


def folder_asked(on_hand: bool, folder: Path | None) -> Path | None:
    """The folder of the ledger to look in; None where it is not asked."""
    from reports.folder import own_folder

    return (folder or own_folder()) if on_hand or folder else None


def journal_in(folder: Path | None) -> Journal:
    """The journal of a folder, by default the user's own."""
    from reports.folder import own_folder
    from reports.ledger.journal import Journal

    return Journal(folder or own_folder())
