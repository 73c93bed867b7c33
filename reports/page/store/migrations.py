"""What makes each version of the database out of the one before."""

from __future__ import annotations

import sqlite3

from reports.page.errors import StoreError

APPLICATION = 0x656C6C77
"""What SQLite calls an application id: marks the file as ours."""

MIGRATIONS = (
    """
    CREATE TABLE projects (
        id TEXT PRIMARY KEY, name TEXT NOT NULL, data TEXT NOT NULL, version INTEGER NOT NULL, changed TEXT NOT NULL
    );
    """,
    """
    CREATE TABLE searches (
        id TEXT PRIMARY KEY, kind TEXT NOT NULL, payload TEXT NOT NULL, state TEXT NOT NULL, seconds REAL NOT NULL,
        result TEXT, error TEXT, made TEXT NOT NULL
    );
    """,
    # Clients were kept among the projects, under a name that was not shown; a backup brought them back beside it.
    """
    CREATE TABLE clients (
        id TEXT PRIMARY KEY, name TEXT NOT NULL UNIQUE, body TEXT NOT NULL, changed TEXT NOT NULL
    );
    CREATE TABLE settings (name TEXT PRIMARY KEY, value TEXT NOT NULL);
    CREATE TEMPORARY TABLE hidden AS
        SELECT json_extract(one.value, '$.name') AS name, json_extract(one.value, '$.body') AS body, changed,
            projects.name <> '~clients' AS restored
        FROM projects, json_each(projects.data, '$.clients') AS one
        WHERE (projects.name = '~clients' OR projects.name LIKE '~clients (from backup)')
            AND json_type(one.value, '$.name') = 'text' AND json_type(one.value, '$.body') = 'object';
    INSERT OR IGNORE INTO clients
        SELECT lower(hex(randomblob(8))), name, body, changed FROM hidden ORDER BY restored;
    INSERT OR IGNORE INTO clients
        SELECT lower(hex(randomblob(8))), name || ' (from backup)', body, changed FROM hidden
        WHERE NOT EXISTS (SELECT 1 FROM clients WHERE clients.name = hidden.name AND clients.body = hidden.body);
    DROP TABLE hidden;
    DELETE FROM projects WHERE name = '~clients' OR name LIKE '~clients (from backup)';
    """,
    # Of a client only the last measurements were kept. What is kept of them becomes the first of her dated sets, under
    # her own id, so that an old backup restored twice brings it once.
    """
    CREATE TABLE measured (
        id TEXT PRIMARY KEY, client TEXT NOT NULL, day TEXT NOT NULL, made TEXT NOT NULL, note TEXT NOT NULL,
        body TEXT NOT NULL
    );
    INSERT INTO measured
        SELECT id, id, CASE WHEN date(substr(changed, 1, 10)) IS substr(changed, 1, 10) THEN substr(changed, 1, 10)
            ELSE '1970-01-01' END, changed, '', body FROM clients;
    CREATE TABLE shelf (
        id TEXT PRIMARY KEY, kind TEXT NOT NULL, name TEXT NOT NULL, data TEXT NOT NULL, version INTEGER NOT NULL,
        changed TEXT NOT NULL, UNIQUE (kind, name)
    );
    CREATE TABLE photos (
        id TEXT PRIMARY KEY, kind TEXT NOT NULL, owner TEXT NOT NULL, title TEXT NOT NULL, file TEXT NOT NULL,
        bytes INTEGER NOT NULL, made TEXT NOT NULL
    );
    """,
)
"""What makes each version of the database out of the one before; never changed, only added to."""


def migrate(database: sqlite3.Connection) -> None:
    """Bring a database up to the newest version, one version a transaction; StoreError if it is not ours, or newer."""
    (version,) = database.execute("PRAGMA user_version").fetchone()
    (application,) = database.execute("PRAGMA application_id").fetchone()
    is_empty = not database.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchall()
    if application != APPLICATION and not (is_empty and version == 0):
        raise StoreError("it is not a store of ellwand")
    if version > len(MIGRATIONS):
        raise StoreError(
            f"it has version {version}, written by a newer ellwand; this one reads up to {len(MIGRATIONS)}"
        )
    for number, script in enumerate(MIGRATIONS[version:], version + 1):
        mark = f"PRAGMA application_id = {APPLICATION}; PRAGMA user_version = {number};"
        try:
            database.executescript(f"BEGIN IMMEDIATE; {script} {mark} COMMIT;")
        except sqlite3.Error:
            if database.in_transaction:
                database.execute("ROLLBACK")
            raise
