"""Files are read as text, in bounded memory, or refused with the reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from pieces.exchange.source import LARGEST, read_source

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        ("Ärmel".encode(), "csv"),
        ("Ärmel".encode("utf-8-sig"), "csv"),
        ("Ärmel".encode("utf-16"), "csv"),
        ("Ärmel".encode("cp1252"), "dxf"),
        ('<?xml version="1.0" encoding="iso-8859-1"?>Ärmel'.encode("iso-8859-1"), "svg"),
    ],
)
def test_encodings(tmp_path: Path, data: bytes, kind: str) -> None:
    """UTF-8, with its mark or without; UTF-16 by its mark; old DXF; and what XML says of itself."""
    path = tmp_path / "a"
    path.write_bytes(data)
    assert read_source(path, kind).endswith("Ärmel")


@pytest.mark.parametrize(
    ("data", "kind", "why"),
    [
        (b" \n", "svg", "is empty"),
        (b"AutoCAD Binary DXF\0", "dxf", "is binary"),
        ("Ärmel".encode("cp1252"), "csv", "is not text in UTF-8"),
        (b'<?xml version="1.0" encoding="us-ascii"?>\xc4', "svg", "says that it is text in us-ascii"),
        (b"#" * (LARGEST["toml"] + 1), "toml", "is larger than 1 MB"),
    ],
)
def test_what_is_refused(tmp_path: Path, data: bytes, kind: str, why: str) -> None:
    """Empty, binary, wrongly encoded, too large: each is said of the file by name."""
    path = tmp_path / "a.file"
    path.write_bytes(data)
    with pytest.raises(FormatError, match=f"a.file {why}"):
        read_source(path, kind)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """It is named, with the system's reason."""
    with pytest.raises(FormatError, match=r"cannot read .*b\.svg: no such file"):
        read_source(tmp_path / "b.svg", "svg")
