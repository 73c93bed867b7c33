"""Files are written whole or not at all, and never over another unasked."""

from __future__ import annotations

import os
import stat
import subprocess
from typing import TYPE_CHECKING

import pytest

from reports.errors import OutputError
from reports.output import refuse_overwriting, write_text, written_whole

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


def test_written(tmp_path: Path) -> None:
    """A file and the folders above it are made, and nothing else is left beside it."""
    path = tmp_path / "new" / "folder" / "a.txt"
    write_text(path, "½ yd")
    assert path.read_text(encoding="utf-8") == "½ yd"
    assert list(path.parent.iterdir()) == [path]


def test_replaced(tmp_path: Path) -> None:
    """A file that is there is replaced as a whole."""
    path = tmp_path / "a.txt"
    path.write_text("a long old text", encoding="utf-8")
    write_text(path, "new")
    assert path.read_text(encoding="utf-8") == "new"


@pytest.mark.parametrize("error", [ValueError, KeyboardInterrupt, OutputError])
def test_whole_or_not(tmp_path: Path, error: type) -> None:
    """Where writing ends in an error, the old file stays as it was and no part of the new one is left."""
    path = tmp_path / "a.txt"
    path.write_text("old", encoding="utf-8")
    with pytest.raises(error), written_whole(path) as temporary:
        temporary.write_text("half", encoding="utf-8")
        raise error
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("mask", [0o022, 0o077])
def test_rights(tmp_path: Path, mask: int) -> None:
    """A new file has the rights that the user's mask gives to any new file."""
    before = os.umask(mask)
    try:
        write_text(tmp_path / "a.txt", "x")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "a.txt").stat().st_mode) == 0o666 & ~mask


def test_no_folder(tmp_path: Path) -> None:
    """Below a file there can be no folder: the error names what cannot be written."""
    (tmp_path / "file").touch()
    path = tmp_path / "file" / "a.txt"
    with pytest.raises(OutputError, match=r"cannot write .*a\.txt"):
        write_text(path, "x")
    with pytest.raises(OutputError, match=r"cannot write .*a\.txt: .*file is a file, not a folder"):
        refuse_overwriting([path], force=True)


def test_refused(tmp_path: Path) -> None:
    """A file that is there is not overwritten unless it is asked for."""
    path = tmp_path / "a.txt"
    refuse_overwriting([path], force=False)
    path.touch()
    with pytest.raises(OutputError, match=r"a\.txt already exists: .*add --force"):
        refuse_overwriting([tmp_path / "b.txt", path], force=False)
    refuse_overwriting([path], force=True)


def test_a_link_that_leads_nowhere(tmp_path: Path) -> None:
    """A link to a file that is not there is a file in the way: it is not replaced unasked."""
    link = tmp_path / "a.txt"
    link.symlink_to(tmp_path / "gone.txt")
    with pytest.raises(OutputError, match=r"a\.txt already exists"):
        refuse_overwriting([link], force=False)
    refuse_overwriting([link], force=True)


def test_device_in_the_way(tmp_path: Path) -> None:
    """A pipe or a device, such as /dev/null, is never replaced by a file, forced or not."""
    os.mkfifo(tmp_path / "a.txt")
    for force in (False, True):
        with pytest.raises(OutputError, match=r"a\.txt is not an ordinary file"):
            refuse_overwriting([tmp_path / "a.txt"], force=force)


def test_folder_in_the_way(tmp_path: Path) -> None:
    """A folder where a file should go is refused before any work is done, forced or not."""
    (tmp_path / "a.txt").mkdir()
    for force in (False, True):
        with pytest.raises(OutputError, match=r"a\.txt is"):
            refuse_overwriting([tmp_path / "a.txt"], force=force)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 200 kB, where this user may mount one."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=200k", "tmpfs", folder], capture_output=True)
    if mounted.returncode:
        pytest.skip("a disk can be mounted by root alone")
    yield folder
    subprocess.run(["umount", folder], check=True)


def test_full_disk(small_disk: Path) -> None:
    """What does not fit on the disk is not there at all, the file before it stays, and the error names it."""
    path = small_disk / "a.txt"
    write_text(path, "old")
    with pytest.raises(OutputError, match=r"cannot write .*a\.txt: no space left on device"):
        write_text(path, "x" * 1_000_000)
    assert path.read_text(encoding="utf-8") == "old"
    assert list(small_disk.iterdir()) == [path]
