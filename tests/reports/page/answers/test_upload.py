"""Files of patterns from outside: good ones, hostile ones, and those that ask for too much while others wait."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from reports.apart import ReadingLimits
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.export.dxf import write_pieces_dxf
from reports.page.answers import upload
from reports.page.answers.answers import draft
from reports.page.answers.upload import read_upload
from reports.page.errors import FullError
from tests.make.model import MODEL
from tests.reports.page.conftest import sign_in

if TYPE_CHECKING:
    from collections.abc import Callable
    from contextlib import AbstractContextManager
    from pathlib import Path

    from pytest import MonkeyPatch
    from starlette.testclient import TestClient

SQUARE = "piece,x,y\n" + "".join(f"flap,{x} mm,{y} mm\n" for x, y in ((0, 0), (200, 0), (200, 100), (0, 100)))
SAW = " ".join(f"L{n / 25:.2f} {100 + n % 2 * 20}" for n in range(20_000))
ZIGZAG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="200mm" viewBox="0 0 900 200">'
    f'<path d="M0 0 {SAW} L800 0Z"/><path d="M10 50L300 50"/></svg>'
)
"""A legal file of 20,000 teeth and a line: whether the line lies in the ground round the teeth takes minutes."""


def test_upload_comes_back_as_a_job(tmp_path: Path) -> None:
    """Our own outlines, sent as DXF, come back with their sizes; a job of them is drafted from what was kept."""
    pieces = draft_job(parse_job(MODEL))
    write_pieces_dxf(pieces, tmp_path / "jacket.dxf")
    found = read_upload("jacket.dxf", (tmp_path / "jacket.dxf").read_bytes(), ReadingChoices(), tmp_path / "kept")
    sizes = {piece["name"]: (piece["length"], piece["width"]) for piece in found["pieces"]}
    assert sizes["sleeve"] == pytest.approx((pieces["sleeve"].length, pieces["sleeve"].width), abs=0.1)
    assert found["words"][0].startswith("read as")
    job = {"garment": "imported", "pieces_file": found["pieces_file"]}
    assert {piece["name"] for piece in draft(job, tmp_path / "kept")["pieces"]} == set(sizes)


@pytest.mark.usefixtures("read_here")
def test_upload_of_points(tmp_path: Path) -> None:
    """A flap of 200 by 100 mm, its corners as a table, is that large."""
    found = read_upload("my flap.CSV", SQUARE.encode(), ReadingChoices(), tmp_path)
    (piece,) = found["pieces"]
    assert (piece["name"], piece["length"], piece["width"]) == ("flap", pytest.approx(200), pytest.approx(100))


@pytest.mark.usefixtures("read_here")
@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("virus.exe", b"MZ"),
        ("noend", b""),
        (".dxf", b""),
        ("empty.svg", b""),
        ("half.dxf", b"0\nSECTION\n2\nENT"),
        ("bytes.csv", b"\x00\xff" * 100),
        ("words.csv", b"a,b,c"),
        ("bomb.svg", b'<!DOCTYPE a [<!ENTITY b "c">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'),
        ("deep.json", b"[" * 100_000),
        ("../../etc/passwd.csv", b"root"),
        ("coat.toml", b'[[garment]]\ngarment = "tote"\n'),
    ],
)
def test_hostile_uploads(tmp_path: Path, name: str, data: bytes) -> None:
    """What is no file of patterns is refused with a reason, and leaves nothing behind."""
    with pytest.raises(FormatError) as refused:
        read_upload(name, data, ReadingChoices(), tmp_path / "kept")
    assert str(refused.value)
    assert "tmp" not in str(refused.value)  # the folder that it is read in
    assert not (tmp_path / "kept").exists()


def test_takes_too_long(serve: Callable[..., AbstractContextManager[TestClient]], monkeypatch: MonkeyPatch) -> None:
    """A legal file that asks for minutes of work is given up, with what to do; meanwhile the page answers others."""
    monkeypatch.setattr(upload.read_upload, "__defaults__", (ReadingLimits(1, 4_000_000_000), ()))
    send: dict[str, Any] = {"params": {"name": "saw.svg"}, "content": ZIGZAG.encode()}
    answers = []
    with serve(running=True) as client:
        sign_in(client)
        headers = {"Content-Type": "application/octet-stream"}
        sending = threading.Thread(target=lambda: answers.append(client.post("/api/uploads", headers=headers, **send)))
        sending.start()
        waits = []
        while sending.is_alive():
            asked = time.monotonic()
            assert client.get("/api/projects").status_code == 200
            waits.append(time.monotonic() - asked)
            time.sleep(0.05)
    (answer,) = answers
    assert answer.status_code == 422
    assert "saw.svg takes more than 1 s to read: export it with fewer points" in answer.json()["error"]
    assert len(waits) > 5
    assert max(waits) < 3


def test_takes_too_much(tmp_path: Path) -> None:
    """A file that asks for more memory than it may have is given up, and says so."""
    table = "piece,x,y\n" + "".join(f"flap,{n} mm,{n % 7} mm\n" for n in range(200_000))
    with pytest.raises(FormatError, match=r"big\.csv takes more than 20 MB of memory to read: export it with fewer"):
        read_upload("big.csv", table.encode(), ReadingChoices(), tmp_path / "kept", ReadingLimits(memory=20_000_000))
    assert not (tmp_path / "kept").exists()


@pytest.mark.usefixtures("read_here")
def test_one_too_many(tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """While as many files are read as may be, another one is told to come back, and is read once there is room."""
    monkeypatch.setattr(upload, "_reading", threading.BoundedSemaphore(1))
    with upload._reading, pytest.raises(FullError, match="in a moment"):
        read_upload("flap.csv", SQUARE.encode(), ReadingChoices(), tmp_path)
    assert read_upload("flap.csv", SQUARE.encode(), ReadingChoices(), tmp_path)["pieces"]
