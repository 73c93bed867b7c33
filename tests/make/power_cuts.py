"""Saved work killed while it is written to: a process of its own, as it forks.

Each line on its standard input is the number of a cut. A child writes to the folder, and tells of each write through a
pipe before it begins and once it is acknowledged. It is killed at a moment that follows from the number. Then the
folder is opened again, and held against what was acknowledged. A line of JSON comes back: how many writes were
acknowledged in all, and what is wrong.
"""

from __future__ import annotations

import json
import os
import random
import select
import signal
import sys
import time
from contextlib import suppress
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reports.errors import MissingError
from reports.ledger.journal import Journal
from reports.ledger.record import record
from reports.output import write_text
from reports.page.errors import ChangedError, TakenError
from reports.page.store.copies import Copies, brought_from, newest_in
from reports.page.store.opening import open_store
from reports.page.store.photos import Photos
from reports.page.store.shelf import Shelf
from reports.page.work_folder import UPLOADS
from tests.make.photo import picture

if TYPE_CHECKING:
    from reports.page.store.store import Store

LONGEST = 0.12
"""Seconds after a child's first acknowledged write in which it is killed."""

FIRST_DAY = date(2026, 1, 1)


class Writer:
    """A child's work: writes of every kind, each told before and after."""

    def __init__(self, folder: Path, number: int, pipe: int) -> None:
        self._folder, self._pipe, self._chance = folder, pipe, random.Random(number)
        self._store, self._number = open_store(folder), number

    def go_on(self) -> None:
        """Write until killed."""
        kinds = [self._project, self._client, self._thing, self._photo, self._pattern, self._entry, self._copy]
        count = 0
        while True:
            count += 1
            self._chance.choice(kinds)(f"{self._number}-{count}")

    def _tell(self, what: str, *key: str, held: Any = None) -> None:
        os.write(self._pipe, (json.dumps([what, list(key), held]) + "\n").encode())

    def _done(self, *key: str, held: Any) -> None:
        self._tell("done", *key, held=held)

    def _project(self, word: str) -> None:
        there = self._store.projects()
        if len(there) < 6:
            data = {"word": word, "long": "x" * self._chance.randrange(20_000)}
            self._tell("try", "new project", held=None)
            made = self._store.add_project(word, data)
            return self._done("project", made["id"], held=[made["version"], data])
        one = self._chance.choice(there)
        self._tell("try", "project", one["id"])
        if self._chance.random() < 0.2:
            self._store.drop_project(one["id"])
            return self._done("project", one["id"], held=None)
        data = {"word": word, "long": "y" * self._chance.randrange(20_000)}
        saved = self._store.save_project(one["id"], one["version"], word, data)
        return self._done("project", one["id"], held=[saved["version"], data])

    def _client(self, word: str) -> None:
        name = self._chance.choice(["Ann", "Bea 🧵", "נועה"])
        self._tell("try", "client", name)
        self._store.keep_client(name, {"bust": word})
        self._done("client", name, held=word)

    def _thing(self, word: str) -> None:
        shelf, name = Shelf(self._store), self._chance.choice(["canvas", "twill"])
        self._tell("try", "thing", name)
        with suppress(TakenError):
            shelf.add("cloth", name, {"width": word})
            return self._done("thing", name, held=word)
        one = next(each for each in shelf.all() if each["name"] == name)
        with suppress(ChangedError):
            shelf.change(one["id"], one["version"], name, {"width": word})
        return self._done("thing", name, held=word)

    def _photo(self, word: str) -> None:
        projects = self._store.projects()
        if not projects:
            return None
        owner = self._chance.choice(projects)["id"]
        colour = f"#{self._chance.randrange(1 << 24):06x}"
        photo = Photos(self._store).add("project", owner, word, picture(colour))
        return self._done("photo", photo["id"], owner, held=None)

    def _pattern(self, word: str) -> None:
        name, text = f"{self._chance.randrange(1 << 128):032x}.json", json.dumps({"word": word})
        write_text(self._folder / UPLOADS / name, text, durable=True)
        self._done("pattern", name, held=text)

    def _entry(self, word: str) -> None:
        made = record(Journal(self._folder), "bought", {"what": "trim", "name": word, "amount": 1})
        self._done("entry", made.id, held=word)

    def _copy(self, word: str) -> None:
        copies = Copies(self._store, lambda: FIRST_DAY + timedelta(days=self._chance.randrange(40)))
        if copies.make_latest() | copies.make_if_due():
            self._done("copy", held=None)
        if copies.fault:
            raise RuntimeError(copies.fault)


