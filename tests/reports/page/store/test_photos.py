"""Photos: nothing but a picture is kept of what is sent; they go with what they belong to."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from reports.errors import MissingError
from reports.page.errors import PhotoError
from reports.page.store.photos import LONGEST_SIDE, Photos, drawn_anew
from tests.make.photo import picture

if TYPE_CHECKING:
    from reports.page.store.store import Store


def shown(data: bytes) -> Image.Image:
    """A kept photo, opened."""
    return Image.open(io.BytesIO(data))


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_drawn_anew(form: str) -> None:
    """A picture of each form becomes a JPEG of the same colour, no longer than is kept; of what follows it nothing."""
    sent = picture("teal", (3200, 800), form) + b"<script>alert(1)</script>"
    kept = drawn_anew(sent)
    assert (shown(kept).format, shown(kept).size) == ("JPEG", (LONGEST_SIDE, LONGEST_SIDE // 4))
    assert all(abs(one - other) < 8 for one, other in zip(shown(kept).getpixel((9, 9)), (0, 128, 128), strict=True))  # type: ignore[arg-type]
    assert b"script" not in kept


def test_upright_and_without_its_place() -> None:
    """A photo is turned as the camera says, and what it wrote beside it is gone (EXIF 2.3: 6 turns by a quarter)."""
    written, exif = io.BytesIO(), Image.Exif()
    exif[0x0112], exif[0x010E] = 6, "at home"
    Image.new("RGB", (60, 40), "peru").save(written, "JPEG", exif=exif)
    kept = drawn_anew(written.getvalue())
    assert shown(kept).size == (40, 60)
    assert not shown(kept).getexif() and b"at home" not in kept


@pytest.mark.parametrize(
    "sent",
    [
        b"",
        b"<!DOCTYPE html><script>alert(1)</script>",
        b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
        b"\xff\xd8\xff\xe0<html><script>alert(1)</script>",
        b"GIF89a<script>alert(1)</script>",
        picture()[:60],
        picture(form="GIF"),
        picture(form="TIFF"),
    ],
)
def test_no_photo(sent: bytes) -> None:
    """A page, a drawing with a script, a picture of another form or one cut short is refused in one line."""
    with pytest.raises(PhotoError, match="photo"):
        drawn_anew(sent)


@pytest.mark.parametrize("side", [8_000, 15_000])
def test_too_large(side: int) -> None:
    """A small file that becomes a very large picture is refused before it is read."""
    bomb = io.BytesIO()
    Image.new("1", (side, side)).save(bomb, "PNG")
    assert len(bomb.getvalue()) < 100_000
    with pytest.raises(PhotoError, match="too large: at most 60 megapixels"):
        drawn_anew(bomb.getvalue())


def test_kept_with_its_owner(store: Store) -> None:
    """The same photo of two projects is one file, which goes with the last of them; there are no photos of nobody."""
    photos = Photos(store)
    coat, skirt = (store.add_project(name, {})["id"] for name in ("Coat", "Skirt"))
    of_coat, of_skirt = (photos.add("project", owner, "front 🧥", picture()) for owner in (coat, skirt))
    assert len(list((store.folder / "photos").iterdir())) == 1
    store.drop_project(coat)
    assert photos.read(of_skirt["id"]).startswith(b"\xff\xd8\xff")
    with pytest.raises(MissingError):
        photos.read(of_coat["id"])
    photos.drop(of_skirt["id"])
    assert list((store.folder / "photos").iterdir()) == [] == photos.all()
    with pytest.raises(MissingError, match="project does not exist"):
        photos.add("project", coat, "", picture())


def test_room_for_photos(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there are as many as a backup can bring back, another is refused."""
    monkeypatch.setattr("reports.page.store.photos.MOST_BYTES", 100)
    owner = store.add_project("Coat", {})["id"]
    with pytest.raises(PhotoError, match="delete some"):
        Photos(store).add("project", owner, "", picture())
