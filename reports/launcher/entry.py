"""An icon as a file: a desktop entry (Desktop Entry Specification of freedesktop.org), or a script of its system."""

from __future__ import annotations

import re
import shlex
from typing import TYPE_CHECKING, NamedTuple

from reports.errors import OutputError
from reports.launcher.system import System

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

MARK = "Written by 'ellwand launcher'"
"""A comment in each such file: without it, a file is not ours to remove or to replace."""

SAID = "How much cloth to buy, and how to cut it"


class IconFile(NamedTuple):
    """What an icon's file is called, and what makes its text of a command and of a picture."""

    name: str
    text: Callable[[Sequence[str], Path], str]


def desktop_entry(command: Sequence[str], picture: Path) -> str:
    """The entry that a Linux desktop shows among its programs."""
    if "=" in command[0]:
        raise OutputError(f"{command[0]} has a = in it, which no desktop entry takes: install ellwand elsewhere")
    lines = [
        f"# {MARK}",
        "[Desktop Entry]",
        "Type=Application",
        "Version=1.1",
        "Name=Ellwand",
        "GenericName=Yardage and markers",
        f"Comment={SAID}",
        f"Icon={_escaped(str(picture))}",
        f"TryExec={_escaped(command[0])}",
        f"Exec={_escaped(' '.join(map(_argument, command)))}",
        "Terminal=false",
        "StartupNotify=false",
        "Categories=Utility;",
        "Keywords=sewing;pattern;cloth;fabric;marker;yardage;",
    ]
    return "\n".join(lines) + "\n"


def shell_script(command: Sequence[str], picture: Path) -> str:
    """A `.command` file, which macOS runs in a terminal of its own."""
    return f"#!/bin/sh\n# {MARK}\n# {SAID}\nexec {shlex.join(_whole(command))}\n"


def batch_script(command: Sequence[str], picture: Path) -> str:
    """A `.cmd` file, which Windows runs in a window of its own."""
    words = " ".join(_batch_argument(argument) for argument in _whole(command))
    # Paths are in UTF-8 here, and not in the letters of the country.
    return "".join(f"{line}\r\n" for line in ("@echo off", f"rem {MARK}", "chcp 65001 >nul", words))


ICONS = {
    System.LINUX: IconFile("ellwand.desktop", desktop_entry),
    System.MACOS: IconFile("Ellwand.command", shell_script),
    System.WINDOWS: IconFile("Ellwand.cmd", batch_script),
}


def _argument(argument: str) -> str:
    """An argument in `Exec`: quoted, if any sign in it means something; % begins a code there."""
    _whole([argument])
    if not re.fullmatch(r"[\w@%+=:,./-]+", argument, re.ASCII):
        argument = '"' + re.sub(r'(["`$\\])', r"\\\1", argument) + '"'
    return argument.replace("%", "%%")


def _escaped(text: str) -> str:
    """A value of a desktop entry; quoted arguments in it are escaped a second time."""
    _whole([text])
    return text.replace("\\", "\\\\")


def _batch_argument(argument: str) -> str:
    if '"' in argument:
        raise OutputError(f'{argument} has a " in it, which no path of Windows has: choose another folder')
    return '"' + argument.replace("%", "%%") + '"'


def _whole(command: Sequence[str]) -> Sequence[str]:
    """A command that fits in a line of text."""
    for argument in command:
        if not argument.isprintable():
            raise OutputError(f"{argument!r} has signs in its name that cannot be printed: choose another folder")
    return command
