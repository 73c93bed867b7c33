"""Several photos kept as one pattern: joined, or each with its own pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

import cv2
import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from reports.page.answers.photo_set import read_photos, step_of
from reports.page.answers.upload import read_again, read_upload
from reports.page.store.backup import backup
from reports.page.store.patterns import Patterns, SentPhotos
from reports.page.store.restore import restore
from reports.page.store.store import Store
from reports.page.work_folder import UPLOADS
from tests.make.photos import kept, rendered
from tests.pieces.photo.test_together import files

if TYPE_CHECKING:
    from pathlib import Path


def test_one_piece_over_two_photos(tmp_path: Path) -> None:
    """Two photos sent at once, joined: one piece, how each photo fits, steps told; decisions hold, and in a backup."""
    here = Store(tmp_path / "here")
    uploads, data = here.folder / UPLOADS, [path.read_bytes() for path in files(tmp_path)]
    sent = SentPhotos(["coat.jpg", "coat.jpg"], [len(each) for each in data], is_joined=True, watch="w")
    found = read_photos(sent, b"".join(data), uploads)
    (table,) = found["photo"]["tables"]
    assert [(fit["file"], fit["sheets"]) for fit in table["files"]] == [
        ("coat.jpg", ["A", "B"]),
        ("coat (2).jpg", ["A", "B"]),
    ]
    assert max(fit["edge_mm"] for fit in table["files"]) < 0.5
    assert [found["pattern"]["name"], len(found["pieces"])] == ["coat.jpg and coat (2).jpg", 1]
    kept = Patterns(here.folder).find(found["pattern"]["id"])
    Patterns(here.folder).keep(kept.deciding({"piece": [{"line": 1, "name": "front"}]}))
    there = Store(tmp_path / "there")
    restore(there, backup(here))
    again = read_again(Patterns(there.folder).find(kept.id), there.folder / UPLOADS)
    assert [piece["name"] for piece in again["pieces"]] == ["front"]
    assert step_of("w") == {}


@pytest.mark.usefixtures("read_here")
def test_each_photo_its_own_pieces(tmp_path: Path) -> None:
    """A photo added to one that is kept: both pieces in one pattern, and what was decided of the first is used."""
    uploads = tmp_path / "kept"
    first = read_upload("front.jpg", (data := kept(tmp_path, rendered()).read_bytes()), ReadingChoices(), uploads)
    shelf = Patterns(tmp_path)
    shelf.keep(shelf.find(first["pattern"]["id"]).deciding({"piece": [{"line": 1, "name": "front"}]}))
    with pytest.raises(FormatError, match="is there twice: choose each photo once"):
        read_photos(SentPhotos(["again.jpg"], [len(data)], added_to=first["pattern"]["id"]), data, uploads)
    other = cv2.imencode(".png", rendered()[::-1, ::-1])[1].tobytes()  # turned round
    sent = SentPhotos(["back.PNG"], [len(other)], added_to=first["pattern"]["id"])
    found = read_photos(sent, other, uploads)
    assert [piece["name"] for piece in found["pieces"]] == ["front", "piece 2"]
    assert [table["files"][0]["file"] for table in found["photo"]["tables"]] == ["front.jpg", "back.png"]


@pytest.mark.parametrize(
    ("names", "sizes", "why"),
    [
        (["a.jpg", "b.dxf"], [1, 1], "'b.dxf' is not a photo"),
        (["a.jpg", "b.jpg"], [1, 5], "did not come whole"),
        ([f"{n}.jpg" for n in range(9)], [1] * 9, "at most 8"),
    ],
)
def test_no_set_of_photos(tmp_path: Path, names: list[str], sizes: list[int], why: str) -> None:
    """What cannot be kept together is refused before anything is read."""
    with pytest.raises(FormatError, match=why):
        read_photos(SentPhotos(names, sizes), bytes(range(len(names))), tmp_path / "kept")
