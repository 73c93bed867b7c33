"""The searches that wait, run and have ended: a bounded queue before a few worker processes."""

from __future__ import annotations

import logging
import multiprocessing
import secrets
import threading
from typing import TYPE_CHECKING, Any

from reports.batch.study import cores
from reports.errors import StateError
from reports.page.errors import FullError, StoreError
from reports.page.search import LOST, Search
from reports.page.searches.turns import Turns
from reports.page.searches.worker import NICE_FIRST, Check, SearchTask, Worker, default_check, default_task
from reports.page.work_folder import BEFORE, FOLDER, MARKERS, WorkMarkers
from reports.questions import page_questions

if TYPE_CHECKING:
    from reports.page.store.store import Store

MOST_WORKERS = 4
"""Processes at the most, however many cores there are."""

FIRST_WORKERS = 1
"""Processes beside them that do first layouts alone, so that nobody waits for a search of minutes to get one."""

PRICE = ".price"
"""What a field that a price stands in ends in."""

MOST_REMEMBERED = 40
"""Ended searches in memory, with their events; older ones are read from the store."""

PATIENCE = 2.0
"""Seconds that running searches have to hand over their best when the server stops."""


class Searches:
    """The searches of a server.

    Parameters
    ----------
    store
        Where they are kept, so that nothing that was found is lost.
    task, check
        What the workers do, and what looks at what is asked of them first.
    workers
        How many processes; by default as many as there are cores, and one for first layouts alone. Each has a low
        priority, so that the page stays quick.
    turns
        Those that wait.
    """

    def __init__(
        self,
        store: Store,
        task: SearchTask = default_task,
        check: Check = default_check,
        *,
        workers: int | None = None,
        turns: Turns | None = None,
    ) -> None:
        self.is_closing = False
        self._store, self._check, self._waiting = store, check, Turns() if turns is None else turns
        self._known: dict[str, Search] = {}
        self._changed = threading.Condition()
        store.end_lost_searches(LOST)
        WorkMarkers(store.folder / MARKERS, None).keep_only(store.markers_used())
        self._hurry = multiprocessing.get_context("spawn").Event()
        firsts = [Worker(task, nice=NICE_FIRST, hurry=self._hurry) for _ in range(0 if workers else FIRST_WORKERS)]
        others = (Worker(task, hurry=self._hurry) for _ in range(workers or min(MOST_WORKERS, cores())))
        self._workers = [*firsts, *others]
        self._idle_firsts = 0
        self._threads = [
            threading.Thread(target=self._work, args=(worker, worker in firsts), daemon=True, name=f"searches-{number}")
            for number, worker in enumerate(self._workers)
        ]
        for thread in self._threads:
            thread.start()

    def submit(self, kind: str, payload: dict[str, Any], client: str = "") -> Search:
        """Let a search of a client wait for its turn.

        Raises
        ------
        FullError
            If too many of this client wait already, or too many of all.
        MissingError, StateError
            If it is to be better than an answer that is not there, or is one to another job.
        PieceError, NestingError, ReportError
            If there is something wrong with what is asked for.
        """
        payload = self._asked(payload)
        self._check(kind, payload)
        if payload.get("better_than") is not None:
            payload[BEFORE] = self._to_go_on_from(payload["better_than"], payload)
        search = Search(secrets.token_hex(16), kind, payload, client=client)
        search.turn("waiting")
        with self._changed:
            if self.is_closing:
                raise FullError("the server is about to stop: try again once it is there again")
            self._waiting.require_room(client)
            self._store.keep_search(search.kept())
            self._known[search.id] = search
            self._wait(search)
        return search

    @property
    def is_idle(self) -> bool:
        """Whether no search waits or runs."""
        with self._changed:
            return all(search.has_ended for search in self._known.values())

    def find(self, search: str) -> Search:
        """A search by its id; MissingError if there is none."""
        with self._changed:
            if search in self._known:
                return self._known[search]
        kept = self._store.search(search)
        found = Search(kept["id"], kept["kind"], self._asked(kept["payload"]), took=kept["seconds"])
        found.turn(kept["state"], kept["result"], kept["error"])
        return found

    def _asked(self, payload: dict[str, Any]) -> dict[str, Any]:
        """What is asked for, with the folder of this server's work."""
        return payload | {FOLDER: str(self._store.folder)}

    def _to_go_on_from(self, search: str, payload: dict[str, Any]) -> dict[str, Any]:
        """The answer of a search that a better one is asked for. Its layouts hold at any price."""
        found = self.find(search)
        if not page_questions()[found.kind].goes_on or not found.has_ended or found.result is None:
            raise StateError("there is no answer to improve: find what to buy first")
        from reports.page.answers.changes import changes

        if changed := [one for one in changes(found.payload, payload) if not one.field.endswith(PRICE)]:
            raise StateError(f"{changed[0].name} has changed since that answer: find what to buy again")
        return found.result

    def stop(self, search: str) -> Search:
        """Ask a search to stop; one that waits has stopped at once, one that runs hands over its best in moments."""
        found = self.find(search)
        with self._changed:
            found.is_stop_asked = True
            if found in self._waiting:
                self._waiting.drop(found)
                self._hurry_on()
                found.turn("stopped", error="stopped before there was an answer")
                self._store.keep_search(found.kept())
        return found

    def forget(self, search: str) -> None:
        """Stop a search, and keep nothing of it."""
        found = self.stop(search)
        with self._changed:
            self._known.pop(found.id, None)
        self._store.drop_search(found.id)

    def keep(self, search: str, result: dict[str, Any]) -> Search:
        """Put another result in the place of an ended search's, such as a layout made by hand; beside a kept answer.

        Raises
        ------
        StateError
            If it has not ended, or has no result.
        """
        found = self.find(search)
        if not found.has_ended or found.result is None:
            raise StateError("this search has no result yet: wait for it, or stop it")
        if self._store.is_kept(search):
            beside = Search(secrets.token_hex(16), found.kind, found.payload, took=found.took)
            beside.turn("done", result)
            found = beside
        found.result = result
        self._store.keep_search(found.kept())
        return found

    def close(self) -> None:
        """Stop all searches, keep what they have found so far, and end the processes."""
        with self._changed:
            self.is_closing = True
            self._changed.notify_all()
        for worker in self._workers:
            worker.ask_to_end()
        for thread in self._threads:
            thread.join(PATIENCE)
        for worker in self._workers:
            worker.close()
        for thread in self._threads:
            thread.join(PATIENCE)

    def _work(self, worker: Worker, only_first: bool) -> None:
        """In a thread for each worker: one search after another."""
        while search := self._next(only_first):
            worker.run(search)
            with self._changed:
                if search.id in self._known and search.has_ended:
                    self._keep(search)
                elif search.id in self._known:
                    self._wait(search)
                ended = [other for other in self._known.values() if other.has_ended]
                for old in ended[:-MOST_REMEMBERED]:
                    del self._known[old.id]

    def _wait(self, search: Search) -> None:
        """Let it wait for its turn."""
        self._waiting.add(search)
        self._hurry_on()
        self._changed.notify_all()

    def _hurry_on(self) -> None:
        """Let whoever shows a layout give way while others have not seen one."""
        self._hurry.set() if self._waiting.is_in_a_hurry else self._hurry.clear()

    def _keep(self, search: Search) -> None:
        try:
            self._store.keep_search(search.kept())
        except StoreError as error:  # a full disk, say; whoever waits for the answer gets it all the same
            logging.getLogger("ellwand").error("a search could not be saved: %s", error)

    def _next(self, only_first: bool) -> Search | None:
        """The search whose turn it is, once there is one; None when the server stops."""
        with self._changed:
            self._idle_firsts += only_first
            try:
                while not self.is_closing:
                    if found := self._waiting.take(firsts=only_first or not self._idle_firsts, others=not only_first):
                        self._hurry_on()
                        return found
                    self._changed.wait()
                return None
            finally:
                if only_first:  # from now on the others may take what more there is
                    self._idle_firsts -= 1
                    self._changed.notify_all()
