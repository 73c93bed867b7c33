"""The icon put where the system shows programs, and taken away again."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from reports.errors import MissingError, OutputError
from reports.launcher.entry import ICONS, MARK
from reports.output import refuse_overwriting, written_whole

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.launcher.system import System

RUNNABLE = 0o755


def put(command: Sequence[str], system: System, folder: Path, *, force: bool) -> tuple[Path, bool]:
    """Put an icon into a folder; where it is, and whether anything was written.

    Raises
    ------
    OutputError
        If another file is there and `force` is not set, or the folder cannot be written to.
    """
    icon = ICONS[system]
    path = folder / icon.name
    text = icon.text(command, Path(str(files("reports.page") / "static" / "icon.svg")))
    if _text_of(path) == text:
        return path, False
    try:
        refuse_overwriting([path], force=force)
    except OutputError as error:
        raise OutputError(str(error).replace("--out", "--to")) from None
    with written_whole(path) as temporary:
        temporary.write_text(text, encoding="utf-8", newline="")
        temporary.chmod(RUNNABLE)
    return path, True


def take_away(system: System, folder: Path) -> Path:
    """Remove an icon; where it was.

    Raises
    ------
    MissingError
        If there is none.
    OutputError
        If what is there is not ours, or cannot be removed.
    """
    path = folder / ICONS[system].name
    text = _text_of(path)
    if text is None:
        raise MissingError(f"there is no {path}: nothing to remove; --to DIR names another folder")
    if MARK not in text:
        raise OutputError(f"{path} was not written by 'ellwand launcher', and stays: remove it by hand")
    try:
        path.unlink()
    except OSError as error:
        raise OutputError(f"cannot remove {path}: {(error.strerror or str(error)).lower()}") from error
    return path


def _text_of(path: Path) -> str | None:
    try:
        return path.read_bytes().decode(errors="replace")
    except OSError:
        return None
