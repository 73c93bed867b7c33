"""A file from elsewhere, read in bounded time and memory."""

from __future__ import annotations

import codecs
import re
from typing import TYPE_CHECKING

from pieces.errors import FormatError

if TYPE_CHECKING:
    from pathlib import Path

LARGEST = {
    "rul": 16_000_000,
    "dxf": 64_000_000,
    "svg": 16_000_000,
    "csv": 32_000_000,
    "json": 64_000_000,
    "toml": 1_000_000,
}
"""No larger file of each kind is read, bytes."""


def read_source(path: Path, kind: str) -> str:
    """The text of a file; FormatError if it is empty, too large, no text, or cannot be read."""
    most = LARGEST[kind]
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)  # no more, even of a device that never ends
    except OSError as error:
        raise FormatError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    if len(data) > most:
        raise FormatError(
            f"{path.name} is larger than {most // 1_000_000} MB, too large for a {kind.upper()} of patterns"
        )
    if not data.strip():
        raise FormatError(f"{path.name} is empty: export it again from the program it was drawn in")
    if said := _declared(data, kind):
        try:
            return data.decode(said)
        except (UnicodeDecodeError, LookupError) as error:
            raise FormatError(f"{path.name} says that it is text in {said}, but it is not: save it again") from error
    if b"\0" in data:
        raise FormatError(f"{path.name} is binary: only text {kind.upper()} is read; export it as text")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            if kind != "dxf":  # only old DXF comes in another encoding than UTF-8
                break
    raise FormatError(f"{path.name} is not text in UTF-8: save it again as UTF-8")


_ENCODINGS = ("utf-16", "iso-8859-1", "iso-8859-15", "latin1", "windows-1252", "us-ascii")


def _declared(data: bytes, kind: str) -> str:
    """The encoding that a file names, of those that are read: by a mark at its start, or in the first line of XML."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    found = re.match(rb"\s*<\?xml[^>]{0,100}encoding\s*=\s*[\"']([\w-]{1,20})", data) if kind == "svg" else None
    name = found[1].decode("ascii").lower() if found else ""
    return name if name in _ENCODINGS else ""
