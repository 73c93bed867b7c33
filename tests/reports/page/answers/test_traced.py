"""Photos sent to the page: traced apart, within their limits, with how sure each piece is."""

from __future__ import annotations

import base64
from collections import OrderedDict
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np
import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.sidecar import Sidecar
from reports.apart import ReadingLimits
from reports.page.answers.answers import draft
from reports.page.answers.traced import traced_pieces
from reports.page.answers.traces import held_trace
from reports.page.answers.upload import read_again, read_upload
from reports.page.store.patterns import KeptPattern, Patterns, PhotoAsked
from tests.make.photos import PIECE, kept, rendered

if TYPE_CHECKING:
    from pathlib import Path


def test_a_photo_comes_back_as_a_job(tmp_path: Path) -> None:
    """A photo becomes a piece of its size, within its limits, with its error, lengths to measure and a picture."""
    data = kept(tmp_path, rendered()).read_bytes()
    found = read_upload("my front.JPG", data, ReadingChoices(), tmp_path / "kept")
    (piece,) = found["pieces"]
    assert sorted((piece["length"], piece["width"])) == pytest.approx(sorted(np.ptp(PIECE, axis=0)), abs=1.5)
    (table,) = found["photo"]["tables"]
    (told,), (fit,) = table["pieces"], table["files"]
    assert fit["sheets"] == ["A"] and fit["missed_mm"] < 0.2
    assert 0 < told["usual_mm"] <= told["worst_mm"] < 3
    assert next(length["mm"] for length in told["measured"]) == pytest.approx(400, abs=1)
    picture = base64.b64decode(table["picture"].partition(",")[2])
    assert max(cv2.imdecode(np.frombuffer(picture, np.uint8), cv2.IMREAD_COLOR).shape) <= 1000
    job = {"garment": "imported", "pieces_file": found["pieces_file"]}
    assert len(draft(job, tmp_path / "kept")["pieces"]) == 1


@pytest.mark.usefixtures("read_here")
def test_decided_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Outlines are decided on as those of a file are, and nothing is traced again; what it is measured by is kept."""
    monkeypatch.setattr("reports.page.answers.traces._held", OrderedDict())
    data = kept(tmp_path, rendered()).read_bytes()
    by = PhotoAsked(line="180 mm")
    found = read_upload("front.jpg", data, ReadingChoices(), tmp_path / "kept", by=by)
    assert held_trace(KeptPattern("front.jpg", data, by=by)) and not held_trace(KeptPattern("front.jpg", data))
    outline = next(line for line in found["lines"]["outlines"] if line["role"] == "piece")
    pattern = Patterns(tmp_path).find(found["pattern"]["id"])
    assert pattern.by == by
    steps: list[dict[str, Any]] = []
    told = pattern.deciding({"piece": [{"line": outline["numbers"][0], "name": "front"}]})
    said = read_again(told, tmp_path / "kept", tell=steps.append)
    assert [piece["name"] for piece in said["pieces"]] == ["front"]
    assert (said["photo"], steps) == (found["photo"], [])
    other = read_again(replace(told, by=PhotoAsked(line="181 mm")), tmp_path / "kept", tell=steps.append)
    assert [step["words"] for step in steps] == ["Tracing what is in front.jpg"]
    assert other["pieces"][0]["length"] == pytest.approx(181 / 180 * said["pieces"][0]["length"], abs=0.3)


def test_refused(tmp_path: Path) -> None:
    """What is no photo of a pattern, or asks for more memory than it may have, is refused in one line."""
    for name, data, why in (
        ("a.png", b"MZ", "is not a JPEG or PNG"),
        ("c.HEIC", b"", "have the phone take JPEG"),
        ("b.jpeg", b"\xff\xd8\xff\xe0" * 9, "is not a JPEG"),
    ):
        with pytest.raises(FormatError, match=why):
            read_upload(name, data, ReadingChoices(), tmp_path / "kept")
    with pytest.raises(FormatError, match=r"a\.jpg takes more than 20 MB of memory to read: save it smaller"):
        read_upload(
            "a.jpg", kept(tmp_path, rendered()).read_bytes(), ReadingChoices(), tmp_path, ReadingLimits(5, 20_000_000)
        )
    assert not (tmp_path / "kept").exists()


def test_without_opencv(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where OpenCV is not installed, the page says in one line what to install."""
    import importlib.util

    found = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name, *more: None if name == "cv2" else found(name, *more))
    with pytest.raises(FormatError, match="pip install opencv-python-headless"):
        traced_pieces([tmp_path / "a.jpg"], ReadingChoices(), Sidecar("a.toml"), PhotoAsked())


@pytest.mark.parametrize(
    ("by", "why"),
    [
        (PhotoAsked(line="90 mm"), "^the sheet's line is 180 mm"),
        (PhotoAsked(sheet="a99"), "^name one of"),
        (PhotoAsked(mat="1"), "cannot read the length"),
        (PhotoAsked(sheet="a4", mat="1 in"), "leave out the other"),
    ],
)
def test_measured_by_nothing(tmp_path: Path, by: PhotoAsked, why: str) -> None:
    """What a photo is measured by is checked before it is opened."""
    with pytest.raises(FormatError, match=why):
        traced_pieces([tmp_path / "a.jpg"], ReadingChoices(), Sidecar("a.toml"), by)
