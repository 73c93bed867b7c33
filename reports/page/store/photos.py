"""Photos of projects and clients. Each is drawn anew as a JPEG, so that nothing but a picture is kept of what was sent.

What a camera writes beside the picture, such as the place where it was taken, is left out.
"""

from __future__ import annotations

import hashlib
import io
import secrets
import threading
import warnings
from typing import TYPE_CHECKING, Any

from PIL import Image, ImageOps, UnidentifiedImageError

from reports.errors import MissingError
from reports.output import write_bytes
from reports.page.errors import PhotoError
from reports.page.store.store import stamp
from reports.page.work_folder import PHOTOS

if TYPE_CHECKING:
    from pathlib import Path

    from reports.page.store.store import Store

PHOTO_OWNERS = {"project": "projects", "client": "clients"}
"""What a photo belongs to, and the table of it."""

FORMATS = ("JPEG", "PNG", "WEBP")
"""Forms of pictures that are taken."""

LARGEST_PHOTO = 15_000_000
"""Bytes that may be sent."""

MOST_PIXELS = 60_000_000
"""Of a picture that is sent: more than any phone takes, and read in about 200 MB."""

TOO_LARGE = f"this photo is too large: at most {MOST_PIXELS // 1_000_000} megapixels are taken"

LONGEST_SIDE, QUALITY = 1600, 85
"""Pixels and quality of what is kept: some 300 kB, enough to see a seam."""

MOST_BYTES = 250_000_000
"""Of all photos together: a backup with them can still be restored on the page."""

_ONE_AT_A_TIME = threading.Lock()
"""Large pictures take much room while they are read."""

COLUMNS = ("id", "kind", "owner", "title", "bytes", "made")


class Photos:
    """The photos of a store."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def all(self) -> list[dict[str, Any]]:
        """All of them, the newest first."""
        rows = self._store.rows(f"SELECT {', '.join(COLUMNS)} FROM photos ORDER BY made DESC, rowid DESC")
        return [dict(zip(COLUMNS, row, strict=True)) for row in rows]

    def add(self, kind: str, owner: str, title: str, sent: bytes) -> dict[str, Any]:
        """Keep a photo of a project or a client.

        Raises
        ------
        PhotoError
            If it is no picture, or too large, or there is no room for more.
        MissingError
            If there is no such project or client.
        """
        picture = drawn_anew(sent)
        file = f"{_named(picture)}.jpg"
        (held,) = self._store.rows("SELECT coalesce(sum(bytes), 0) FROM photos")[0]
        if held + len(picture) > MOST_BYTES:
            raise PhotoError(f"there are {MOST_BYTES // 1_000_000} MB of photos: delete some to keep others")
        values = (secrets.token_hex(8), kind, owner, title, file, len(picture), stamp())
        with self._store.writing() as database:
            if not database.execute(f"SELECT 1 FROM {PHOTO_OWNERS[kind]} WHERE id = ?", (owner,)).fetchone():
                raise MissingError(f"this {kind} does not exist: it may have been deleted elsewhere")
            write_bytes(self.path(file), picture)  # while nobody deletes the last other photo that is the same
            database.execute("INSERT INTO photos VALUES (?, ?, ?, ?, ?, ?, ?)", values)
        return next(one for one in self.all() if one["id"] == values[0])

    def read(self, photo: str) -> bytes:
        """The JPEG of a photo; MissingError if it is not there."""
        rows = self._store.rows("SELECT file FROM photos WHERE id = ?", photo)
        try:
            return self.path(rows[0][0]).read_bytes()
        except (IndexError, OSError) as error:
            raise MissingError("this photo is not there any more: it may have been deleted elsewhere") from error

    def drop(self, photo: str) -> None:
        """Delete a photo, if it is there."""
        with self._store.writing() as database:
            files = [name for (name,) in database.execute("SELECT file FROM photos WHERE id = ?", (photo,))]
            database.execute("DELETE FROM photos WHERE id = ?", (photo,))
        self._store.drop_files(files)

    def path(self, file: str) -> Path:
        """Where a file lies."""
        return self._store.folder / PHOTOS / file


def drawn_anew(sent: bytes) -> bytes:
    """A picture as a JPEG without anything beside it; PhotoError if it is none, or too large."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            picture = Image.open(io.BytesIO(sent), formats=FORMATS)
            if picture.width * picture.height > MOST_PIXELS:
                raise PhotoError(TOO_LARGE)
            with _ONE_AT_A_TIME:
                upright = _made_small(picture)
    except PhotoError:
        raise
    except Image.DecompressionBombError as error:
        raise PhotoError(TOO_LARGE) from error
    except UnidentifiedImageError as error:
        raise PhotoError("this is not a photo: choose a JPEG, PNG or WebP picture") from error
    except Exception as error:  # whatever a decoder makes of a file that anyone may have made
        raise PhotoError("this photo is damaged: open it in another program, and save it again") from error
    ground = Image.new("RGB", upright.size, "white")
    ground.paste(upright, mask=upright.getchannel("A"))
    written = io.BytesIO()
    ground.save(written, "JPEG", quality=QUALITY)
    return written.getvalue()


def _made_small(picture: Image.Image) -> Image.Image:
    """The picture upright, with its transparency, no larger than it is kept."""
    picture.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))  # a JPEG is read smaller, in less time
    small = picture if picture.mode in ("RGB", "RGBA", "L") else picture.convert("RGBA")
    small.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    small.getexif().update(picture.getexif())
    return ImageOps.exif_transpose(small).convert("RGBA")


def is_kept_photo(file: str, data: bytes) -> bool:
    """Whether this is what was kept under a name: a JPEG whose sum the name is."""
    return file == f"{_named(data)}.jpg" and data.startswith(b"\xff\xd8\xff")


def _named(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:32]
