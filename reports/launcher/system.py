"""The systems that have icons: light, for the command line reads it at its start."""

from __future__ import annotations

import os
import sys
from enum import StrEnum
from pathlib import Path


class System(StrEnum):
    """Whose icon it is."""

    LINUX = "linux"
    MACOS = "macos"
    WINDOWS = "windows"


def this_system() -> System:
    """The system that the program runs on; every other one is taken for a kind of Linux."""
    return {"darwin": System.MACOS, "win32": System.WINDOWS}.get(sys.platform, System.LINUX)


def programs_folder(system: System) -> Path:
    """Where a system shows the programs of this user."""
    if system is System.LINUX:
        given = Path(os.environ.get("XDG_DATA_HOME", ""))
        return (given if given.is_absolute() else Path.home() / ".local" / "share") / "applications"
    if system is System.MACOS:
        return Path.home() / "Applications"
    roaming = os.environ.get("APPDATA")
    begin = Path(roaming) if roaming else Path.home() / "AppData" / "Roaming"
    return begin / "Microsoft" / "Windows" / "Start Menu" / "Programs"
