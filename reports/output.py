"""Files, written whole or not at all, and never over another unasked."""

from __future__ import annotations

import os
import secrets
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from reports.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path


LONGEST_STEM = 40
"""Signs of a file's name that its temporary one repeats: systems take 255 bytes at the most."""

unfinished: set[Path] = set()
"""Files that are being written: whoever ends the program without unwinding removes them."""


@contextmanager
def written_whole(path: Path, *, durable: bool = False) -> Iterator[Path]:
    """A temporary file beside `path`, which takes its place once the block ends without an error.

    Parameters
    ----------
    durable
        Whether it is on the disk itself once the block has ended, so that a power cut takes nothing.

    Raises
    ------
    OutputError
        If the folder cannot be written to.
    """
    temporary = path.with_name(f".{path.stem[:LONGEST_STEM]}-{secrets.token_hex(4)}{path.suffix}")
    unfinished.add(temporary)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        temporary.open("xb").close()
        yield temporary
        if durable:
            _sync(temporary, os.O_RDWR)
        temporary.replace(path)
        if durable:
            sync_folder(path.parent)
    except OSError as error:
        raise _cannot_write(path, error) from error
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
        unfinished.discard(temporary)


def write_text(path: Path, text: str, *, durable: bool = False) -> None:
    """Write a text file whole, or not at all."""
    with written_whole(path, durable=durable) as temporary:
        temporary.write_text(text, encoding="utf-8")


def write_bytes(path: Path, data: bytes) -> None:
    """Write a file of saved work whole, or not at all; it is on the disk once this has ended."""
    with written_whole(path, durable=True) as temporary:
        temporary.write_bytes(data)


def sync_folder(folder: Path) -> None:
    """Have the names in a folder written to the disk; where a system does not do so with folders, nothing."""
    with suppress(OSError):
        _sync(folder, os.O_RDONLY)


def _sync(path: Path, mode: int) -> None:
    opened = os.open(path, mode)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def refuse_overwriting(paths: Iterable[Path], *, force: bool) -> None:
    """Make sure, before any work is done, that no file would be overwritten unasked.

    Raises
    ------
    OutputError
        If one of the files is there and `force` is not set, or is a folder or a device, or their folder cannot be
        written to.
    """
    for path in paths:
        if path.is_dir():
            raise OutputError(f"{path} is a folder where a file should go: choose another place with --out")
        if path.exists() and not path.is_file():  # a device such as /dev/null, which a file would replace
            raise OutputError(f"{path} is not an ordinary file and is not replaced: choose another place with --out")
        if (path.exists() or path.is_symlink()) and not force:
            raise OutputError(f"{path} already exists: choose another place with --out, or add --force to overwrite")
        folder = next(parent for parent in path.absolute().parents if parent.exists())
        if not folder.is_dir():
            raise OutputError(f"cannot write {path}: {folder} is a file, not a folder: choose another place with --out")
        if not os.access(folder, os.W_OK):
            raise OutputError(f"cannot write {path}: you may not write to {folder}")


def _cannot_write(path: Path, error: OSError) -> OutputError:
    return OutputError(f"cannot write {path}: {(error.strerror or str(error)).lower()}")