class Acknowledged:
    """What was acknowledged so far, and what a kill may have left half done."""

    def __init__(self) -> None:
        self.known: dict[tuple[str, ...], Any] = {}
        self.open: set[tuple[str, ...]] = set()
        self.count = 0

    def heard(self, line: bytes) -> None:
        """Take in a line of a child."""
        what, key, held = json.loads(line)
        if what == "try":
            self.open = {tuple(key)}
            return
        self.open, self.count = set(), self.count + 1
        self.known[tuple(key)] = held

    def faults(self, folder: Path) -> list[str]:
        """What of it is not there."""
        store = open_store(folder)
        found = [store.said] if store.said else []
        try:
            entries = {entry.id for entry in Journal(folder).entries()}
            photos = {one["id"] for one in Photos(store).all()}
            for key, held in list(self.known.items()):
                if key not in self.open and not self._is_there(store, key, held, entries, photos):
                    found.append(f"{key}: {str(held)[:80]}")
            self.open = set()
            for copy in newest_in(folder):
                brought_from(copy, folder)
            self._settle(store)
        finally:
            store.close()
        return found

    def _is_there(self, store: Store, key: tuple[str, ...], held: Any, entries: set[str], photos: set[str]) -> bool:
        kind, *rest = key
        if kind == "project":
            try:
                now = store.project(rest[0])
            except MissingError:
                now = None
            return bool((now and [now["version"], now["data"]]) == held)
        if kind == "client":
            one = next((each for each in store.clients() if each["name"] == rest[0]), None)
            sets = [each["body"]["bust"] for each in store.measured(one["id"])] if one else []
            return one is not None and one["body"]["bust"] == held and held in sets
        if kind == "thing":
            return any(one["name"] == rest[0] and one["data"]["width"] == held for one in Shelf(store).all())
        if kind == "photo":
            owner = self.known.get(("project", rest[1]))
            is_gone = owner is None or ("project", rest[1]) in self.open
            return is_gone or (rest[0] in photos and Photos(store).read(rest[0]).startswith(b"\xff\xd8"))
        if kind == "pattern":
            return bool((store.folder / UPLOADS / rest[0]).read_text(encoding="utf-8") == held)
        return kind == "copy" or rest[0] in entries

    def _settle(self, store: Store) -> None:
        """Take what stands for what is known, where a write was begun that was never acknowledged."""
        for one in store.projects():
            now = store.project(one["id"])
            self.known["project", one["id"]] = [now["version"], now["data"]]
        there = {one["id"] for one in store.projects()}
        self.known = {key: held for key, held in self.known.items() if key[0] != "project" or key[1] in there}
        for client in store.clients():
            self.known["client", client["name"]] = client["body"]["bust"]
        for thing in Shelf(store).all():
            self.known["thing", thing["name"]] = thing["data"]["width"]


def cut(folder: Path, number: int, known: Acknowledged) -> list[str]:
    """Let a child write, kill it, and see what is there; what is wrong."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        Writer(folder, number, writing).go_on()
    os.close(writing)
    wait = random.Random(number).uniform(0, LONGEST)
    left, end = b"", None
    while end is None or time.monotonic() < end:
        ready, _, _ = select.select([reading], [], [], None if end is None else max(0.0, end - time.monotonic()))
        if ready:
            got = os.read(reading, 1 << 16)
            if not got:
                break
            left += got
        if end is None and b"done" in left:
            end = time.monotonic() + wait
    os.kill(child, signal.SIGKILL)
    while got := os.read(reading, 1 << 16):
        left += got
    os.close(reading)
    _, status = os.waitpid(child, 0)
    for line in left.split(b"\n")[:-1]:
        known.heard(line)
    faults = [] if os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL else ["the child ended by itself"]
    return faults + known.faults(folder)


def main() -> None:
    """Cut as often as there are numbers."""
    folder, known = Path(sys.argv[1]), Acknowledged()
    for line in sys.stdin:
        faults = cut(folder, int(line), known)
        print(json.dumps({"acknowledged": known.count, "faults": faults}), flush=True)


if __name__ == "__main__":
    main()
