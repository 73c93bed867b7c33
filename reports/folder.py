"""Where a user's work is kept: projects and answers of the page, and the ledger."""

from __future__ import annotations

import os
from pathlib import Path


def own_folder() -> Path:
    """The folder of this user: ``$XDG_DATA_HOME/ellwand``, by default ``~/.local/share/ellwand``."""
    given = Path(os.environ.get("XDG_DATA_HOME", ""))
    return (given if given.is_absolute() else Path.home() / ".local" / "share") / "ellwand"
