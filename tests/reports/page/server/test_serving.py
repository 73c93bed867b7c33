"""The command `serve`: a process of its own, opened as a browser opens it, and stopped as people stop it."""

from __future__ import annotations

import io
import re
import signal
import socket
import subprocess
import sys
import threading
from http.client import HTTPConnection
from subprocess import Popen
from typing import TYPE_CHECKING

import pytest
from fastapi import FastAPI
from pytest import MonkeyPatch

from reports.page.server import serving
from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from tests.reports.conftest import Ran


@pytest.fixture
def server(tmp_path: Path) -> Iterator[tuple[Popen[str], str]]:
    """Start a server; it, and what it printed. No process outlives the test."""
    command = [sys.executable, "-m", "reports", "serve", "--no-open", "--port", "0", "--folder", str(tmp_path / "work")]
    with (tmp_path / "errors").open("w") as errors:
        started = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=errors, text=True, env=clean_environment(), cwd=tmp_path
        )
        watchdog = threading.Timer(60, started.kill)
        watchdog.start()
        try:
            yield started, started.stdout.readline() + started.stdout.readline()
        finally:
            watchdog.cancel()
            started.kill()
            started.communicate()


def test_serve(server: tuple[Popen[str], str], tmp_path: Path) -> None:
    """The printed address opens the page on this machine alone; Ctrl-C ends it cleanly, open connections or not."""
    started, said = server
    port, token = re.search(r"http://127\.0\.0\.1:(\d+)/\?token=(\S{40,})", said).groups()
    assert str(tmp_path / "work") in said
    page = HTTPConnection("127.0.0.1", int(port), timeout=30)
    page.request("GET", f"/?token={token}")
    opened = page.getresponse()
    opened.read()
    assert opened.status == 303
    cookie = opened.headers["Set-Cookie"].split(";")[0]
    page.request("GET", "/api/projects", headers={"Cookie": cookie})
    listed = page.getresponse()
    assert (listed.status, listed.read()) == (200, b"[]")
    assert "Server" not in listed.headers
    started.send_signal(signal.SIGINT)
    assert started.wait(30) == 0
    assert (tmp_path / "errors").read_text() == ""
    page.close()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--host", "0.0.0.0"], "add --password"),
        (["--password"], "set ELLWAND_PASSWORD"),
        (["--folder", "file/work"], "cannot use file/work"),
        (["--port", "TAKEN"], "Address already in use: choose another --port"),
    ],
)
def test_mistakes(
    run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch, options: list[str], said: str
) -> None:
    """A network without a password, a folder or a port that cannot be had: said in a line, with what to do."""
    monkeypatch.setenv("COLUMNS", "200")
    monkeypatch.setattr("sys.stdin", io.StringIO())
    (tmp_path / "file").touch()
    with socket.create_server(("127.0.0.1", 0)) as taken:
        options = [str(taken.getsockname()[1]) if option == "TAKEN" else option for option in options]
        ended = run("serve", "--no-open", *(["--folder", "work"] if "--folder" not in options else []), *options)
    assert ended.code == 2
    assert said.lower() in ended.err.lower()
    assert "Traceback" not in ended.err


def test_second_interrupt(monkeypatch: MonkeyPatch) -> None:
    """The first Ctrl-C lets answers under way end; the second ends the program, with all its processes, at once."""
    ended = []
    monkeypatch.setattr("reports.page.server.serving.end", lambda number, frame: ended.append(number))
    server = serving.Serving(FastAPI(), lambda: None)
    server.handle_exit(signal.SIGINT, None)
    server.handle_exit(signal.SIGTERM, None)
    assert (server.should_exit, ended) == (True, [])
    server.handle_exit(signal.SIGINT, None)
    assert (server.force_exit, ended) == (False, [signal.SIGINT])


def test_short_password(run: Callable[..., Ran], monkeypatch: MonkeyPatch) -> None:
    """A password that is soon guessed is not taken."""
    monkeypatch.setenv("ELLWAND_PASSWORD", "short")
    assert "10 letters or more" in run("serve", "--password").err


def test_help_is_light() -> None:
    """`ellwand --help` does not load the server."""
    heavy = ("fastapi", "uvicorn", "starlette", "sqlite3")
    code = f"import sys, reports.commands.cli; print([name for name in {heavy} if name in sys.modules])"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert said.stdout == "[]\n"


def test_answers_are_not_held_back() -> None:
    """What is sent on a connection that was taken goes at once, not with the next answer (TCP_NODELAY, RFC 9293)."""
    with serving._listening("127.0.0.1", 0) as listening, socket.create_connection(listening.getsockname()):
        taken, _ = listening.accept()
        with taken:
            assert taken.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)
