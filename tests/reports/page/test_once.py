"""An icon that is clicked: a server that ends with its page, opened once, found again, and what is said if it fails."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import threading
import time
from typing import TYPE_CHECKING
from urllib.error import HTTPError
from urllib.request import HTTPCookieProcessor, build_opener, urlopen

import pytest

from reports.page import once
from reports.page.errors import StoreError
from reports.page.once import open_or_serve, tell_in_browser
from reports.page.store.store import Store
from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from pathlib import Path

    from pytest import MonkeyPatch


def clicked(folder: Path, minutes: float) -> subprocess.Popen[str]:
    """Start what an icon starts."""
    command = [sys.executable, "-m", "reports", "serve", "--no-open", "--port", "0", "--folder", str(folder)]
    return subprocess.Popen(
        [*command, "--while-open", str(minutes)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=clean_environment(), cwd=folder.parent,
    )  # fmt: skip


def test_ends_with_the_page(tmp_path: Path) -> None:
    """The server goes on while the page is open, is found by a second click, and ends by itself once it is closed."""
    first = clicked(tmp_path / "work", 3 / 60)
    watchdog = threading.Timer(60, first.kill)
    watchdog.start()
    try:
        address = first.stdout.readline().split()[-1]
        browser = build_opener(HTTPCookieProcessor())
        browser.open(address, timeout=30).read()
        page = browser.open(f"{address.partition('?')[0]}api/presence", timeout=30)
        assert page.readline() == b": here\n"
        opened = time.monotonic()
        assert (tmp_path / "work" / "address").stat().st_mode & 0o077 == 0
        second = clicked(tmp_path / "work", 3 / 60)
        assert address in second.communicate(timeout=60)[0]
        assert second.returncode == 0
        time.sleep(max(0.0, opened + 4 - time.monotonic()))
        assert first.poll() is None
        page.close()
        assert first.wait(30) == 0
        assert first.stderr.read() == ""
        assert not (tmp_path / "work" / "address").exists()
    finally:
        watchdog.cancel()
        first.kill()
        first.communicate()


def test_in_use(tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """A folder that another program has, and does not serve, is told of after a while."""
    monkeypatch.setattr(once, "LONGEST_START", 0.5)
    tried, opened = [], list[str]()

    def serve() -> None:
        tried.append(1)
        raise StoreError("in use") from sqlite3.OperationalError("database is locked")

    with pytest.raises(StoreError, match="in use"):
        open_or_serve(tmp_path, opened.append, serve)
    assert (len(tried) > 1, opened) == (True, [])


def test_cannot_be_used(tmp_path: Path) -> None:
    """A folder that cannot be used at all is told of at once."""
    (tmp_path / "file").touch()
    tried = []

    def serve() -> None:
        tried.append(1)
        Store(tmp_path / "file")

    with pytest.raises(StoreError, match="choose another folder"):
        open_or_serve(tmp_path / "file", print, serve)
    assert tried == [1]


def test_failure_is_shown() -> None:
    """Where nobody sees a terminal, the browser shows what went wrong, as text."""
    shown = []

    def opened(address: str) -> None:
        with pytest.raises(HTTPError) as answer:
            urlopen(address, timeout=30)
        shown.append((answer.value.code, answer.value.read().decode()))

    tell_in_browser("cannot use <b>: choose another", opened)
    for _ in range(100):
        if shown:
            break
        time.sleep(0.05)
    assert shown[0][0] == 503
    assert "cannot use &lt;b&gt;: choose another" in shown[0][1]
