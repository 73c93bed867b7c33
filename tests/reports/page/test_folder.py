"""The folder for machines without Python: unpacked elsewhere, started without one, used in a browser."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tarfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import CHROMIUM, FLAGS, PATIENCE
from tests.reports.launcher.test_entry import arguments, read_entry
from tests.reports.page.answers.test_upload import SQUARE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import FilePayload

if not os.environ.get("ELLWAND_FOLDER"):
    pytest.skip("they take the archive that .ci/folder makes: set ELLWAND_FOLDER to it", allow_module_level=True)

from playwright.sync_api import expect, sync_playwright

expect.set_options(timeout=PATIENCE)

TOOLS = ("sh", "readlink", "dirname")
"""All that the folder takes of its machine beside the C library: POSIX's shell, and two of the core utilities."""

SYSTEM = re.compile(r"/(ld-linux[\w-]*|lib(c|m|dl|rt|pthread|util|gcc_s|stdc\+\+|nss_\w+|resolv))[.-][\d.]*so[\d.]*$")
"""Libraries of the system that are used: those of C and C++, which every Linux desktop has."""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A home with the unpacked folder, in a place with a blank in its name; and a PATH on which there is no Python."""
    home = tmp_path_factory.mktemp("a home")
    with tarfile.open(os.environ["ELLWAND_FOLDER"]) as archive:
        archive.extractall(home, filter="tar")
    (home / "bin").mkdir()
    for tool in TOOLS:
        (home / "bin" / tool).symlink_to(shutil.which(tool) or "")
    yield home
    shutil.rmtree(home)


@pytest.fixture
def started(home: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The page, as an icon opens it; its address."""
    (tree,) = home.glob("ellwand-*")
    command = [str(tree / "ellwand"), "serve", "--no-open", "--port", "0", "--while-open", "5"]
    environment = {"HOME": str(home), "PATH": str(home / "bin")}
    with (home / "errors").open("w") as errors:
        server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=errors, text=True, env=environment, cwd=home)
        try:
            yield server, server.stdout.readline().split()[-1]
        finally:
            server.kill()
            server.communicate()


def outside(process: int, tree: Path) -> set[str]:
    """What a process and those that it began have loaded from anywhere but a folder."""
    children = Path(f"/proc/{process}/task/{process}/children").read_text().split()
    maps = Path(f"/proc/{process}/maps").read_text()
    loaded = {line.split(maxsplit=5)[5] for line in maps.splitlines() if " r-xp " in line and "/" in line}
    own = {path for path in loaded if not path.startswith(str(tree))}
    return own.union(*(outside(int(child), tree) for child in children))


def test_used(home: Path, started: tuple[subprocess.Popen[str], str], tmp_path: Path) -> None:
    """Without any Python: a first yardage, a marker on paper, a file read, kernels kept; then it ends as told.

    Nothing but libraries of C and C++ is loaded from outside of the folder (Linux, /proc/PID/maps).
    """
    (tree,) = home.glob("ellwand-*")
    server, address = started
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        page = browser.new_page()
        with page.expect_response("**/api/presence") as asked:
            page.goto(address)
        assert asked.value.status == 200, "the page tells that it is open"
        page.get_by_role("button", name="Look at an example").click()
        expect(page.locator("#looking")).to_contain_text(re.compile(r"\d yd of .*, laid "))
        assert not {path for path in outside(server.pid, tree) if not SYSTEM.search(path)}
        page.get_by_role("link", name="Patterns").click()
        flap: FilePayload = {"name": "flap.csv", "mimeType": "text/csv", "buffer": SQUARE.encode()}
        page.get_by_label(re.compile("A pattern file")).set_input_files(flap)
        expect(page.locator(".pieces figure")).to_have_count(1)
        page.get_by_role("link", name="Files").click()
        with page.expect_download(timeout=PATIENCE) as saved:
            page.get_by_role("link", name=re.compile("PDF.*: Marker 1")).first.click()
        saved.value.save_as(tmp_path / "marker.pdf")
        browser.close()
    assert (tmp_path / "marker.pdf").read_bytes().startswith(b"%PDF")
    assert list(tree.rglob("*.nbi")), "compiled kernels are kept"
    server.terminate()
    assert server.wait(60) == 0
    assert (home / "errors").read_text() == ""


def test_icon(home: Path) -> None:
    """Its icon starts what is in the folder, apart from the user's own packages."""
    (tree,) = home.glob("ellwand-*")
    environment = {"HOME": str(home), "PATH": str(home / "bin")}
    subprocess.run([tree / "ellwand", "launcher"], check=True, timeout=60, env=environment, capture_output=True)
    entry = home / ".local" / "share" / "applications" / "ellwand.desktop"
    command = arguments(read_entry(entry.read_text())["Exec"])
    assert Path(command[0]).is_relative_to(tree)
    assert command[1:4] == ["-I", "-m", "reports"]
