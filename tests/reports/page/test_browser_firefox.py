"""The page in Debian's Firefox, by a few short flows: what another engine could do otherwise."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import LEFT_OUT, Server
from tests.make.firefox import Firefox

if TYPE_CHECKING:
    from collections.abc import Iterator

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server of its own."""
    started = Server(tmp_path_factory.mktemp("served"))
    yield started
    started.kill()


@pytest.fixture(scope="module")
def firefox(tmp_path_factory: pytest.TempPathFactory, server: Server) -> Iterator[Firefox]:
    """Firefox, signed in; at the end no script has failed, and nothing was refused to the page."""
    started = Firefox(tmp_path_factory.mktemp("firefox"))
    try:
        started.open(server.address)
        yield started
        assert started.faults(server.base) == []
    finally:
        started.close()


def test_faults_are_seen(firefox: Firefox, server: Server) -> None:
    """What is told of faults sees both kinds: an error of a script, and a style that the policy refuses."""
    assert firefox.faults(server.base) == []
    firefox.run("setTimeout(() => { throw new Error('seen') }); document.body.setAttribute('style', 'color: red');")
    firefox.wait_for("true")
    found = firefox.faults(server.base)
    assert [any(word in one for one in found) for word in ("seen", "Content-Security-Policy")] == [True, True], found


def test_looked_at_ticked_off_and_kept(firefox: Firefox, server: Server) -> None:
    """The example has a yardage by itself and a marker on the table; a tick and a new name are there after a reload."""
    firefox.click(firefox.find_called("button", "Look at an example"))
    firefox.find(".view.who form")
    firefox.wait_for("/\\d yd of .*, laid /.test(document.getElementById('looking').innerText)")
    firefox.click(firefox.find_called("link", "4Answer"))
    firefox.find(".marker-frame .placed")
    firefox.wait_for("/\\d yd$/.test(document.querySelector('.bought .figure-large')?.innerText)")
    firefox.wait_for("document.querySelectorAll('.on-cloth').length > 3")
    firefox.run("document.querySelector('.on-cloth').focus()")
    firefox.press("\ue007")  # Enter
    firefox.find(".facts h3")
    firefox.press("x")
    firefox.find(".on-cloth.cut")
    firefox.fill(firefox.find("#project-name"), "Seen by a fox")
    firefox.wait_for("document.getElementById('saved').innerText === 'saved'")
    firefox.run("location.reload()")
    firefox.wait_for("document.querySelectorAll('.on-cloth.cut').length === 1")
    assert firefox.run("return document.documentElement.scrollWidth <= innerWidth")
    firefox.open(f"{server.base}/#/projects")
    firefox.wait_for("document.getElementById('main')?.innerText.includes('Seen by a fox')")
