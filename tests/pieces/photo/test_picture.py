"""Photos read in bounded time and memory."""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

import cv2
import numpy as np
import pytest

from pieces.errors import FormatError
from pieces.photo.picture import PNG, read_photo

if TYPE_CHECKING:
    from pathlib import Path


def png(width: int, height: int) -> bytes:
    """A PNG that says how large it is, and holds nothing."""
    head = struct.pack(">II5B", width, height, 8, 2, 0, 0, 0)
    return PNG + struct.pack(">I", 13) + b"IHDR" + head + struct.pack(">I", zlib.crc32(b"IHDR" + head))


def jpeg(width: int, height: int) -> bytes:
    """A JPEG that says how large it is, and holds nothing."""
    return b"\xff\xd8\xff\xe0\x00\x04AB\xff\xc0" + struct.pack(">HBHH", 17, 8, height, width) + 12 * b"\0"


@pytest.mark.parametrize("form", ["png", "jpg"])
def test_read_as_written(tmp_path: Path, form: str) -> None:
    """A picture that is higher than wide keeps its shape."""
    path = tmp_path / f"photo.{form}"
    cv2.imwrite(str(path), np.full((1600, 1200, 3), (10, 20, 200), np.uint8))
    pixels = read_photo(path)
    assert pixels.shape == (1600, 1200, 3)
    assert pixels.mean(axis=(0, 1)) == pytest.approx([10, 20, 200], abs=3)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (png(100_000, 100_000), "10000 million pixels, more than 52"),
        (png(640, 480), "too few to find edges"),
        (png(2000, 1500), "breaks off"),
        (png(2000, 1500) + b"IEND", "is damaged"),
        (b"\xff\xd8\xff\xe0" + b"\0" * 40, "is not a JPEG or PNG"),
        (b"\xff\xd8\xff\xe0\xff\xff", "is not a JPEG or PNG"),
        (jpeg(2000, 1500) + 200 * b"\xff\xda" + b"\xff\xd9", "more than 100 passes"),
        (jpeg(60_000, 60_000), "3600 million pixels"),
        (b"", "is not a JPEG or PNG"),
        (b"\0\0\0\x18ftypheic" + b"\0" * 40, "is a HEIC or AVIF picture, .*: have the phone take JPEG"),
        (b"<svg/>", "is not a JPEG or PNG"),
    ],
)
def test_refused_before_it_is_unpacked(tmp_path: Path, data: bytes, why: str) -> None:
    """What is too large, too small, damaged or no photo is refused in one line."""
    path = tmp_path / "photo.jpg"
    path.write_bytes(data)
    with pytest.raises(FormatError, match=why):
        read_photo(path)


@pytest.mark.parametrize("form", ["png", "jpg"])
def test_half_a_photo(tmp_path: Path, form: str) -> None:
    """A photo of which the end is missing is refused: the rest would come out grey."""
    path = tmp_path / f"photo.{form}"
    cv2.imwrite(str(path), np.random.default_rng(0).integers(0, 255, (1200, 1600, 3)).astype(np.uint8))
    path.write_bytes(path.read_bytes()[:-1000])
    with pytest.raises(FormatError, match="breaks off before its end"):
        read_photo(path)


def test_no_file(tmp_path: Path) -> None:
    """A file that is not there is named."""
    with pytest.raises(FormatError, match=r"cannot read .*none\.jpg: no such file"):
        read_photo(tmp_path / "none.jpg")
