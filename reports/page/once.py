"""The page opened where it is served already, else served: an icon may be clicked twice."""

from __future__ import annotations

import sqlite3
import threading
import time
from html import escape
from http.server import BaseHTTPRequestHandler, HTTPServer
from typing import TYPE_CHECKING

from reports.page.errors import StoreError
from reports.page.server.address import served_address

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

LONGEST_START = 15.0
"""Seconds that another start, which has the folder already, may take to say where it is."""

LOOK_EVERY = 0.3

PATIENCE = 30.0
"""Seconds that a browser may take to ask for what went wrong."""

FAILED = """<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>ellwand did not start</title>
<body><h1>ellwand did not start</h1><p>{said}</p></body></html>"""


def open_or_serve(folder: Path, opened: Callable[[str], None], serve: Callable[[], None]) -> None:
    """Open the page of a folder by `opened`; where no server has it, `serve` it.

    Raises
    ------
    StoreError
        If the folder cannot be used, or another program has it, but does not serve it.
    """
    end = time.monotonic() + LONGEST_START
    while True:
        if address := served_address(folder):
            opened(address)
            return
        try:
            serve()
        except StoreError as error:
            is_in_use = isinstance(error.__cause__, sqlite3.OperationalError)
            if not is_in_use or time.monotonic() > end:
                raise
            time.sleep(LOOK_EVERY)
        else:
            return


def tell_in_browser(said: str, opened: Callable[[str], object]) -> None:
    """Show in the browser why the page does not come: who clicks on an icon sees no terminal."""
    with HTTPServer(("127.0.0.1", 0), _Failure) as server:
        _Failure.said, server.timeout = said, PATIENCE
        # Beside it: there are browsers whose start ends only with them.
        threading.Thread(target=opened, args=(f"http://127.0.0.1:{server.server_port}/",), daemon=True).start()
        server.handle_request()


class _Failure(BaseHTTPRequestHandler):
    """Answers whatever is asked with what went wrong."""

    said = ""

    def do_GET(self) -> None:
        page = FAILED.format(said=escape(self.said)).encode()
        self.send_response(503)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(page)))
        self.end_headers()
        self.wfile.write(page)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing on stderr: what went wrong is said there already."""
