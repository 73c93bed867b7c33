"""The page in Debian's Firefox, by a few short flows: what another engine could do otherwise."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import LEFT_OUT, Server
from tests.make.firefox import Firefox

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)


STOPPED = """(() => {
  const called = (name) => [...document.querySelectorAll("button")].find((one) => one.textContent === name);
  if (!called("Look longer")) called("Stop")?.click();
  return Boolean(called("Look longer"));
})()"""
"""Whether the search has stopped; if not, it is told to, as often as it goes on."""


SAVED = """(
fetch("/api/projects").then((answer) => answer.json()).then((all) => all.some(({ name }) => name === "Seen by a fox"))
)"""
"""Whether the server has the new name."""


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    """A server of its own."""
    started = Server(tmp_path / "served")
    yield started
    started.kill()


@pytest.fixture
def firefox(tmp_path: Path, server: Server) -> Iterator[Firefox]:
    """Firefox, signed in."""
    started = Firefox(tmp_path)
    try:
        started.open(server.address)
        yield started
    finally:
        started.close()


def test_looked_at_ticked_off_and_kept(firefox: Firefox, server: Server) -> None:
    """The example has a yardage by itself and a marker on the table; a tick and a new name are there after a reload.

    No script has failed, and nothing was refused to the page: what tells of both sees an error, and a style.
    """
    firefox.click(firefox.find_called("button", "Look at an example"))
    firefox.find(".view.who form")
    firefox.wait_for("/\\d yd of .*, laid /.test(document.getElementById('looking').innerText)")
    firefox.click(firefox.find_called("link", "4Answer"))
    firefox.find(".marker-frame .placed")
    firefox.wait_for("/\\d yd$/.test(document.querySelector('.bought .figure-large')?.innerText)")
    firefox.wait_for("document.querySelectorAll('.on-cloth').length > 3")
    firefox.wait_for(STOPPED)
    firefox.run("document.querySelector('.on-cloth').focus()")
    firefox.press("\ue007")  # Enter
    firefox.find(".facts h3")
    firefox.press("x")
    firefox.find(".on-cloth.cut")
    firefox.fill(firefox.find("#project-name"), "Seen by a fox")
    firefox.wait_for(SAVED)
    firefox.reload()
    firefox.wait_for("document.querySelectorAll('.on-cloth.cut').length === 1")
    assert firefox.run("return document.documentElement.scrollWidth <= innerWidth")
    firefox.open(f"{server.base}/#/projects")
    firefox.wait_for("document.getElementById('main')?.innerText.includes('Seen by a fox')")
    assert firefox.faults(server.base) == []
    firefox.run("setTimeout(() => { throw new Error('seen') }); document.body.setAttribute('style', 'color: red');")
    firefox.wait_for("new Promise((done) => setTimeout(() => done(true), 100))")
    found = " ".join(firefox.faults(server.base))
    assert "seen" in found
    assert "Content-Security-Policy" in found
