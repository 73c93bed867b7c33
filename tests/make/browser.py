"""What the browser's tests share: a server in a process of its own, Debian's Chromium, axe-core out of npm."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from playwright.sync_api import Page

CHROMIUM = Path("/usr/bin/chromium")

LEFT_OUT = "they take Debian's chromium, and minutes: set ELLWAND_BROWSER=1"
"""Why tests in a browser are no part of an ordinary run."""
FLAGS = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"),
    *("--disable-component-update", "--disable-sync"),
]
OURS = {"X-Ellwand": "1"}
PATIENCE = 300_000
"""Milliseconds that anything may take on a busy machine; no test waits so long where all is well."""

AXE_VERSION = "4"

VIEWS = {
    "who": "form",
    "garment": ".pieces figure",
    "cloth": ".offer",
    "answer": ".table-top",
    "compare": "[aria-label='What each change saves']",
    "chart": ".grid-table",
    "run": ".tickets",
    "cutting": ".bench-step",
    "downloads": ".files li",
    "uploads": ".drop",
}
"""The views of a project, and what is there once all of it is shown."""

OTHERS = {view: (f"#/{view}", f".view.{view} h1") for view in ("projects", "notebook", "ledger")}
"""Views outside any project: where each is, and what is there once it is shown."""

FAULTY = re.compile(r"Content Security Policy|<\w+> attribute")
"""What Chromium says of what it refuses, and of attributes of drawings that are no numbers."""


class Server:
    """The command `serve`, which can be killed and started again at the same port.

    Parameters
    ----------
    folder
        Of saved work, and of what the process says.
    """

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, 0
        folder.mkdir(exist_ok=True)
        self.start()

    def start(self) -> None:
        """Start it, and wait for its address."""
        command = [sys.executable, "-m", "reports", "serve", "--no-open", "--port", str(self.port)]
        environment = clean_environment() | {"XDG_CACHE_HOME": str(self.folder.absolute() / "cache")}
        said = self.folder / "said"
        with said.open("w") as out:  # no pipe: a child left over would hold it open for ever
            self.process = subprocess.Popen(
                [*command, "--folder", self.folder / "work"], stdout=out, stderr=out, env=environment
            )
        for _ in range(600):
            found = re.search(r"http://127\.0\.0\.1:(\d+)/\?token=\S+", said.read_text())
            if found:
                self.address, self.port = found[0], int(found[1])
                return
            time.sleep(0.1)
        self.kill()
        raise AssertionError(f"the server does not start: {said.read_text()}")

    @property
    def base(self) -> str:
        """Where the page is."""
        return f"http://127.0.0.1:{self.port}"

    def kill(self) -> None:
        """End it as a power cut would."""
        self.process.kill()
        self.process.wait()


class Api:
    """Calls that the page makes too, in the session of a browser's context."""

    def __init__(self, page: Page, base: str) -> None:
        self._request, self._base = page.request, base

    def get(self, path: str) -> Any:
        """What is there."""
        return self._request.get(self._base + path).json()

    def post(self, path: str, data: Any) -> Any:
        """Send JSON."""
        answer = self._request.post(self._base + path, headers=OURS, data=data)
        assert answer.ok, answer.text()
        return answer.json()

    def searched(self, kind: str, subject: Any, effort: str = "quick", /, **options: Any) -> str:
        """The id of a quick search of a job, or for a run of an order, that has ended."""
        of = "order" if kind == "run" else "job"
        asked = {"kind": kind, of: subject, "effort": effort, "options": options}
        search = self.post("/api/searches", asked)["id"]
        for _ in range(PATIENCE // 100):
            found = self.get(f"/api/searches/{search}")
            if found["state"] not in ("waiting", "running"):
                assert found["result"] is not None, found["error"]
                return str(search)
            time.sleep(0.1)
        raise AssertionError("the search does not end")

    def project(self, name: str, job: Any, **answers: str) -> str:
        """The id of a project with answers, each the id of a search; that of `buy` is looked at, and not improved."""
        held = {kind: {"search": search, "effort": "quick", "job": job} for kind, search in answers.items()}
        data = {"schema": 1, "job": job, "answers": held, "cut": {}, "held": answers.get("buy")}
        return str(self.post("/api/projects", {"name": name, "data": data})["id"])


def axe_source(folder: Path) -> str:
    """The source of axe-core: of `$ELLWAND_AXE`, a folder in which npm has installed it, or installed for the test."""
    given = os.environ.get("ELLWAND_AXE")
    home = Path(given) if given else folder
    script = home / "node_modules" / "axe-core" / "axe.min.js"
    if not script.exists():
        npm = shutil.which("npm")
        assert npm, "axe-core is installed by npm: install npm, or set ELLWAND_AXE"
        command = [npm, "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(home)]
        subprocess.run([*command, f"axe-core@{AXE_VERSION}"], check=True, timeout=120)
    return script.read_text()


def box_of(page: Page, piece: int) -> dict[str, float]:
    """Where a piece is on the screen."""
    box = page.locator(".on-cloth").nth(piece).bounding_box()
    assert box is not None
    return box  # type: ignore[return-value]


def drag(page: Page, piece: int, right: float, down: float) -> None:
    """Drag a piece by its middle."""
    box = box_of(page, piece)
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right / 2, y + down / 2)
    page.mouse.move(x + right, y + down)
    page.mouse.up()


def violations(page: Page, axe: str) -> list[str]:
    """What axe-core finds wrong with a page as it is shown, by WCAG 2.2 A and AA and its best practices."""
    page.evaluate(axe)
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = page.evaluate("tags => axe.run(document, {runOnly: {type: 'tag', values: tags}})", tags)
    assert found["passes"], "axe looked at nothing"
    return [
        f"{rule['id']}: {node['html'][:200]} {json.dumps(node['any'][:1])[:300]}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def all_answers(api: Api, job: Any) -> dict[str, str]:
    """A search of each kind by first layouts alone, for all views to show an answer."""
    cloth = job["fabric"][0] | {"spread": "face-up", "colour": "rust"}
    order = {key: job[key] for key in ("garment", "units", "style")}
    order |= {"sizes": "women-letters", "quantity": {"rust": {"M": 2}}, "fabric": [cloth]}
    return {
        "buy": api.searched("buy", job, "first"),
        "widths": api.searched("widths", job, "first", **{"from": "54 in", "to": "60 in", "step": "6 in"}),
        "saves": api.searched("saves", job, "first"),
        "chart": api.searched("chart", job, "first", widths="60 in", nap="without"),
        "run": api.searched("run", order, "first"),
    }
