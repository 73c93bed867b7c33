"""Running the command: inside this process, which is quick, or as a person does, which is the real thing."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING, NamedTuple

import pytest
from pytest import MonkeyPatch

from reports.commands.cli import main
from tests.make import hostile
from tests.make.orders import planned

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.apart import ApartReading, HearStep
    from reports.run.plan import RunPlan


class Ran(NamedTuple):
    """How a command ended, and what it said."""

    code: int
    out: str
    err: str


@pytest.fixture
def job_file(tmp_path: Path) -> Callable[[str], Path]:
    """Write a job file, alone in a folder of its own; its path."""

    def write(text: str) -> Path:
        path = tmp_path / "job.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture(scope="session")
def the_run() -> RunPlan:
    """Eight jackets in two sizes and two colours, with hostile names."""
    return planned(*hostile.RUN)


@pytest.fixture
def run(monkeypatch: MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Callable[..., Ran]:
    """Run `ellwand` in this process, in the folder of the job file; others begin only if `--workers` asks for them."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("reports.batch.study.cores", lambda: 1)

    def command(*arguments: int | Path | str) -> Ran:
        monkeypatch.setattr(sys, "argv", ["ellwand", *map(str, arguments)])
        with pytest.raises(SystemExit) as ended:
            main()
        said = capsys.readouterr()
        code = ended.value.code or 0
        assert isinstance(code, int)
        return Ran(code, said.out, said.err)

    return command


@pytest.fixture
def read_here(monkeypatch: MonkeyPatch) -> None:
    """Files from outside are read in this process, which is quick; `reports.apart` has tests of its own."""

    def called(path: Path, how: ApartReading, tell: HearStep | None = None) -> bytes:
        return how.read(path, how.given, tell or (lambda step: None))

    for module in ("reports.ask.imported", "reports.page.answers.reading"):
        monkeypatch.setattr(f"{module}.read_apart", called)


@pytest.fixture
def shell(tmp_path: Path) -> Callable[..., Ran]:
    """Run `python -m reports` as a process of its own, in the folder of the job file."""

    def command(*arguments: Path | str, **environment: str) -> Ran:
        done = subprocess.run(
            [sys.executable, "-m", "reports", *map(str, arguments)],
            capture_output=True,
            text=True,
            cwd=tmp_path,
            timeout=120,
            env=clean_environment() | environment,
        )
        return Ran(done.returncode, done.stdout, done.stderr)

    return command


def clean_environment() -> dict[str, str]:
    """The environment without what would colour or size the output."""
    return {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "FORCE_COLOR", "COLUMNS")}
