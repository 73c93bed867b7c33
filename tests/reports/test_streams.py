"""Standard output and standard error that are closed, or full: one line where it can be said, and exit code 2."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from pathlib import Path


def ran(words: str, folder: Path) -> tuple[int, str, str]:
    """Run a command by a shell, which closes or redirects its streams; its code, and both streams if they are open."""
    line = f"{sys.executable} -m reports {words}"
    done = subprocess.run(["sh", "-c", line], capture_output=True, text=True, cwd=folder, env=clean_environment())
    return done.returncode, done.stdout, done.stderr


@pytest.mark.parametrize("words", ["sizes >&-", "sizes --json >&-", "new job.toml >&-"])
def test_closed_output(tmp_path: Path, words: str) -> None:
    """Where the answer goes nowhere it is said so in one line, before anything is done."""
    code, _, err = ran(words, tmp_path)
    assert code == 2
    assert err == "ellwand: standard output is closed, and the answer goes there: leave it open, or send it to a file\n"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("words", ["sizes >/dev/full", "sizes --json >/dev/full"])
def test_full_output(tmp_path: Path, words: str) -> None:
    """Where there is no room for the answer, the line says where it was written to."""
    code, _, err = ran(words, tmp_path)
    assert (code, err) == (2, "ellwand: No space left on device: standard output\n")


@pytest.mark.parametrize("words", ["buy gone.toml 2>/dev/full", "sizes --wrong 2>/dev/full", "buy gone.toml 2>&-"])
def test_full_error(tmp_path: Path, words: str) -> None:
    """Where a mistake cannot be told, its exit code is the same."""
    code, out, _ = ran(words, tmp_path)
    assert (code, out) == (2, "")


def test_closed_error(tmp_path: Path) -> None:
    """Nothing to say needs nowhere to say it; no file takes the place of a closed stream."""
    code, _, _ = ran("new job.toml 2>&-", tmp_path)
    assert code == 0 and (tmp_path / "job.toml").read_text().startswith("#")
