"""The shelf: cloths, ribs and trims as a job offers them, own styles, legends of programs, each under a name.

What there is of them, and how much is left, is told by the ledger alone.
"""

from __future__ import annotations

import json
import secrets
from sqlite3 import IntegrityError
from typing import TYPE_CHECKING, Any

from reports.errors import MissingError
from reports.page.errors import ChangedError, TakenError
from reports.page.store.store import plain_text, stamp

if TYPE_CHECKING:
    from reports.page.store.store import Store

SHELF_KINDS = ("cloth", "rib", "trim", "style", "legend")
"""What is kept there."""

COLUMNS = ("id", "kind", "name", "data", "version", "changed")


class Shelf:
    """The shelf of a store."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def all(self) -> list[dict[str, Any]]:
        """Everything on it, by name."""
        rows = self._store.rows(f"SELECT {', '.join(COLUMNS)} FROM shelf ORDER BY name COLLATE NOCASE, id")
        return [dict(zip(COLUMNS, row, strict=True)) | {"data": json.loads(row[3])} for row in rows]

    def find(self, thing: str) -> dict[str, Any]:
        """A thing; MissingError if there is none."""
        found = next((one for one in self.all() if one["id"] == thing), None)
        if found is None:
            raise MissingError("this is not on the shelf any more: it may have been deleted elsewhere")
        return found

    def add(self, kind: str, name: str, data: dict[str, Any]) -> dict[str, Any]:
        """Put something new on it; TakenError if one of its kind has the name already."""
        thing = secrets.token_hex(8)
        try:
            with self._store.writing() as database:
                database.execute(
                    "INSERT INTO shelf VALUES (?, ?, ?, ?, 1, ?)", (thing, kind, name, plain_text(data), stamp())
                )
        except IntegrityError as error:
            raise TakenError(_taken(name)) from error
        return self.find(thing)

    def change(self, thing: str, version: int, name: str, data: dict[str, Any]) -> dict[str, Any]:
        """Save a thing over the version that was read.

        Raises
        ------
        MissingError, ChangedError, TakenError
            If it is not there any more, another version is, or another thing has the name.
        """
        change = "UPDATE shelf SET name = ?, data = ?, version = version + 1, changed = ? WHERE id = ? AND version = ?"
        try:
            with self._store.writing() as database:
                done = database.execute(change, (name, plain_text(data), stamp(), thing, version)).rowcount
        except IntegrityError as error:
            raise TakenError(_taken(name)) from error
        found = self.find(thing)
        if not done:
            raise ChangedError(found, f"'{found['name']}'")
        return found

    def drop(self, thing: str) -> None:
        """Take a thing off it, if it is there; projects that use it keep what they have of it."""
        with self._store.writing() as database:
            database.execute("DELETE FROM shelf WHERE id = ?", (thing,))


def _taken(name: str) -> str:
    return f"there is '{name}' on the shelf already: choose another name, or change that one"
