"""The command `launcher`: an icon put, kept and taken away."""

from __future__ import annotations

import os
import shlex
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from reports.launcher.program import program
from reports.launcher.system import System, programs_folder
from tests.reports.launcher.test_entry import arguments, read_entry

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytest import MonkeyPatch

    from tests.reports.conftest import Ran


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: MonkeyPatch) -> Path:
    """Where Linux shows this user's programs: under $XDG_DATA_HOME (XDG Base Directory Specification)."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path / "data" / "applications"


def test_put_and_removed(run: Callable[..., Ran], programs: Path, tmp_path: Path) -> None:
    """The icon opens the page while it is wanted; a second time nothing is written, and it is taken away again."""
    assert run("launcher", "--for", "linux", "--folder", "my work").code == 0
    path = programs / "ellwand.desktop"
    found = read_entry(path.read_text())
    command = arguments(found["Exec"])
    assert command[0] == sys.executable
    assert command[-6:] == ["reports", "serve", "--while-open", "5", "--folder", str(tmp_path / "my work")]
    assert Path(found["Icon"]).read_text().startswith("<svg")
    assert os.access(path, os.X_OK)
    assert "Already there" in run("launcher", "--for", "linux", "--folder", "my work").out
    removed = run("launcher", "--for", "linux", "--remove")
    assert (removed.code, list(programs.iterdir())) == (0, [])
    again = run("launcher", "--for", "linux", "--remove")
    assert (again.code, "nothing to remove" in again.err) == (2, True)


def test_nothing_overwritten_unasked(run: Callable[..., Ran], programs: Path) -> None:
    """Another icon stays without --force; a file of somebody else's is never removed."""
    programs.mkdir(parents=True)
    path = programs / "ellwand.desktop"
    path.write_text("[Desktop Entry]\n")
    for options in ((), ("--remove",)):
        refused = run("launcher", "--for", "linux", *options)
        assert refused.code == 2
        assert ("--to" in refused.err) == (not options)
        assert path.read_text() == "[Desktop Entry]\n"
    assert run("launcher", "--for", "linux", "--force").code == 0
    assert read_entry(path.read_text())["Name"] == "Ellwand"


@pytest.mark.parametrize(("system", "name"), [("macos", "Ellwand.command"), ("windows", "Ellwand.cmd")])
def test_other_systems(run: Callable[..., Ran], tmp_path: Path, system: str, name: str) -> None:
    """Files for other systems name the command alone, and are said to be untried."""
    said = run("launcher", "--for", system, "--to", "icons")
    assert (said.code, f"Not tried on {system}" in said.out) == (0, True)
    last = (tmp_path / "icons" / name).read_text().splitlines()[-1].removeprefix("exec ")
    assert shlex.split(last) == ["ellwand", "serve", "--while-open", "5"]


def test_folders(monkeypatch: MonkeyPatch) -> None:
    """Without $XDG_DATA_HOME, or if it is no whole path, the default of its specification holds."""
    for given in ("", "data"):
        monkeypatch.setenv("XDG_DATA_HOME", given)
        assert programs_folder(System.LINUX) == Path.home() / ".local" / "share" / "applications"


def test_apart(monkeypatch: MonkeyPatch) -> None:
    """A program that runs apart from the user's own packages is started so again; any other apart from its folder."""
    assert program()[1] == "-P"
    monkeypatch.setattr("sys.flags", type("Flags", (), {"isolated": 1}))
    assert program()[1] == "-I"
