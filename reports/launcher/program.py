"""What an icon starts: the program that runs here, wherever it was installed."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

LEFT = 5
"""Minutes without an open page after which the server of an icon ends."""


def program(folder: Path | None = None, *, is_here: bool = True) -> list[str]:
    """The command that opens the page, and goes on only as long as it is open.

    Parameters
    ----------
    folder
        Where work is saved; by default the user's own folder.
    is_here
        Whether it is for this machine; on another one, `ellwand` is found by its name.
    """
    # An icon is started anywhere: a folder `reports` there must not be taken for ours.
    apart = "-I" if sys.flags.isolated else "-P"
    begin = [sys.executable, apart, "-m", "reports"] if is_here else ["ellwand"]
    chosen = ["--folder", str(folder.absolute() if is_here else folder)] if folder else []
    return [*begin, "serve", "--while-open", str(LEFT), *chosen]
