"""A photo, read in bounded time and memory: its size is known before any of it is unpacked."""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, Any

from pieces.errors import FormatError

if TYPE_CHECKING:
    from pathlib import Path

    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]

LARGEST = 60_000_000
"""No larger file is read, bytes."""

MOST_PIXELS = 52_000_000
"""A picture of more is refused before it is unpacked."""

MOST_KEPT, ENOUGH = 16_000_000, 12_000_000
"""A picture of more pixels is made smaller, to about the second number, and one of three times that is unpacked at half
its size: it takes less than 300 MB all told, and more pixels show no edge any better."""

FEWEST_PIXELS = 1_500_000
"""Less shows no edge of a pattern to a millimetre."""

MOST_SCANS = 100
"""A JPEG that is sent in more passes is made to keep a computer busy: cameras write one, other programs ten or so."""

PNG, JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8"


HEIF = (b"ftypheic", b"ftypheix", b"ftypmif1", b"ftypmsf1", b"ftyphevc", b"ftypavif")
"""How pictures begin that phones write instead (ISO/IEC 23008-12, from memory)."""


def read_photo(path: Path) -> Pixels:
    """The pixels of a JPEG or PNG, upright, shape (height, width, 3), blue first.

    Raises
    ------
    FormatError
        If it cannot be read, is no JPEG or PNG, is damaged, or has too many pixels or too few.
    """
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except OSError as error:
        raise FormatError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    if len(data) > LARGEST:
        raise FormatError(f"{path.name} is larger than {LARGEST // 1_000_000} MB: save it again as JPEG")
    size = _size(data)
    if size is None and data[4:12] in HEIF:
        raise FormatError(
            f"{path.name} is a HEIC or AVIF picture, which is not read: have the phone take JPEG (its camera settings"
            " call it 'most compatible', or the like), or save the picture as JPEG"
        )
    if size is None:
        raise FormatError(f"{path.name} is not a JPEG or PNG: a photo is needed in one of these; save it as JPEG")
    pixels = size[0] * size[1]
    if pixels > MOST_PIXELS:
        raise FormatError(
            f"{path.name} has {pixels / 1e6:.0f} million pixels, more than {MOST_PIXELS / 1e6:.0f}: save it smaller"
        )
    if pixels < FEWEST_PIXELS:
        raise FormatError(
            f"{path.name} has {pixels / 1e6:.1f} million pixels, too few to find edges: take the photo at the camera's"
            " full size, and send it as a file"
        )
    if not _is_whole(data):
        raise FormatError(f"{path.name} breaks off before its end: copy it from the camera again")
    if data.startswith(JPEG) and data.count(b"\xff\xda") > MOST_SCANS:
        raise FormatError(f"{path.name} is sent in more than {MOST_SCANS} passes: save it again as a plain JPEG")
    return _unpacked(data, path.name, pixels)


def _unpacked(data: bytes, name: str, pixels: int) -> Pixels:
    import cv2
    import numpy as np

    how = cv2.IMREAD_REDUCED_COLOR_2 if pixels >= 3 * ENOUGH else cv2.IMREAD_COLOR
    try:
        found: Any = cv2.imdecode(np.frombuffer(data, dtype=np.uint8), how)
        if found is not None and found.shape[0] * found.shape[1] > MOST_KEPT:
            factor = (ENOUGH / (found.shape[0] * found.shape[1])) ** 0.5
            found = cv2.resize(found, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    except cv2.error:
        found = None
    if found is None:
        raise FormatError(f"{name} is damaged: copy it from the camera again")
    return np.asarray(found, dtype=np.uint8)


def _is_whole(data: bytes) -> bool:
    """Whether a picture has its end: what is missing of it would be unpacked as grey, and taken for the table."""
    if data.startswith(PNG):
        return b"IEND" in data[-64:]
    at = 2  # past the small picture in the head, which has an end of its own
    while at + 4 <= len(data) and data[at] == 0xFF and data[at + 1] != 0xDA:
        at += 1 if data[at + 1] == 0xFF else 2 + struct.unpack(">H", data[at + 2 : at + 4])[0]
    return data.find(b"\xff\xd9", at) >= 0


def _size(data: bytes) -> tuple[int, int] | None:
    """Width and height by the head of the file; None if it is neither PNG nor JPEG.

    PNG: W3C, Portable Network Graphics, 11.2.2. JPEG: ITU-T T.81, B.2.2; both from memory.
    """
    if data.startswith(PNG) and len(data) >= 24:
        width, height = struct.unpack(">II", data[16:24])
        return width, height
    if not data.startswith(JPEG):
        return None
    at = 2
    while at + 9 <= len(data):
        if data[at] != 0xFF:
            return None
        kind = data[at + 1]
        if kind == 0xFF:
            at += 1
        elif 0xC0 <= kind <= 0xCF and kind not in (0xC4, 0xC8, 0xCC):
            height, width = struct.unpack(">HH", data[at + 5 : at + 9])
            return width, height
        else:
            at += 2 + struct.unpack(">H", data[at + 2 : at + 4])[0]
    return None
