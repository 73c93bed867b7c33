"""How long people wait who use the page at the same time: the page, drafts, the first layout, the answer; first paint.

python benchmarks/page.py [--clients N]... [--drafts N]
"""

from __future__ import annotations

import argparse
import http.client
import json
import math
import os
import sys
import tempfile
import threading
import time
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.make.browser import CHROMIUM, FLAGS, OURS, Server

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

PATIENCE = 300
"""Seconds after which an answer is an error."""


class Client:
    """Someone at the page, who does one thing after another, and how long each of them took."""

    def __init__(self, server: Server, number: int) -> None:
        self.number, self.times, self.error = number, {}, ""
        self._cookie, self._job = {}, None
        self._line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=PATIENCE)
        opened = self._ask("GET", server.address.removeprefix(server.base), expected=303)
        kept = opened.headers.get_all("Set-Cookie") or []  # who may come in, and which browser it is
        self._cookie = {"Cookie": "; ".join(one.partition(";")[0] for one in kept)}

    def _ask(self, method: str, path: str, sent: Any = None, expected: int = 200) -> http.client.HTTPResponse:
        headers = OURS | {"Content-Type": "application/json"} | self._cookie
        self._line.request(method, path, None if sent is None else json.dumps(sent), headers)
        answer = self._line.getresponse()
        if answer.headers["Content-Type"] != "text/event-stream; charset=utf-8":
            self.body = answer.read()
        if answer.status != expected:
            raise AssertionError(f"{method} {path}: {answer.status} {self.body[:200]!r}")
        return answer

    @contextmanager
    def _timed(self, what: str) -> Iterator[None]:
        began = time.perf_counter()
        yield
        self.times.setdefault(what, []).append(time.perf_counter() - began)

    def work(self, drafts: int) -> None:
        """Open the page, change the garment a few times, and ask what to buy."""
        with self._errors():
            with self._timed("page"):
                self._ask("GET", "/")
            for draft in range(drafts):
                job = self._draft("draft", draft)
            self._buy(job)

    def draft_beside(self, others: Sequence[threading.Thread]) -> None:
        """Change the garment now and then, as long as others work."""
        draft = 0
        with self._errors():
            while any(other.is_alive() for other in others):
                time.sleep(0.5)
                self._draft("draft beside searches", draft := draft + 1)

    def _draft(self, what: str, number: int) -> Any:
        """Draft the garment at a length of its own; the job."""
        if not self._job:
            self._ask("GET", "/api/catalogue")
            self._job = json.loads(self.body)["template_job"]
        self._job["style"]["length"] = f"{24 + self.number / 8 + number % 8 / 64} in"
        with self._timed(what):
            self._ask("POST", "/api/draft", {"job": self._job})
        return self._job

    @contextmanager
    def _errors(self) -> Iterator[None]:
        try:
            yield
        except (OSError, AssertionError, http.client.HTTPException) as error:
            self.error = f"client {self.number}: {error!r}"
        finally:
            self._line.close()

    def _buy(self, job: Any) -> None:
        """Ask as the page does: for first layouts, then for better ones; each until its stream ends."""
        began = time.perf_counter()
        first = self._search(
            {"job": job, "effort": "first"}, began, {"progress": "first layout", "done": "first yardage"}
        )
        self._search({"job": job, "effort": "quick", "better_than": first}, began, {"done": "answer"})

    def _search(self, sent: dict[str, Any], began: float, seen: dict[str, str]) -> str:
        """Ask, watch the stream until it ends, and look whether there is an answer; the id of the search."""
        with self._timed("search taken"):
            self._ask("POST", "/api/searches", {"kind": "buy", "options": {}, **sent}, 202)
        search: str = json.loads(self.body)["id"]
        for line in self._ask("GET", f"/api/searches/{search}/events"):
            name, _, value = line.decode().strip().partition(": ")
            if name == "event" and value in seen:
                self.times[seen.pop(value)] = [time.perf_counter() - began]
        self._line.close()  # a stream ends with its connection
        self._ask("GET", f"/api/searches/{search}")
        told = json.loads(self.body)
        if told["state"] != "done" or seen:
            raise AssertionError(f"the search is {told['state']}: {told['error']}")
        return search


def at(share: float, times: Sequence[float]) -> float:
    """The time that this share of all did not exceed (nearest rank)."""
    return sorted(times)[math.ceil(share * len(times)) - 1]


def load(server: Server, count: int, drafts: int) -> list[str]:
    """Let some clients work at the same time, and print their times; what went wrong."""
    *clients, one_more = [Client(server, number) for number in range(count + 1)]
    threads = [threading.Thread(target=client.work, args=(drafts,)) for client in clients]
    for thread in threads:
        thread.start()
    time.sleep(1)  # by then most have asked what to buy
    one_more.draft_beside(threads)
    clients.append(one_more)
    for thread in threads:
        thread.join()
    errors = [client.error for client in clients if client.error]
    for what in dict.fromkeys(what for client in clients for what in client.times):
        times = [took for client in clients for took in client.times.get(what, [])]
        print(
            f"| {count} | {what} | {len(times)} | {at(0.5, times):.3f} | {at(0.95, times):.3f} | {max(times):.3f} |",
            flush=True,
        )
    return errors


PAINT = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime"
BYTES = "performance.getEntries().reduce((sum, each) => sum + (each.transferSize ?? 0), 0)"


def paint(server: Server, runs: int = 5) -> None:
    """Print when a browser that has nothing kept first shows something, and what it loads until all is there."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        painted = []
        for _ in range(runs):
            page = browser.new_context().new_page()
            page.goto(server.address)
            page.wait_for_selector("#main .view")
            page.wait_for_load_state("networkidle")
            painted.append(page.evaluate(PAINT) / 1000)
            loaded = page.evaluate(BYTES)
            page.context.close()
        browser.close()
    print(
        f"first paint: {at(0.5, painted):.2f} s, at most {max(painted):.2f} s of {runs}; {loaded / 1000:.0f} kB loaded"
    )


def main() -> None:
    """Serve the page, and print a table of times."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--clients", type=int, action="append")
    parser.add_argument("--drafts", type=int, default=10)
    args = parser.parse_args()
    errors = []
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = folder
        server = Server(Path(folder) / "served")
        try:
            Client(server, 0).work(1)  # what is loaded when it is first needed
            print(f"load {os.getloadavg()[0]:.1f}\n| clients | what | times | p50 s | p95 s | most s |")
            print("|---|---|---|---|---|---|")
            for count in args.clients or [1, 20]:
                errors += load(server, count, args.drafts)
            print(f"load {os.getloadavg()[0]:.1f}; errors: {len(errors)}", *errors, sep="\n")
            if CHROMIUM.exists():
                paint(server)
        finally:
            server.kill()
    sys.exit(bool(errors))


if __name__ == "__main__":
    main()
