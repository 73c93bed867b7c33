"""Programs run on the command line."""

from __future__ import annotations

import os
import subprocess
from typing import TYPE_CHECKING, Any

from tests.make.corpus.row import Row

if TYPE_CHECKING:
    from pathlib import Path

SEWN: dict[str, Any] = {"hole": "sew", "told": ["taken as sew line"]}
"""What a circle in a circle is taken for where it is not said to be a hole, and that it is told."""

ASKS: dict[str, Any] = {"first": "give --units", "asked": {"units": "mm"}}

PX: dict[str, Any] = {"first": "in pixels", "asked": {"units": "px"}}

SIZE_M: dict[str, Any] = {"first": "choose one with --size", "only": ["M"]}

SAID: dict[str, Any] = {"cuts": {"band": 2, "bodice": 2}}
"""How many are cut of the pieces on the sheet of words, where they are kept as words."""


def run(*command: str | Path, text: str | None = None) -> str:
    """Run a program for five minutes at the most; what it writes to standard output."""
    home = os.environ | {"QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [str(part) for part in command], check=True, capture_output=True, text=True, timeout=300, env=home, input=text
    )
    return done.stdout


def version(*command: str) -> str:
    """The first line that a program says of its version."""
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    lines = [line.strip() for line in (done.stdout + done.stderr).splitlines() if line.strip()]
    return lines[0][:60]


class Maker:
    """Collects what is known of the files that programs write.

    Parameters
    ----------
    out
        The folder of all files.
    work
        A folder for what is made on the way.
    """

    def __init__(self, out: Path, work: Path) -> None:
        self.out, self.work, self.rows = out, work, list[Row]()

    def source(self, name: str, text: str) -> Path:
        """A file that a program is given."""
        path = self.work / name
        path.write_text(text, encoding="utf-8")
        return path

    def keep(self, file: str, program: str, sheet: str, **known: Any) -> None:
        """Note a file that was written."""
        assert (self.out / file).stat().st_size, file
        self.rows.append(Row(file, program, sheet, **known))
