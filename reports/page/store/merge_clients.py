"""Clients brought together: one who is there gets the sets of measurements that she has not; another comes in."""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING

from reports.page.store.beside import beside, others

if TYPE_CHECKING:
    from collections.abc import Sequence
    from sqlite3 import Connection

    from reports.page.store.brought import StoredRow


def add_clients(database: Connection, rows: Sequence[StoredRow], names: dict[str, str], end: str) -> dict[str, int]:
    """Add clients who are not there. She is the same by her id, or by her name where her measurements are the same.

    Parameters
    ----------
    names
        Is told under which id each of them is here.
    end
        What is put to the name of one who comes in beside another of her name.
    """
    counts = {"added": 0, "same": 0}
    for row in rows:
        here = database.execute("SELECT id FROM clients WHERE id = ?", (row["id"],)).fetchone()
        for number in count():
            if here:
                break
            name = beside(row["name"], number, end) if number else row["name"]
            there = database.execute("SELECT id, body FROM clients WHERE name = ?", (name,)).fetchone()
            if there is None:
                database.execute(
                    "INSERT INTO clients VALUES (?, ?, ?, ?)", (row["id"], name, row["body"], row["changed"])
                )
                break
            here = there if there[1] == row["body"] else None
        names[row["id"]] = here[0] if here else row["id"]
        counts["same" if here else "added"] += 1
    return counts


def add_measured(database: Connection, rows: Sequence[StoredRow], names: dict[str, str]) -> dict[str, int]:
    """Add the sets of measurements that a client has not; those of now stay those of now."""
    counts = {"added": 0, "same": 0}
    for row in rows:
        client = names.get(row["client"], row["client"])
        same = "SELECT 1 FROM measured WHERE client = ? AND day = ? AND body = ?"
        is_there = database.execute(same, (client, row["day"], row["body"])).fetchone() is not None
        counts["same" if is_there else "added"] += 1
        if is_there:
            continue
        taken = "SELECT 1 FROM measured WHERE id = ?"
        own = next(one for one in others(row["id"]) if not database.execute(taken, (one,)).fetchone())
        values = (own, client, row["day"], row["made"], row["note"], row["body"])
        database.execute("INSERT INTO measured VALUES (?, ?, ?, ?, ?, ?)", values)
    return counts
